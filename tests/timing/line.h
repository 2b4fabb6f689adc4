// SPDX-License-Identifier: GPL-3.0-or-later
// One line of the timing table: what, value, ratio, what the ratio is to, and whether an aim is met.
#pragma once

#include <fmt/format.h>

#include <string>

namespace seamwright::timing {

inline void put(const std::string& what, double value, const char* unit, double ratio, const std::string& to,
                const char* met) {
  fmt::print("{:<58}{:>11} {:>8.3g}  {:<34}{}\n", what, fmt::format("{:.3g} {}", value, unit), ratio, to,
             met);
}
/// Held against an aim in the value's unit.
inline void aim(const std::string& what, double value, const char* unit, double aim) {
  put(what, value, unit, value / aim, fmt::format("of the aim of {:g} {}", aim, unit),
      value <= aim ? "met" : "NOT MET");
}
/// Sets a value beside a reference measured here and now; most: the ratio aimed at, 0 = none.
inline void beside(const std::string& what, double value, const char* unit, double ratio,
                   const std::string& reference, double most = 0) {
  put(what, value, unit, ratio, most > 0 ? fmt::format("{} (aim {:g})", reference, most) : reference,
      most <= 0       ? "-"
      : ratio <= most ? "met"
                      : "NOT MET");
}

}  // namespace seamwright::timing
