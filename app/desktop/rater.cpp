// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/rater.h"

#include <QMetaObject>
#include <functional>

#include "app/desktop/joint_maker.h"
#include "catalog/models/user_counts.h"
#include "catalog/published/published_data.h"

namespace seamwright::desktop {

namespace {

constexpr int pause_ms = 20;  // several changes at once are one run
constexpr std::size_t most_modes = 12;

std::shared_ptr<RatedJob> rated(std::shared_ptr<const rating::Job> asked, const rating::Job& job, rating::Method method,
                                const std::string& explained, const rating::Progress& progress, rating::Memory& memory) {
  auto r = std::make_shared<RatedJob>();
  models::UserCounts counts;
  r->rating = rating::rate(job, published::catalog().data, method, progress, explained, {&counts, &memory});
  r->method = method;
  r->explained = explained;
  r->strips = reports::strips_of(r->rating);
  r->motions = reports::frame_motions(job, reports::frame_drawing(job.design), most_modes);
  r->job = std::move(asked);
  return r;
}

}  // namespace

Rater::Rater(const JointMaker& joints, QObject* parent) : QObject(parent), joints_(joints) {
  pause_.setSingleShot(true);
  pause_.setInterval(pause_ms);
  connect(&pause_, &QTimer::timeout, this, &Rater::next);
}

Rater::~Rater() {
  worker_.request_stop();
  if (worker_.joinable()) worker_.join();
}

void Rater::request(std::shared_ptr<const rating::Job> job, const std::string& explained) {
  wanted_ = RatingRequest{std::move(job), rating::Method::spectral, explained};
  if (is_counting()) worker_.request_stop();  // of a job that is no longer this one
  pause_.start();
}

void Rater::count_cycles(std::shared_ptr<const rating::Job> job, const std::string& explained) {
  wanted_ = RatingRequest{std::move(job), rating::Method::time, explained};
  pause_.stop();
  next();
}

void Rater::cancel() {
  wanted_.reset();
  pause_.stop();
  if (!running_) return;
  worker_.request_stop();
}

void Rater::next() {
  if (running_ || !wanted_) return;  // the end of the running one comes back here
  RatingRequest wanted = std::move(*wanted_);
  wanted_.reset();
  start(std::move(wanted));
}

void Rater::start(RatingRequest wanted) {
  running_ = wanted;
  const int run = ++run_;
  emit started(wanted.method == rating::Method::time);
  // Answers are posted to this thread; a run that was overtaken has another number and is dropped.
  const auto post = [this, run](std::function<void()> callback) {
    QMetaObject::invokeMethod(
        this,
        [this, run, callback = std::move(callback)] {
          if (run != run_) return;
          running_.reset();
          callback();
          if (!pause_.isActive()) next();
        },
        Qt::QueuedConnection);
  };
  worker_ = std::jthread([this, run, post, wanted, job = joints_.with_models(wanted.job)](const std::stop_token& stop) {
    rating::Progress progress;
    progress.stop = stop;
    progress.report = [this, run](double share) {
      QMetaObject::invokeMethod(
          this,
          [this, run, share] {
            if (run == run_ && running_) emit this->progress(share);
          },
          Qt::QueuedConnection);
    };
    try {
      auto result = rated(wanted.job, *job, wanted.method, wanted.explained, progress, memory_);
      const bool dropped = stop.stop_requested();
      post([this, result = std::move(result), dropped] {
        if (dropped)
          emit stopped();
        else
          emit finished(result);
      });
    } catch (const rating::RatingStopped&) {
      post([this] { emit stopped(); });
    } catch (const Fault& fault) {
      post([this, message = fault.message] { emit failed(message); });
    } catch (const std::exception& error) {
      post([this, what = std::string(error.what())] {
        emit failed({"window.failed", {text("what", what)}});
      });
    }
  });
}

}  // namespace seamwright::desktop
