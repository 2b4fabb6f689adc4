// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/slender.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace seamwright::frame {

int round_tube_class(double diameter_mm, double wall_mm, double yield_mpa) {
  const double slender = diameter_mm / wall_mm * yield_mpa / 235;
  return slender <= 50 ? 1 : slender <= 70 ? 2 : slender <= 90 ? 3 : 4;
}

Buckling flexural_buckling(double area, double least_i, double youngs, double yield, double length,
                           double imperfection) {
  const double euler = std::numbers::pi * std::numbers::pi * youngs * least_i / (length * length);
  Buckling b;
  b.slenderness = std::sqrt(area * yield / euler);
  const double l = b.slenderness, phi = 0.5 * (1 + imperfection * (l - 0.2) + l * l);
  b.reduction = l <= 0.2 ? 1 : std::min(1.0, 1 / (phi + std::sqrt(phi * phi - l * l)));
  b.resistance_n = b.reduction * area * yield;
  b.evidence.figure = "flexural-buckling";
  b.evidence.value = b.resistance_n;
  b.evidence.unit = std::string("N");
  b.evidence.source = {"en-1993-1-1", "6.3.1"};
  b.evidence.from_memory = true;
  b.evidence.inputs = {{"area", area, "mm2"},
                       {"i", least_i, "mm4"},
                       {"yield", yield, "MPa"},
                       {"buckling_length", length, "mm"},
                       {"imperfection", imperfection, ""},
                       {"euler_force", euler, "N"}};
  return b;
}

}  // namespace seamwright::frame
