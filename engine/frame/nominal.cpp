// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/nominal.h"

#include <cmath>

namespace seamwright::frame {

std::array<double, 2> equivalent_stress_mpa(const Element& element, const Section& section,
                                            const Vector12& f) {
  const SectionProperties& p = element.section;
  const bool round = std::holds_alternative<RoundTube>(section) || std::holds_alternative<SolidBar>(section);
  std::array<double, 2> stress{};
  for (std::size_t end = 0; end < 2; ++end) {
    const auto at = static_cast<Eigen::Index>(6 * end);
    const double y = f[at + 4] / p.w_y_mm3, z = f[at + 5] / p.w_z_mm3;
    const double bending = round ? std::hypot(y, z) : std::abs(y) + std::abs(z);
    const double normal = std::abs(f[at]) / p.area_mm2 + bending;
    const double shear = std::abs(f[at + 3]) / p.w_t_mm3 +
                         std::hypot(f[at + 1] / p.shear_area_y_mm2, f[at + 2] / p.shear_area_z_mm2);
    stress.at(end) = std::sqrt(normal * normal + 3 * shear * shear);
  }
  return stress;
}

}  // namespace seamwright::frame
