// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/seam_solid.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::reports {

namespace {

using frame::Vec3;
using solid::SeamSection;

constexpr int sections_around = 144;    // nine to a place
constexpr double lift_mm = 0.3;         // off a surface, so that it does not hide its own points
constexpr double toe_room_share = 0.3;  // of the brace's diameter: the widest strip

// Places and directions of a task in the frame.
struct IntoFrame {
  const solid::FrameJoint& joint;
  Vec3 direction(const Vec3& v) const { return joint.axes.transpose() * v; }
  Vec3 place(const Vec3& p) const { return joint.origin_mm + direction(p); }
  shape::Stretch stretch(shape::Stretch s) const {
    s.from = place(s.from);
    s.to = place(s.to);
    s.up = direction(s.up);
    return s;
  }
  SeamSection section(SeamSection s) const {
    for (Vec3* p : {&s.root, &s.brace_toe, &s.chord_toe}) *p = place(*p);
    for (Vec3* v : {&s.tangent, &s.up_brace, &s.along_chord, &s.brace_normal, &s.chord_normal, &s.slit_way}) *v = direction(*v);
    return s;
  }
  std::vector<SeamSection> sections(const solid::Seam& seam) const {
    std::vector<SeamSection> out;
    const solid::SeamPath path = solid::path_of(seam, sections_around);
    for (const SeamSection& s : path.sections()) out.push_back(section(s));
    if (joint.mirrored()) std::reverse(out.begin() + 1, out.end());
    return out;
  }
};

// A tube keeps what lies within a ball; false where it lies beside it.
bool cut_to_ball(SeamSolid::Tube& tube, const Vec3& centre, double radius) {
  const Vec3 axis = shape::along(tube.body);
  const double along = (centre - tube.body.from).dot(axis), off = (tube.body.from + along * axis - centre).norm();
  const double half = std::sqrt(std::max(0.0, radius * radius - off * off)), length = shape::length_mm(tube.body);
  const double from = std::max(0.0, along - half), to = std::min(length, along + half);
  // A tube that only grazes the ball would float there as a scrap.
  if (!(to - from > shape::outer_radius_mm(tube.body.section)) && to - from < 0.9 * length) return false;
  const Vec3 start = tube.body.from;
  tube.open_from = tube.open_from || from > 0;
  tube.open_to = tube.open_to || to < length;
  tube.body.from = start + from * axis;
  tube.body.to = start + to * axis;
  return true;
}

Vec3 middle_of(const std::vector<SeamSection>& around) {
  Vec3 sum = Vec3::Zero();
  for (const SeamSection& s : around) sum += s.root;
  return sum / static_cast<double>(around.size());
}

// Axes across a tube, for circles around it.
std::array<Vec3, 2> across_of(const shape::Stretch& tube) {
  const Vec3 u = shape::along(tube).unitOrthogonal();
  return {u, shape::along(tube).cross(u)};
}

// Runs of points that are seen, and of those that are not.
void add_runs(const std::vector<Vec3>& points, const std::vector<bool>& seen, std::vector<std::vector<Vec3>>* visible,
              std::vector<std::vector<Vec3>>* hidden) {
  for (std::size_t i = 0; i < points.size();) {
    std::size_t end = i + 1;
    while (end < points.size() && seen[end] == seen[i]) ++end;
    auto* into = seen[i] ? visible : hidden;
    if (into && end - i > 1) into->emplace_back(points.begin() + static_cast<std::ptrdiff_t>(i), points.begin() + static_cast<std::ptrdiff_t>(end));
    i = end;
  }
}

void add_flanks(const SeamSolid& solid, const SeamSolid::Tube& tube, const Vec3& towards, SeamOutline& out) {
  const Vec3 axis = shape::along(tube.body), side = axis.cross(towards);
  if (side.norm() < 0.05) return;  // seen along it
  const double radius = shape::outer_radius_mm(tube.body.section);
  for (const double sign : {-1.0, 1.0}) {
    const Vec3 off = sign * side.normalized();
    constexpr int steps = 120;
    std::vector<Vec3> points;
    std::vector<bool> seen;
    for (int i = 0; i <= steps; ++i) {
      points.push_back(tube.body.from + (tube.body.to - tube.body.from) * i / steps + radius * off);
      seen.push_back(is_seen(solid, points.back() + lift_mm * off, towards));
    }
    add_runs(points, seen, &out.seen, nullptr);
  }
}

// The circle of an open end, and of its bore where one looks into it.
void add_end(const SeamSolid& solid, const shape::Stretch& tube, bool at_to, const Vec3& towards, SeamOutline& out) {
  const Vec3 outward = (at_to ? 1 : -1) * shape::along(tube), centre = at_to ? tube.to : tube.from;
  const auto [u, v] = across_of(tube);
  const bool faces = outward.dot(towards) > 0.02;
  for (const double radius : {shape::outer_radius_mm(tube.section), shape::bore_radius_mm(tube.section)}) {
    const bool is_bore = radius < shape::outer_radius_mm(tube.section);
    if (radius <= 0 || (is_bore && !faces)) continue;
    constexpr int steps = 96;
    std::vector<Vec3> points;
    std::vector<bool> seen;
    for (int i = 0; i <= steps; ++i) {
      const double a = 2 * std::numbers::pi * i / steps;
      const Vec3 radial = std::cos(a) * u + std::sin(a) * v;
      points.push_back(centre + radius * radial);
      seen.push_back(is_seen(solid, points.back() + lift_mm * outward + (is_bore ? 0 : lift_mm) * radial, towards));
    }
    add_runs(points, seen, &out.seen, nullptr);
  }
}

void add_toe(const SeamSolid& solid, std::size_t seam, bool on_chord, const Vec3& towards, SeamOutline& out) {
  const std::vector<SeamSection>& around = solid.seams[seam];
  std::vector<Vec3> points;
  std::vector<bool> seen;
  for (std::size_t i = 0; i <= around.size(); ++i) {
    const SeamSection& s = around[i % around.size()];
    const Vec3 at = on_chord ? s.chord_toe : s.brace_toe;
    points.push_back(at);
    seen.push_back(is_seen(solid, at + lift_mm * (on_chord ? s.chord_normal : s.brace_normal), towards));
  }
  add_runs(points, seen, &out.seen, seam == 0 ? &out.hidden_toes : nullptr);
}

// The strip's inner and outer edge at a section, for a width of 0..1 of its room.
std::array<Vec3, 2> strip_edges(const SeamSolid& solid, SeamLine line, std::size_t section, double wide) {
  const SeamSection& s = solid.around()[section % solid.around().size()];
  const double room = toe_room_share * 2 * shape::outer_radius_mm(solid.brace.section);
  if (line == SeamLine::brace_toe) return {s.brace_toe, s.brace_toe + wide * room * shape::along(solid.brace)};
  if (line == SeamLine::chord_toe) return {s.chord_toe, solid::step_on(solid.chord, s.chord_toe, s.along_chord, wide * room)};
  const Vec3 middle = 0.5 * (s.brace_toe + s.chord_toe), half = 0.5 * wide * (s.brace_toe - s.chord_toe);
  return {middle - half, middle + half};
}

Vec3 strip_normal(const SeamSolid& solid, SeamLine line, std::size_t section) {
  const SeamSection& s = solid.around()[section % solid.around().size()];
  if (line == SeamLine::brace_toe) return s.brace_normal;
  return line == SeamLine::chord_toe ? s.chord_normal : Vec3((s.brace_normal + s.chord_normal).normalized());
}

std::size_t section_at(double angle_deg) {
  return static_cast<std::size_t>(std::lround(angle_deg / 360 * sections_around)) % sections_around;
}

// The numbers around the seam count with their size: the share of them that one sees, 0..1.
double share_seen(const SeamSolid& solid, const SeamValues& values, double largest, const Vec3& towards) {
  double seen = 0, all = 0;
  for (const SeamLine line : seam_lines)
    for (std::size_t k = 0; k < solid::places_around; ++k) {
      const double value = values.at[static_cast<std::size_t>(line)][k];
      if (std::isnan(value)) continue;
      const std::size_t section = k * sections_around / solid::places_around;
      const Vec3 normal = strip_normal(solid, line, section);
      // All of the seam counts a little, so that one sees its shape.
      const double weight = value + 0.2 * largest;
      all += weight;
      const double faces = std::min(1.0, 2 * normal.dot(towards));
      if (faces > 0.1 && is_seen(solid, strip_middle(solid, line, section, 0.3) + lift_mm * normal, towards)) seen += faces * weight;
    }
  return all > 0 ? seen / all : 0;
}

}  // namespace

