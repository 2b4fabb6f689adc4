// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/usual_forces.h"

#include "engine/frame/section.h"

namespace seamwright::solid {

Eigen::VectorXd usual_forces(const JointTask& task) {
  Eigen::VectorXd out = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(6 * (task.ends.size() - 1 + task.seats.size())));
  for (std::size_t e = 1; e < task.ends.size(); ++e) {
    const auto& tube = std::get<shape::Hollow>(task.parts[static_cast<std::size_t>(task.ends[e].part)].body);
    const frame::SectionProperties p = frame::section_properties(tube.stretches.front().section, task.steel.poisson).properties;
    out.segment<3>(6 * static_cast<Eigen::Index>(e - 1)).setConstant(p.area_mm2);
    out.segment<3>(6 * static_cast<Eigen::Index>(e - 1) + 3).setConstant(p.i_y_mm4 / p.outer_y_mm);
  }
  return out;
}

}  // namespace seamwright::solid
