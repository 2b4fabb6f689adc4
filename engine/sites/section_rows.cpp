// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/sites/section_rows.h"

#include <numbers>
#include <string>

namespace seamwright::sites {

using frame::Vec3;

Station station(const frame::Assembly& assembly, const frame::Member& member, std::size_t segment,
                bool at_start) {
  std::string id = member.id;
  if (member.nodes.size() > 2) id.append("/").append(std::to_string(segment + 1));
  for (std::size_t i = 0; i < assembly.elements.size(); ++i)
    if (assembly.elements[i].id == id) {
      const frame::Element& e = assembly.elements[i];
      if (e.within_body) return {};
      return {static_cast<Eigen::Index>(12 * i + (at_start ? 0 : 6)), &e, at_start ? -e.before_mm : e.after_mm};
    }
  throw Fault{Message{"rating.unknown-member", {text("member", id)}}};
}

Row force_row(const Station& s, int component, Eigen::Index size) {
  Row row(size);
  row.coeffRef(s.column + component) = 1;
  if (s.beyond_mm == 0) return row;
  if (component == 4) row.coeffRef(s.column + 2) = s.beyond_mm;  // My grows with Vz along x
  if (component == 5) row.coeffRef(s.column + 1) = -s.beyond_mm;  // Mz falls with Vy
  return row;
}

Row nominal(const Station& s, const Vec3& out, double radius_mm, Eigen::Index size) {
  const frame::SectionProperties& p = s.element->section;
  const Vec3 local = s.element->axes * out * radius_mm;
  return Row(1 / p.area_mm2 * force_row(s, 0, size) + local.z() / p.i_y_mm4 * force_row(s, 4, size) -
             local.y() / p.i_z_mm4 * force_row(s, 5, size));
}

Row axial(const Station& s, Eigen::Index size) {
  Row row(size);
  row.coeffRef(s.column) = 1 / s.element->section.area_mm2;
  return row;
}

Row along_flow(const Station& s, const Vec3& out, double radius_mm, Eigen::Index size) {
  const Vec3 local = s.element->axes * out;
  Row row(size);
  row.coeffRef(s.column + 1) = -local.z() / (std::numbers::pi * radius_mm);
  row.coeffRef(s.column + 2) = local.y() / (std::numbers::pi * radius_mm);
  row.coeffRef(s.column + 3) = 1 / (2 * std::numbers::pi * radius_mm * radius_mm);
  return row;
}

Row interpolated_row(const Row& at_start, const Row& at_end, double share) {
  return Row((1 - share) * at_start + share * at_end);
}

Load load_through(const Station& s, Eigen::Index size) {
  Load load;
  for (Eigen::Index i = 0; i < 6; ++i) {
    Row& row = load[static_cast<std::size_t>(i)];
    row = Row(size);
    const Eigen::Index part = i % 3, first = i < 3 ? 0 : 3;
    for (Eigen::Index local = 0; local < 3; ++local)
      row.coeffRef(s.column + first + local) = s.element->axes(local, part);
  }
  if (s.beyond_mm != 0) load = moment_row(load, -s.beyond_mm * Vec3(s.element->axes.row(0)));
  return load;
}

Load sum_of(const Load& a, double factor, const Load& b) {
  Load sum;
  for (std::size_t i = 0; i < 6; ++i) sum[i] = a[i] + factor * b[i];
  return sum;
}

Load moment_row(const Load& load, const Vec3& arm) {
  Load moved = load;
  moved[3] = load[3] + arm.y() * load[2] - arm.z() * load[1];
  moved[4] = load[4] + arm.z() * load[0] - arm.x() * load[2];
  moved[5] = load[5] + arm.x() * load[1] - arm.y() * load[0];
  return moved;
}

Row form_of(const Load& load, const Eigen::Matrix<double, 6, 1>& weights) {
  Row row = weights[0] * load[0];
  for (Eigen::Index i = 1; i < 6; ++i) row = Row(row + weights[i] * load[static_cast<std::size_t>(i)]);
  return row;
}

}  // namespace seamwright::sites