SeamSolid seam_solid(const solid::FrameJoint& joint, std::size_t seam) {
  const IntoFrame into{joint};
  const solid::Seam& shown = joint.task.seams[seam];
  SeamSolid out;
  out.brace = into.stretch(shown.fillet.brace);
  out.chord = into.stretch(shown.fillet.chord);
  out.brace_part = joint.part_names[static_cast<std::size_t>(shown.brace)];
  out.chord_part = joint.part_names[static_cast<std::size_t>(shown.chord)];
  out.seams.push_back(into.sections(shown));
  const Vec3 centre = middle_of(out.around());
  // The weld fills a fair part of the picture, and of each tube one sees where it leads.
  const double reach = 1.3 * shape::outer_radius_mm(out.chord.section) + 2.2 * shape::outer_radius_mm(out.brace.section);
  for (const solid::Seam& s : joint.task.seams) {
    std::vector<SeamSection> around = into.sections(s);
    if (&s != &shown && (middle_of(around) - centre).norm() < reach) out.seams.push_back(std::move(around));
  }
  for (std::size_t p = 0; p < joint.task.parts.size(); ++p) {
    const auto* hollow = std::get_if<shape::Hollow>(&joint.task.parts[p].body);
    if (!hollow) continue;
    for (std::size_t i = 0; i < hollow->stretches.size(); ++i) {
      SeamSolid::Tube tube{into.stretch(hollow->stretches[i]), joint.part_names[p], i == 0, i + 1 == hollow->stretches.size()};
      if (cut_to_ball(tube, centre, reach)) out.tubes.push_back(std::move(tube));
    }
  }
  return out;
}

