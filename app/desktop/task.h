// SPDX-License-Identifier: GPL-3.0-or-later
// Work beside the window: runs in a thread of its own and gives back what is to be done in the window's.
#pragma once

#include <QObject>
#include <functional>
#include <stop_token>
#include <thread>

#include "engine/evidence/evidence.h"
#include "engine/rating/progress.h"

namespace seamwright::desktop {

class Task : public QObject {
  Q_OBJECT
 public:
  explicit Task(QObject* parent = nullptr) : QObject(parent) {}
  ~Task() override;
  using Then = std::function<void()>;
  /// One at a time: false while another runs. Faults and failures of the work come as failed().
  bool start(std::function<Then(const rating::Progress&)> work);
  void cancel() { worker_.request_stop(); }
  bool is_running() const { return running_; }

 signals:
  void progress(double share);
  void failed(const seamwright::Message& message);
  void ended();

 private:
  bool running_ = false;
  std::jthread worker_;
};

}  // namespace seamwright::desktop
