// SPDX-License-Identifier: GPL-3.0-or-later
// A part of the damage and where it comes from.
#pragma once

#include <string>

namespace seamwright::rating {

/// "road", "loading", "pedalling", or the id of a manoeuvre or an obstacle.
struct Part {
  std::string leg;  ///< "" for loading
  std::string source;
};

}  // namespace seamwright::rating
