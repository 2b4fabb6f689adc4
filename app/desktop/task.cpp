// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/task.h"

#include <QMetaObject>

namespace seamwright::desktop {

Task::~Task() {
  worker_.request_stop();
  if (worker_.joinable()) worker_.join();
}

bool Task::start(std::function<Then(const rating::Progress&)> work) {
  if (running_) return false;
  running_ = true;
  worker_ = std::jthread([this, work = std::move(work)](const std::stop_token& stop) {
    const auto post = [this](Then then) {
      QMetaObject::invokeMethod(
          this,
          [this, then = std::move(then)] {
            running_ = false;
            emit ended();
            if (then) then();
          },
          Qt::QueuedConnection);
    };
    rating::Progress progress;
    progress.stop = stop;
    progress.report = [this](double share) {
      QMetaObject::invokeMethod(
          this, [this, share] { emit this->progress(share); }, Qt::QueuedConnection);
    };
    try {
      post(work(progress));
    } catch (const rating::RatingStopped&) {
      post({});
    } catch (const Fault& fault) {
      post([this, message = fault.message] { emit failed(message); });
    } catch (const std::exception& error) {
      post([this, what = std::string(error.what())] {
        emit failed({"window.failed", {text("what", what)}});
      });
    }
  });
  return true;
}

}  // namespace seamwright::desktop
