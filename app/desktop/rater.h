// SPDX-License-Identifier: GPL-3.0-or-later
// Rates in the background: the newest job by spectral moments soon after each change, by counted histories on
// request. One run at a time; what is no longer wanted is asked to stop and its answer dropped.
#pragma once

#include <QObject>
#include <QTimer>
#include <memory>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "engine/rating/memory.h"
#include "engine/rating/rate.h"
#include "engine/study/suggest.h"
#include "reports/content/frame_drawing.h"
#include "reports/content/weld_card.h"

namespace seamwright::desktop {

class JointMaker;

/// A job with all that the desk shows of it.
struct RatedJob {
  std::shared_ptr<const rating::Job> job;  ///< as it was asked for, without models of its joints
  rating::Rating rating;
  rating::Method method = rating::Method::spectral;
  std::string explained;
  std::vector<reports::Strip> strips;
  std::vector<reports::FrameMotion> motions;
};

class Rater : public QObject {
  Q_OBJECT
 public:
  /// Joints are rated by the models that are known when a run begins.
  explicit Rater(const JointMaker& joints, QObject* parent = nullptr);
  ~Rater() override;

  /// Rates the job soon; `explained` gets its ranges and reasons down to the channels.
  void request(std::shared_ptr<const rating::Job> job, const std::string& explained);
  /// Counts histories now; progress() tells how far.
  void count_cycles(std::shared_ptr<const rating::Job> job, const std::string& explained);
  void cancel();
  bool is_counting() const { return running_ && running_->method == rating::Method::time; }
  bool is_busy() const { return running_ || wanted_; }

 signals:
  void started(bool counting);
  void progress(double share);
  void finished(std::shared_ptr<const seamwright::desktop::RatedJob> rated);
  void failed(const seamwright::Message& message);
  void stopped();

 private:
  struct RatingRequest {
    std::shared_ptr<const rating::Job> job;
    rating::Method method = rating::Method::spectral;
    std::string explained;
  };
  void start(RatingRequest wanted);
  void next();

  const JointMaker& joints_;
  QTimer pause_;
  std::optional<RatingRequest> wanted_, running_;
  int run_ = 0;  ///< number of the run whose answer counts
  rating::Memory memory_;  ///< of the runs before, so that a change costs what it changes
  std::jthread worker_;
};

}  // namespace seamwright::desktop
