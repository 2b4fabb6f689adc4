// SPDX-License-Identifier: GPL-3.0-or-later
// The frame's solids for a view, and their hidden lines, worked out beside the window: those of the newest design
// and direction alone are shown.
#pragma once

#include <QObject>
#include <QTimer>
#include <memory>
#include <optional>

#include "app/desktop/task.h"

namespace seamwright::models {
class Modeller;
}
namespace seamwright::rating {
struct Job;
}
namespace seamwright::reports {
struct TurnedLines;
}
namespace seamwright::shape {
struct FrameSolids;
}

namespace seamwright::desktop {

class FrameView;

class SolidMaker : public QObject {
  Q_OBJECT
 public:
  /// Nothing is made without a modeller, and the view keeps what it draws by itself.
  explicit SolidMaker(models::Modeller* modeller, QObject* parent = nullptr);
  /// Gives the view its solids, and its hidden lines as it asks for them.
  void serve(FrameView& view);
  /// Builds soon, once changes rest.
  void request(std::shared_ptr<const rating::Job> job);

 signals:
  void made(std::shared_ptr<const seamwright::shape::FrameSolids> solids);
  void drawn(std::shared_ptr<const seamwright::reports::TurnedLines> lines);

 private:
  struct Bodies;
  struct Direction {
    double turn_deg, tip_deg;
  };
  void request_lines(double turn_deg, double tip_deg);
  void go_on();
  void build(std::shared_ptr<const rating::Job> job);
  void draw(Direction direction);

  models::Modeller* modeller_;
  std::shared_ptr<const rating::Job> wanted_;
  std::optional<Direction> wanted_lines_;
  std::shared_ptr<const Bodies> bodies_;  ///< of the last design built
  QTimer pause_;
  Task task_;
};

}  // namespace seamwright::desktop
