// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/preparation_picture.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/shape/checks.h"
#include "engine/shape/fillet.h"
#include "reports/content/dimensions.h"

namespace seamwright::reports {

namespace {

constexpr double section_wide_mm = 120, section_high_mm = 62;
constexpr int root_points = 360;

// mm of the joint, the root at the origin, the chord's surface along x, the brace above it.
struct PreparedEdge {
  double turn;              // of the brace's surface, from the chord's
  double wall, other_wall;  // of brace and chord
  double throat;

  Point direction() const { return {std::cos(turn), std::sin(turn)}; }
  // The bore's corner of the wall, on the chord; both edges begin there.
  Point inner() const { return {-wall / std::sin(turn), 0}; }
  // The outer corner of an edge square to the wall.
  double outer_mm() const { return -wall * std::cos(turn) / std::sin(turn); }
  Point on_brace(double mm) const { return {mm * direction().x, mm * direction().y}; }
  // Both toes as far from the inner corner as gives the throat, and at least the wall's thickness.
  double leg_mm() const { return std::max(wall, throat / std::cos(0.5 * (turn - std::numbers::pi / 2))); }
};

class EdgePicture {
 public:
  explicit EdgePicture(const PreparedEdge& edge) : e_(edge) {}

  Picture draw() {
    const double far = 0.42 * section_wide_mm / preparation_enlargement;
    const Pen outline{{Ink::ink, 0}, 0.35, Dash::solid};
    add({{-far, 0}, {far, 0}, {far, -e_.other_wall}, {-far, -e_.other_wall}}, outline, Ink::sheet);
    const Point d = e_.direction(), in = e_.inner(), outer = e_.on_brace(e_.outer_mm());
    const double along = std::min(5 * e_.wall + e_.outer_mm(), 0.6 * section_high_mm / preparation_enlargement / d.y);
    const Point top = e_.on_brace(along), top_in{top.x - e_.wall * d.y, top.y + e_.wall * d.x};
    add({in, outer, top, top_in}, outline, Ink::sheet);
    const double leg = e_.leg_mm();
    const Point brace_toe = e_.on_brace(e_.outer_mm() + leg - e_.wall), chord_toe{in.x + leg, 0};
    add({in, chord_toe, brace_toe, outer}, outline, Ink::grid);
    // The edge as it is coped to the chord's surface, before it is prepared.
    p_.items.emplace_back(Path{{place(in), place({0, 0}), place(outer)}, false, {{Ink::ink, 0}, 0.13, Dash::dashed}, {}});
    const Point face{0.5 * (brace_toe.x + chord_toe.x), 0.5 * (brace_toe.y + chord_toe.y)};
    note(face, {12, -7}, Message{"drawing.throat", {number("throat", e_.throat, "")}}, 10, LeaderEnd::arrow);
    note({0.5 * (in.x + outer.x), 0.5 * (in.y + outer.y)}, {30, -18}, Message{"drawing.edge", {}}, 36, LeaderEnd::dot);
    note({0.5 * (top.x + top_in.x) - 0.4 * along * d.x, 0.5 * (top.y + top_in.y) - 0.4 * along * d.y}, {14, -21},
         Message{"drawing.wall", {number("wall", e_.wall, "")}}, 10, LeaderEnd::dot);
    note({0.7 * far, -0.5 * e_.other_wall}, {6, -16}, Message{"drawing.wall", {number("wall", e_.other_wall, "")}}, 10,
         LeaderEnd::dot);
    return std::move(p_);
  }

 private:
  Point place(const Point& q) const {
    return {0.5 * section_wide_mm + preparation_enlargement * q.x, 0.7 * section_high_mm - preparation_enlargement * q.y};
  }
  void add(std::vector<Point> points, const Pen& pen, Ink fill) {
    for (Point& q : points) q = place(q);
    p_.items.emplace_back(Path{std::move(points), true, pen, {fill, 0}});
  }
  void note(const Point& on, const Point& away, Message text, double wide, LeaderEnd end) {
    const Point from = place(on);
    add_note(p_, from, {from.x + away.x, from.y + away.y}, std::move(text), wide, end);
  }

  PreparedEdge e_;
  Picture p_{section_wide_mm, section_high_mm, {}};
};

}  // namespace

std::optional<Preparation> preparation_of(const design::Design& design, const joints::Weld& weld,
                                          const shape::FilletAround& fillet) {
  const frame::RoundTube *brace = design::round_tube(design.frame, weld.member),
                         *chord = design::round_tube(design.frame, weld.chord);
  if (!brace || !chord) return {};
  Preparation out;
  out.most_deg = shape::WeldRoom{}.most_dihedral_deg;
  const shape::TubePair pair = shape::pair_of(fillet);
  int wide = 0;
  for (int i = 0; i < root_points; ++i)
    if (const auto root = shape::root_point(pair, 2 * std::numbers::pi * i / root_points)) {
      const double deg = root->dihedral_rad / degree;
      out.widest_deg = std::max(out.widest_deg, deg);
      wide += deg > out.most_deg + 1e-6;
    }
  if (wide == 0) return {};
  out.share_percent = 100.0 * wide / root_points;
  // Tangent walls have no section of their own: the drawing stops short of them.
  const double turn = std::min(out.widest_deg, 165.0) * degree;
  out.picture = EdgePicture({turn, brace->wall_mm, chord->wall_mm, weld.throat_mm}).draw();
  return out;
}

}  // namespace seamwright::reports
