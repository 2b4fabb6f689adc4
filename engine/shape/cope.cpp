// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/cope.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape {

namespace {

constexpr double pi = std::numbers::pi;
constexpr std::size_t radii = 9;         // through the wall
constexpr double straight_mm = 0.002;    // of the line between two of its places
constexpr double least_step_rad = 2e-5;  // at a jump: beside a chord that is narrower

const Stretch& end_stretch(const TubeEnd& e) { return e.at_start ? e.stretches.front() : e.stretches.back(); }

Vec3 off_axis(const TubeEnd& e, double angle) {
  return std::cos(angle) * e.top + std::sin(angle) * e.out.cross(e.top);
}

// A fibre is left from here on, measured from the end; the longest piece is the tube's.
std::optional<double> left_from_mm(const TubeEnd& e, const Vec3& aside) {
  const Stretch& s = end_stretch(e);
  const Line fibre{s.from + aside, along(s)};
  const std::size_t index = e.at_start ? 0 : e.stretches.size() - 1;
  const std::vector<Interval> pieces = kept(fibre, between_mitres(fibre, e.stretches, index), e.cuts);
  const auto longest = std::max_element(
      pieces.begin(), pieces.end(),
      [](const Interval& a, const Interval& b) { return a.to_mm - a.from_mm < b.to_mm - b.from_mm; });
  if (longest == pieces.end()) return {};
  return e.at_start ? longest->from_mm : length_mm(s) - longest->to_mm;
}

// The contour as a box with round corners.
struct Box {
  double half_y, half_z, corner;
};
Box box_of(const frame::Section& section) {
  struct Contour {
    Box operator()(const frame::RoundTube& t) const {
      return {t.diameter_mm / 2, t.diameter_mm / 2, t.diameter_mm / 2};
    }
    Box operator()(const frame::SolidBar& b) const {
      return {b.diameter_mm / 2, b.diameter_mm / 2, b.diameter_mm / 2};
    }
    Box operator()(const frame::RectangularTube& t) const {
      return {t.height_mm / 2, t.width_mm / 2, t.corner_radius_mm};
    }
    Box operator()(const frame::FlatOvalTube& t) const {
      return {t.height_mm / 2, t.width_mm / 2, std::min(t.height_mm, t.width_mm) / 2};
    }
    Box operator()(const frame::PlateStrip& p) const { return {p.height_mm / 2, p.thickness_mm / 2, 0}; }
  };
  return std::visit(Contour{}, section);
}

double outside_by_mm(const Vec3& point, const Stretch& tool) {
  const Vec3 axis = along(tool), off = point - tool.from;
  const Box box = box_of(tool.section);
  const double y = std::abs(off.dot(tool.up)) - box.half_y + box.corner,
               z = std::abs(off.dot(across(tool))) - box.half_z + box.corner, x = off.dot(axis);
  const double beside =
      std::hypot(std::max(y, 0.0), std::max(z, 0.0)) + std::min(std::max(y, z), 0.0) - box.corner;
  return std::hypot(std::max(beside, 0.0), std::max({0.0, -x, x - length_mm(tool)}));
}
double outside_by_mm(const Vec3& point, const HalfSpace& tool) {
  return std::max(0.0, (tool.point - point).dot(tool.away));
}

// The distance leads to the nearest of all that the end stands on.
double to_wall_mm(const TubeEnd& e, const Vec3& point) {
  double least = e.cuts.empty() ? 0 : 1e9;
  for (const Cut& cut : e.cuts)
    least =
        std::min(least, std::visit([&](const auto& tool) { return outside_by_mm(point, tool); }, cut.tool));
  return least;
}

double wall_of(const TubeEnd& e, double outer) {
  const frame::Section& section = end_stretch(e).section;
  if (std::holds_alternative<frame::PlateStrip>(section)) return outer;
  return std::min(outer, frame::wall_mm(section).value_or(outer));
}

// Where the parabola through three neighbours is highest, in steps; the distance is taken there again.
double crest(const std::array<double, radii>& all, std::size_t i) {
  const double bend = all[i - 1] - 2 * all[i] + all[i + 1], middle = static_cast<double>(i);
  if (!(bend < 0)) return middle;
  return std::clamp(middle + (all[i - 1] - all[i + 1]) / (2 * bend), 0.0, radii - 1.0);
}

double between(const CutPlace& a, const CutPlace& b, double angle) {
  return a.cut_mm + (b.cut_mm - a.cut_mm) * (angle - a.angle_rad) / (b.angle_rad - a.angle_rad);
}

// Adds places up to b, halving until the line is straight between two of them. False: nothing is left.
bool refine(const TubeEnd& e, const CutPlace& a, const CutPlace& b, std::vector<CutPlace>& out) {
  const double step = b.angle_rad - a.angle_rad;
  std::array<CutPlace, 3> inner;
  bool straight = true;
  for (int i = 0; i < 3; ++i) {
    const double angle = a.angle_rad + step * (i + 1) / 4;
    const std::optional<CutPlace> p = cut_place(e, angle);
    if (!p) return false;
    inner[static_cast<std::size_t>(i)] = *p;
    straight = straight && std::abs(p->cut_mm - between(a, b, angle)) < straight_mm;
  }
  if (straight || step < least_step_rad) {
    out.push_back(b);
    return true;
  }
  return refine(e, a, inner[1], out) && refine(e, inner[1], b, out);
}

}  // namespace

