// SPDX-License-Identifier: GPL-3.0-or-later
// Models of the job's joints, worked out beside the window. Until a joint's own is there, that of a like joint is scaled, or the
// equations stand in.
#pragma once

#include <QObject>
#include <QTimer>
#include <memory>
#include <string>
#include <vector>

#include "app/desktop/task.h"
#include "engine/rating/job.h"

namespace seamwright::models {
class Modeller;
}

namespace seamwright::desktop {

class JointMaker : public QObject {
  Q_OBJECT
 public:
  /// All joints are rated by equations where there is no modeller.
  explicit JointMaker(models::Modeller* modeller, QObject* parent = nullptr);
  /// The job with all models that are known by now.
  std::shared_ptr<const rating::Job> with_models(const std::shared_ptr<const rating::Job>& job) const;
  /// Works out the joints of the job that have no model yet, those of the first of these welds first. What was asked for before and is
  /// not there yet is dropped.
  void request(const std::shared_ptr<const rating::Job>& job, const std::vector<std::string>& worst_first);
  int left() const { return left_; }

 signals:
  /// More models are known, or are known not to be: it is worth while to rate again.
  void came();
  void failed(const seamwright::Message& message);

 private:
  void go_on();
  void change(const std::function<void(solid::JointLibrary&)>& add);

  models::Modeller* modeller_;
  std::shared_ptr<const solid::JointLibrary> library_;
  std::shared_ptr<const rating::Job> asked_, wanted_;  ///< last asked for; not begun yet
  std::vector<std::string> worst_first_;
  int left_ = 0;  ///< joints that are still to come
  QTimer pause_;  ///< several that come at once are one
  Task task_;
};

}  // namespace seamwright::desktop
