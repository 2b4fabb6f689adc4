// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of notches that are not welds.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/joints/hot_spot.h"
#include "engine/sites/site_maker.h"

namespace seamwright::sites {

namespace {

using frame::Vec3;

// A cut through a member: both ends of its element, and where between them.
struct Cut {
  Station start, end;
  double share = 0;
};

Cut cut_at(const SiteMaker& maker, const design::Notch& notch) {
  const frame::Member& member = maker.index.member_of(notch.member);
  double from = 0;
  for (std::size_t k = 0; k + 1 < member.nodes.size(); ++k) {
    const bool last = k + 2 == member.nodes.size();
    const double length = (design::position_of(maker.frame, member.nodes[k + 1]) -
                           design::position_of(maker.frame, member.nodes[k]))
                              .norm();
    if (notch.at_mm <= from + length || last) {
      const Cut cut{station(maker.assembly, member, k, true), station(maker.assembly, member, k, false), 0};
      const double flexible = notch.at_mm - from - (k == 0 ? member.start_cut_mm : 0);
      if (!cut.start.element) return cut;
      const frame::Element& e = *cut.start.element;
      return {cut.start, cut.end, std::clamp(flexible / (e.before_mm + e.length_mm + e.after_mm), 0.0, 1.0)};
    }
    from += length;
  }
  return {};
}

struct NotchSection {
  SiteMaker& maker;
  std::size_t number;  ///< of the subject
  const design::Notch& notch;
  Cut cut;
  Vec3 first, second;  ///< directions of 0 and 90 degrees, across the member

