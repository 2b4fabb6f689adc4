// SPDX-License-Identifier: GPL-3.0-or-later
// Constants that more than one folder needs.
#pragma once

#include <numbers>

namespace seamwright {

inline constexpr double gravity_m_s2 = 9.80665;  ///< standard acceleration of free fall, ISO 80000-3
inline constexpr double mm_per_m = 1000;
inline constexpr double m_per_mm = 1e-3;
inline constexpr double degree = std::numbers::pi / 180;  ///< in radians

}  // namespace seamwright
