// SPDX-License-Identifier: GPL-3.0-or-later
// Work in a process of its own, so that its memory is its own.
#pragma once

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <functional>

namespace seamwright::timing {

struct Cost {
  double seconds = 0, processor_s = 0, peak_mb = 0;
};

/// Runs the work in a child; all 0 when it failed.
inline Cost apart(const std::function<void()>& work) {
  const auto begin = std::chrono::steady_clock::now();
  const pid_t child = ::fork();
  if (child == 0) {
    try {
      work();
    } catch (...) {
      std::_Exit(1);
    }
    std::_Exit(0);
  }
  int status = 1;
  rusage used{};
  if (child < 0 || ::wait4(child, &status, 0, &used) != child || status != 0) return {};
  const auto seconds = [](const timeval& t) { return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec); };
  return {std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count(), seconds(used.ru_utime) + seconds(used.ru_stime),
          static_cast<double>(used.ru_maxrss) / 1024};
}

}  // namespace seamwright::timing
