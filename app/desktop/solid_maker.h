// SPDX-License-Identifier: GPL-3.0-or-later
// The frame's solids for a view, built beside the window: those of the newest design alone are shown.
#pragma once

#include <QObject>
#include <QTimer>
#include <memory>

#include "app/desktop/task.h"

namespace seamwright::design {
struct Design;
}
namespace seamwright::models {
class Modeller;
}
namespace seamwright::rating {
struct Job;
}
namespace seamwright::shape {
struct FrameSolids;
}

namespace seamwright::desktop {

class SolidMaker : public QObject {
  Q_OBJECT
 public:
  /// Nothing is made without a modeller, and the view keeps what it draws by itself.
  explicit SolidMaker(models::Modeller* modeller, QObject* parent = nullptr);
  /// Builds soon, once changes rest.
  void request(std::shared_ptr<const rating::Job> job);

 signals:
  void made(std::shared_ptr<const seamwright::shape::FrameSolids> solids);

 private:
  void start();

  models::Modeller* modeller_;
  std::shared_ptr<const rating::Job> wanted_;
  QTimer pause_;
  Task task_;
};

}  // namespace seamwright::desktop
