// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/progress_bar.h"

#include <unistd.h>

#include <algorithm>
#include <cstdio>

#include "engine/rating/rate.h"

namespace seamwright::cli {

namespace {

constexpr const char* to_end_of_line = "\033[K";

// Time left in minutes and seconds, as work went so far; "" before much can be said.
std::string time_left(double share, double seconds, const std::string& words) {
  if (words.empty() || seconds < 2 || !(share > 0) || share >= 1) return {};
  const int left = static_cast<int>(seconds / share - seconds + 0.5);
  char time[16];
  std::snprintf(time, sizeof time, "%d:%02d", left / 60, left % 60);
  std::string out = words;
  if (const std::size_t hole = out.find("{time}"); hole != std::string::npos) out.replace(hole, 6, time);
  return "  " + out;
}

}  // namespace

Bar::Bar(BarWords words) : terminal_(::isatty(STDERR_FILENO) == 1), words_(std::move(words)) {
  if (!words_.what.empty()) words_.what += ' ';
}

Bar::~Bar() {
  if (terminal_) std::fprintf(stderr, "\r%s", to_end_of_line);
}

void Bar::show(double share) {
  if (!terminal_) return;
  const std::lock_guard<std::mutex> guard(lock_);
  const std::size_t width = words_.what.empty() ? 40 : 20;  // one line of 80 columns in all
  const auto done = static_cast<std::size_t>(static_cast<double>(width) * std::clamp(share, 0.0, 1.0));
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count();
  std::fprintf(stderr, "\r%s%3.0f %% %s%s%s%s", words_.what.c_str(), 100 * share, std::string(done, '#').c_str(),
               std::string(width - done, '.').c_str(), time_left(share, seconds, words_.left).c_str(), to_end_of_line);
  std::fflush(stderr);
}

rating::Progress Bar::progress() {
  rating::Progress p;
  p.report = [this](double share) { show(share); };
  return p;
}

}  // namespace seamwright::cli