StripPiece strip_piece(const SeamSolid& solid, SeamLine line, std::size_t section, double wide_from, double wide_to) {
  const auto from = strip_edges(solid, line, section, wide_from), to = strip_edges(solid, line, section + 1, wide_to);
  const Vec3 normal = strip_normal(solid, line, section);
  return {{from[0], to[0], to[1], from[1]}, 0.25 * (from[0] + from[1] + to[0] + to[1]), normal};
}

Vec3 strip_middle(const SeamSolid& solid, SeamLine line, std::size_t section, double wide) {
  const auto edges = strip_edges(solid, line, section, wide);
  return 0.5 * (edges[0] + edges[1]);
}

bool is_seen(const SeamSolid& solid, const Vec3& at, const Vec3& towards) {
  constexpr double least_mm = 0.02;
  return std::none_of(solid.tubes.begin(), solid.tubes.end(), [&](const SeamSolid::Tube& tube) {
    const shape::Interval within = shape::inside(shape::Line{at, towards}, tube.body);
    return !within.empty() && within.to_mm > least_mm;
  });
}

bool is_bare(const SeamSolid& solid, const std::string& part, const Vec3& at, const Vec3& towards) {
  double nearest = -1e9;
  const std::string* first = nullptr;
  for (const SeamSolid::Tube& tube : solid.tubes) {
    const shape::Interval within = shape::inside(shape::Line{at, towards}, tube.body);
    if (within.empty() || within.to_mm < nearest) continue;
    nearest = within.to_mm;
    first = &tube.part;
  }
  return !first || *first == part;
}

SeamOutline outline_of(const SeamSolid& solid, const Vec3& towards) {
  SeamOutline out;
  for (const SeamSolid::Tube& tube : solid.tubes) {
    add_flanks(solid, tube, towards, out);
    if (tube.open_from) add_end(solid, tube.body, false, towards, out);
    if (tube.open_to) add_end(solid, tube.body, true, towards, out);
  }
  for (std::size_t i = 0; i < solid.seams.size(); ++i)
    for (const bool on_chord : {false, true}) add_toe(solid, i, on_chord, towards, out);
  return out;
}

Eigen::Matrix3d axes_towards(const SeamSolid& solid, const SeamValues& values, const SeamPlace& place) {
  const std::size_t section = section_at(place.angle_deg);
  const Vec3 normal = strip_normal(solid, place.line, section), at = strip_middle(solid, place.line, section, 0.5) + lift_mm * normal;
  const Vec3 chord = shape::along(solid.chord), brace = shape::along(solid.brace);
  Eigen::Matrix3d best = Eigen::Matrix3d::Identity();
  double most = -1e9;
  for (const double tip_deg : {28.0, -28.0, 50.0, -50.0, 65.0, -65.0})
    for (int turn = 0; turn < 24; ++turn) {
      const Eigen::Matrix3d axes = camera_of({}, {15.0 * turn, tip_deg}, 1, 1).axes;
      const Vec3 towards = axes.row(2).transpose();
      // The place faces the viewer, and no tube is seen along its length; the chord not quite square to it either, so that its end shows.
      const double points = std::min(0.5, normal.dot(towards)) + (is_seen(solid, at, towards) ? 1 : 0) + 1.2 * share_seen(solid, values, place.value, towards) -
                            std::max(0.0, std::abs(chord.dot(towards)) - 0.5) - std::max(0.0, std::abs(brace.dot(towards)) - 0.5) -
                            std::max(0.0, 0.2 - std::abs(chord.dot(towards))) - 0.0015 * std::abs(tip_deg - 28);
      if (points < most + 1e-9) continue;
      most = points;
      best = axes;
    }
  return best;
}

MessageId facing_of(const SeamSolid& solid, double angle_deg) {
  const Vec3 out = strip_normal(solid, SeamLine::brace_toe, section_at(angle_deg));
  Eigen::Index axis = 0;
  out.cwiseAbs().maxCoeff(&axis);
  if (axis == 0) return out.x() > 0 ? MessageId("seam.facing-front") : "seam.facing-rear";
  if (axis == 1) return out.y() > 0 ? MessageId("seam.facing-left") : "seam.facing-right";
  return out.z() > 0 ? MessageId("seam.facing-up") : "seam.facing-down";
}

}  // namespace seamwright::reports
