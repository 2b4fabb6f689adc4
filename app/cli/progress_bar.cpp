// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/progress_bar.h"

#include <unistd.h>

#include <algorithm>
#include <cstdio>

#include "engine/rating/rate.h"

namespace seamwright::cli {

Bar::Bar() : terminal_(::isatty(STDERR_FILENO) == 1) {}

Bar::~Bar() {
  if (terminal_) std::fprintf(stderr, "\r%60s\r", "");
}

void Bar::show(double share) {
  if (!terminal_) return;
  const std::lock_guard<std::mutex> guard(lock_);
  constexpr int width = 40;
  const int done = static_cast<int>(width * std::clamp(share, 0.0, 1.0));
  std::fprintf(stderr, "\r%3.0f %% %s%s", 100 * share,
               std::string(static_cast<std::size_t>(done), '#').c_str(),
               std::string(static_cast<std::size_t>(width - done), '.').c_str());
  std::fflush(stderr);
}

rating::Progress Bar::progress() {
  rating::Progress p;
  p.report = [this](double share) { show(share); };
  return p;
}

}  // namespace seamwright::cli
