// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <chrono>
#include <mutex>
#include <string>

namespace seamwright::rating {
struct Progress;
}

namespace seamwright::cli {

/// A bar says this: what is worked out, and the time left as "{time} left". "" says neither.
struct BarWords {
  std::string what, left;
};

/// A bar on the terminal while long work runs; nothing when standard error is not one. Any thread may report.
class Bar {
 public:
  explicit Bar(BarWords words = {});
  ~Bar();
  Bar(const Bar&) = delete;
  Bar& operator=(const Bar&) = delete;
  rating::Progress progress();
  void show(double share);

 private:
  bool terminal_;
  BarWords words_;
  std::chrono::steady_clock::time_point began_ = std::chrono::steady_clock::now();
  std::mutex lock_;
};

}  // namespace seamwright::cli
