// SPDX-License-Identifier: GPL-3.0-or-later
// Long work tells how far it is, and is asked to stop.
#pragma once

#include <exception>
#include <functional>
#include <stop_token>

namespace seamwright::rating {

struct Progress {
  std::function<void(double share)> report;  ///< 0..1, may be empty
  std::stop_token stop;
};

struct RatingStopped : std::exception {};

}  // namespace seamwright::rating
