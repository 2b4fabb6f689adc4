// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <mutex>

namespace seamwright::rating {
struct Progress;
}

namespace seamwright::cli {

/// A bar on the terminal while long work runs; nothing when standard error is not one. Any thread may report.
class Bar {
 public:
  Bar();
  ~Bar();
  Bar(const Bar&) = delete;
  Bar& operator=(const Bar&) = delete;
  rating::Progress progress();
  void show(double share);

 private:
  bool terminal_;
  std::mutex lock_;
};

}  // namespace seamwright::cli