  Vec3 outward(double angle_deg) const {
    return std::cos(angle_deg * degree) * first + std::sin(angle_deg * degree) * second;
  }
  Row at_cut(const std::function<Row(const Station&)>& row) const {
    return interpolated_row(row(cut.start), row(cut.end), cut.share);
  }
  // Stress at the rim of a solid round section of another diameter than the member's.
  Row solid(double diameter_mm, const Vec3& direction, double tension, double bending) const {
    const double area = std::numbers::pi / 4 * diameter_mm * diameter_mm;
    const double modulus = std::numbers::pi / 32 * std::pow(diameter_mm, 3);
    return at_cut([&](const Station& s) {
      const Vec3 local = s.element->axes * direction;
      return Row(tension / area * force_row(s, 0, maker.size) + bending * local.z() / modulus * force_row(s, 4, maker.size) -
                 bending * local.y() / modulus * force_row(s, 5, maker.size));
    });
  }
};

// The torsion on a shear class beside the direct stress, or, where the set has none, added to it, which
// bounds the principal stress.
void push_with_torsion(NotchSection& a, double thickness, const std::function<Row(double)>& direct,
                       const Row& twist, const Evidence& evidence) {
  const bool joined = a.maker.rules.set->joins_torsion;
  std::size_t beside = std::string::npos;
  if (!joined) {
    a.maker.push({a.number, place::notch_shear, 0, thickness}, twist, evidence);
    beside = a.maker.sites.size() - 1;
  }
  for (const double angle : joints::point_angles_deg) {
    Site& site = a.maker.push({a.number, place::notch, angle, thickness}, direct(angle), evidence);
    if (joined)
      site.shear = twist;
    else
      site.beside = beside;
  }
}

void add_shoulder(NotchSection& a) {
  const double small = a.notch.shoulder.small_mm;
  const joints::ShoulderFactors f = joints::shoulder_factors(a.notch.shoulder);
  const Row twist = a.at_cut([&](const Station& s) {
    Row row(a.maker.size);
    row.coeffRef(s.column + 3) = f.torsion * 16 / (std::numbers::pi * std::pow(small, 3));
    return row;
  });
  push_with_torsion(
      a, small, [&](double angle) { return a.solid(small, a.outward(angle), f.tension, f.bending); }, twist,
      f.evidence);
}

// The edge of a small hole by Kirsch. The category of EN 1993-1-9 for a hole holds for the net section's
// nominal stress: a third of the edge's, over the net section.
void add_hole(NotchSection& a) {
  const frame::RoundTube* tube = a.maker.index.round_tube(a.notch.member);
  if (!tube) return a.maker.push_not_covered(a.number, "rating.no-round-tube");
  const double radius = 0.5 * tube->diameter_mm, hole = a.notch.hole_mm;
  const Row direct = a.at_cut([&](const Station& s) { return nominal(s, a.first, radius, a.maker.size); });
  const Row shear = a.at_cut([&](const Station& s) {
    return Row(along_flow(s, a.first, radius - 0.5 * tube->wall_mm, a.maker.size) * (1 / tube->wall_mm));
  });
  const double area = a.cut.start.element->section.area_mm2;
  const bool in_category = a.maker.rules.set->hole_class_is_net;
  const double scale = in_category ? area / (area - hole * tube->wall_mm) / 3 : 1;
  Evidence e;
  e.figure = "hole-edge-stress";
  e.unit = "MPa";
  e.source = {"kirsch-1898", "stress beside a circular hole"};
  e.inputs = {
      {"hole_diameter", hole, "mm"}, {"tube_diameter", tube->diameter_mm, "mm"}, {"scale", scale, ""}};
  e.limits = {limit("hole/tube", hole / tube->diameter_mm, "", 0, 0.2)};
  e.coverage = all_inside(e.limits) ? Coverage::inside : Coverage::extended;
  for (const double angle : joints::point_angles_deg) {
    const auto f = joints::hole_edge_factors(angle);
    a.maker.push({a.number, place::notch, angle, tube->wall_mm},
                 Row(scale * f[0] * direct + scale * f[1] * shear), e);
  }
}

void add_thread(NotchSection& a) {
  const joints::ThreadSize size = joints::size_of(a.notch.thread);
  const double core = 0.5 * (size.pitch_diameter_mm + size.root_diameter_mm);
  Evidence e = nominal_evidence();
  e.inputs = {{"stress_area", size.stress_area_mm2, "mm2"}};
  for (const double angle : joints::point_angles_deg)
    a.maker.push({a.number, place::notch, angle, a.notch.thread.diameter_mm},
                 a.solid(core, a.outward(angle), 1, 1), e);
}

// A seat or a slot: no published formula; a factor found elsewhere may be given.
void add_given(NotchSection& a) {
  if (a.notch.factor <= 0) return a.maker.push_not_covered(a.number, "rating.needs-factor");
  const frame::SectionProperties& p = a.cut.start.element->section;
  Evidence e;
  e.figure = "given-factor";
  e.value = a.notch.factor;
  e.source = {"design", a.notch.factor_source};
  e.coverage = Coverage::extended;
  e.notes.push_back({"rating.factor-given", {text("who", a.notch.factor_source)}});
  for (const double angle : joints::point_angles_deg)
    a.maker.push({a.number, place::notch, angle, std::min(p.outer_y_mm, p.outer_z_mm)},
                 Row(a.notch.factor * a.at_cut([&](const Station& s) {
                   return nominal(s, a.outward(angle), std::max(p.outer_y_mm, p.outer_z_mm), a.maker.size);
                 })),
                 e);
}

}  // namespace

void add_notch_sites(SiteMaker& maker, std::size_t index) {
  const design::Notch& notch = maker.design.notches[index];
  const Cut cut = cut_at(maker, notch);
  if (!cut.start.element)
    return maker.push_not_covered(maker.design.welds.size() + index, Message{"rating.notch-in-joint", {text("notch", notch.id)}});
  const Vec3 along = cut.start.element->axes.row(0);
  const Vec3 up = notch.faces.isZero() ? Vec3(cut.start.element->axes.row(1)) : notch.faces;
  const Vec3 first = (up - along * along.dot(up)).normalized();
  NotchSection a{maker, maker.design.welds.size() + index, notch, cut, first, along.cross(first)};
  if (notch.kind == "shoulder") return add_shoulder(a);
  if (notch.kind == "hole") return add_hole(a);
  if (notch.kind == "thread") return add_thread(a);
  if (notch.kind == "seat" || notch.kind == "clamp-slot") return add_given(a);
  throw Fault{Message{"rating.unknown-notch", {text("notch", notch.id), text("kind", notch.kind)}}};
}

}  // namespace seamwright::sites
