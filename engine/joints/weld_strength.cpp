// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/weld_strength.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace seamwright::joints {

namespace {
constexpr double partial = 1.25;
}

ThroatStress throat_of(double across_n_mm, double along_n_mm, double throat_mm) {
  const double part = across_n_mm / (std::numbers::sqrt2 * throat_mm);
  return {part, part, along_n_mm / throat_mm};
}

WeldUse weld_use(const ThroatStress& s, const WeldMaterial& m) {
  const double squares =
      s.tau_perpendicular_mpa * s.tau_perpendicular_mpa + s.tau_parallel_mpa * s.tau_parallel_mpa;
  const double direct = s.sigma_perpendicular_mpa * s.sigma_perpendicular_mpa;
  WeldUse use;
  use.directional = std::max(std::sqrt(direct + 3 * squares) * m.correlation * partial / m.ultimate_mpa,
                             std::abs(s.sigma_perpendicular_mpa) * partial / (0.9 * m.ultimate_mpa));
  use.simplified =
      std::sqrt(direct + squares) * std::numbers::sqrt3 * m.correlation * partial / m.ultimate_mpa;
  Evidence& e = use.evidence;
  e.figure = "weld-use";
  e.value = use.directional;
  e.source = {"en-1993-1-8", "4.5.3"};
  e.from_memory = true;
  e.inputs = {{"sigma_perpendicular", s.sigma_perpendicular_mpa, "MPa"},
              {"tau_perpendicular", s.tau_perpendicular_mpa, "MPa"},
              {"tau_parallel", s.tau_parallel_mpa, "MPa"},
              {"ultimate", m.ultimate_mpa, "MPa"},
              {"beta_w", m.correlation, ""},
              {"partial_factor", partial, ""}};
  return use;
}

double full_strength_throat_ratio(double yield_mpa, const WeldMaterial& m) {
  return std::numbers::sqrt2 * m.correlation * partial * yield_mpa / m.ultimate_mpa;
}

}  // namespace seamwright::joints
