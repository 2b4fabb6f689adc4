// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/throat.h"

#include <cmath>

namespace seamwright::joints {

ThroatResult throat_stress_dnv(const LineForce& range, double throat_mm) {
  if (!(std::isfinite(throat_mm) && throat_mm > 0 && std::isfinite(range.across_n_mm) &&
        std::isfinite(range.along_n_mm)))
    throw Fault{Message{"joints.bad-throat", {number("throat", throat_mm, "mm")}}};
  ThroatResult result;
  result.sigma_perpendicular_mpa = std::abs(range.across_n_mm) / (std::sqrt(2.0) * throat_mm);
  result.tau_perpendicular_mpa = result.sigma_perpendicular_mpa;
  result.tau_parallel_mpa = std::abs(range.along_n_mm) / throat_mm;
  result.range_mpa =
      std::sqrt(std::pow(result.sigma_perpendicular_mpa, 2) + std::pow(result.tau_perpendicular_mpa, 2) +
                0.2 * std::pow(result.tau_parallel_mpa, 2));
  result.evidence.figure = "throat-stress";
  result.evidence.value = result.range_mpa;
  result.evidence.unit = "MPa";
  result.evidence.source = {"dnv-rp-c203-2016", "2.3.5"};
  result.evidence.from_memory = true;
  result.evidence.inputs = {{"across", range.across_n_mm, "N/mm"},
                            {"along", range.along_n_mm, "N/mm"},
                            {"throat", throat_mm, "mm"}};
  return result;
}

}  // namespace seamwright::joints
