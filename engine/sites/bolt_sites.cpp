// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of bolts on a circle: the joined parts are taken as rigid, so that force and moment spread over the
// circle as over a ring.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/joints/bolt.h"
#include "engine/sites/site_maker.h"

namespace seamwright::sites {

void add_bolt_sites(SiteMaker& maker, std::size_t index) {
  using frame::Vec3;
  const design::BoltCircle& b = maker.design.bolts[index];
  const std::size_t number = maker.design.welds.size() + maker.design.notches.size() + index;
  const frame::Member& member = maker.index.member_of(b.member);
  const Station s = station(maker.assembly, member, b.at_start ? 0 : member.nodes.size() - 2, b.at_start);
  const joints::ThreadSize size = joints::size_of(b.thread);
  const double radius = 0.5 * b.circle_mm, n = b.count, d = b.thread.diameter_mm;
  const double shank = std::numbers::pi / 4 * d * d;
  Evidence tension;
  tension.figure = "bolt-stress";
  tension.unit = "MPa";
  tension.source = {"seamwright", "bolts on a circle between rigid parts"};
  tension.inputs = {{"stress_area", size.stress_area_mm2, "mm2"}, {"prying", b.prying, ""}};
  tension.notes.push_back({"rating.bolt-full-range", {}});
  Evidence shear = tension;
  shear.inputs = {{"shank_area", shank, "mm2"}};
  shear.notes = {{"rating.bolt-shear-without-friction", {}}};
  for (int i = 0; i < b.count; ++i) {
    const double angle = 360.0 * i / b.count, radians = angle * degree;
    const double y = std::cos(radians), z = std::sin(radians);
    const Row pull(1 / n * force_row(s, 0, maker.size) + 2 * z / (n * radius) * force_row(s, 4, maker.size) -
                   2 * y / (n * radius) * force_row(s, 5, maker.size));
    Row tangential(maker.size), radial(maker.size);
    tangential.coeffRef(s.column + 1) = -z / n;
    tangential.coeffRef(s.column + 2) = y / n;
    tangential.coeffRef(s.column + 3) = 1 / (n * radius);
    radial.coeffRef(s.column + 1) = y / n;
    radial.coeffRef(s.column + 2) = z / n;
    maker.push({number, place::bolt, angle, d}, pull * (b.prying / size.stress_area_mm2), tension);
    maker.push({number, place::bolt_shear, angle, d}, tangential * (1 / shank), shear).shear =
        radial * (1 / shank);
  }
}

}  // namespace seamwright::sites
