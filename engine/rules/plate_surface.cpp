// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rules/plate_surface.h"

namespace seamwright::rules {

std::vector<ReadOut> plate_surface_points(const Toe& toe) {
  const double wall = toe.place == ToePlace::brace ? toe.brace_wall_mm : toe.chord_wall_mm;
  return {{0.4 * wall, 1.67}, {1.0 * wall, -0.67}};
}

}  // namespace seamwright::rules