double outer_radius_at_mm(const TubeEnd& e, double angle) {
  const Stretch& s = end_stretch(e);
  return inside(Line{(s.from + s.to) / 2, off_axis(e, angle)}, s).to_mm;
}

std::optional<CutPlace> cut_place(const TubeEnd& e, double angle) {
  const Vec3 away = off_axis(e, angle);
  const double outer = outer_radius_at_mm(e, angle), wall = wall_of(e, outer);
  CutPlace place{angle};
  std::array<double, radii> found{};
  for (std::size_t i = 0; i < radii; ++i) {
    const std::optional<double> from =
        left_from_mm(e, (outer - wall * static_cast<double>(i) / (radii - 1)) * away);
    if (!from) return {};
    found[i] = *from;
  }
  place.outer_mm = found.front();
  place.inner_mm = found.back();
  const auto most = std::max_element(found.begin(), found.end());
  place.cut_mm = *most;
  const auto near = static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(most - found.begin(), 1, radii - 2));
  if (const auto between = left_from_mm(e, (outer - wall * crest(found, near) / (radii - 1)) * away))
    place.cut_mm = std::max(place.cut_mm, *between);
  place.free = !e.onto.empty() && e.kind == TubeEnd::Kind::coped && place.cut_mm < 1e-9;
  if (place.free) return place;
  place.gap_along_mm = place.cut_mm - std::min(place.outer_mm, place.inner_mm);
  const double other = place.outer_touches() ? outer - wall : outer;
  const Vec3 end = e.at_start ? end_stretch(e).from : end_stretch(e).to;
  place.gap_square_mm = to_wall_mm(e, end + other * away - place.cut_mm * e.out);
  return place;
}

std::vector<CutPlace> cut_line(const TubeEnd& e) {
  constexpr int steps = 72;
  std::vector<CutPlace> line;
  std::optional<CutPlace> last = cut_place(e, -pi);
  if (!last) return {};
  line.push_back(*last);
  for (int i = 1; i <= steps; ++i) {
    std::optional<CutPlace> next = cut_place(e, i == steps ? -pi : -pi + 2 * pi * i / steps);
    if (!next) return {};
    if (i == steps) next->angle_rad = pi;
    if (!refine(e, *last, *next, line)) return {};
    last = next;
  }
  return line;
}

std::optional<CutPlace> widest_gap(const TubeEnd& e) {
  if (e.cuts.empty() || e.line.empty()) return {};
  return *std::max_element(e.line.begin(), e.line.end(), [](const CutPlace& a, const CutPlace& b) {
    return a.gap_square_mm < b.gap_square_mm;
  });
}

std::vector<Message> gap_findings(const std::vector<Blank>& blanks) {
  std::vector<Message> found;
  for (const Blank& b : blanks)
    for (const TubeEnd* e : {&b.start, &b.end}) {
      if (e->weld.empty() || e->kind != TubeEnd::Kind::coped) continue;
      const std::optional<CutPlace> widest = widest_gap(*e);
      if (!widest || widest->gap_square_mm <= tig_gap_mm) continue;
      found.push_back({"shape.gap-wide",
                       {text("weld", e->weld), text("member", e->member), text("chord", e->onto),
                        number("gap", widest->gap_square_mm, "mm"), number("most", tig_gap_mm, "mm"),
                        sentence_argument("edge", widest->outer_touches() ? MessageId("shape.edge-outer")
                                                                          : "shape.edge-inner")}});
    }
  return found;
}

}  // namespace seamwright::shape
