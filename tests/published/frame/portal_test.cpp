// SPDX-License-Identifier: GPL-3.0-or-later
// Portal frames against the closed forms of Kleinlogel, Rigid Frame Formulas: h 3000, l 4000, Ib 2e6, Ic 1e6,
// E 200000, k = (Ib / Ic)(h / l) = 1.5. The forms know neither axial nor shear strain: a solid strip of great
// height at the given I is impossible, so the test gives each bar a material of its own, with E I as asked
// and E A large.
#include <cmath>
#include <numbers>

#include "engine/frame/element.h"
#include "tests/engine/frame/small_frames.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::frame;
using seamwright::outside::WithinRel;

namespace {

constexpr double height = 3000, span = 4000;

std::string beam_node(int i) { return std::string("b").append(std::to_string(i)); }

/// A slender bar of diameter 3 mm with the stiffness E I asked for: E A = 16 E I / d2 is then so large, and
/// shear so stiff, that only bending counts.
Frame portal(bool fixed_feet, int beam_elements) {
  const double bar_i = std::numbers::pi / 64 * std::pow(3, 4);
  Frame f;
  f.materials = {{"column", 200000 * 1e6 / bar_i, 0, 0, 0, 0}, {"beam", 200000 * 2e6 / bar_i, 0, 0, 0, 0}};
  f.tubes = {{"column", SolidBar{3}, "column"}, {"beam", SolidBar{3}, "beam"}};
  f.nodes = {{"left foot", {0, 0, 0}}, {"right foot", {span, 0, 0}}};
  Member beam_member{"beam", "beam", {}, {}, false, 0, 0, {0, 0, 0}, {0, 0, 0}};
  for (int i = 0; i <= beam_elements; ++i) {
    f.nodes.push_back({beam_node(i), {span * i / beam_elements, 0, height}});
    beam_member.nodes.push_back(f.nodes.back().id);
  }
  Member left = member("left", {"left foot", "b0"}),
         right = member("right", {"right foot", beam_member.nodes.back()});
  left.tube = right.tube = "column";
  f.members = {left, beam_member, right};
  // The plane of the portal is x-z: uy, rx, rz are held at the feet, ry only when the feet are fixed.
  const std::array<bool, 6> foot{true, true, true, true, fixed_feet, true};
  f.supports = {{"left foot", foot}, {"right foot", foot}};
  return f;
}

struct Answer {
  double foot_moment, corner_moment, sway, horizontal, vertical;
};

Answer answer(const Frame& f, const LoadCase& c) {
  const Assembly a = assemble(f, Footing::supports);
  const Solution s = Statics(a).solve(case_load(a, c));
  const auto foot = at(a, s.reactions.col(0), "left foot");
  const Vector12 column = section_forces(a.elements.front(), s.displacements.col(0));
  // Bending in the frame's plane is one of the two local planes of the column.
  const double corner = std::hypot(column[10], column[11]);
  return {std::abs(foot[4]), corner, std::abs(at(a, s.displacements.col(0), "b0")[0]), std::abs(foot[0]),
          std::abs(foot[2])};
}

/// Equal line load w on a beam of n elements as its exact nodal forces and end moments w l^2 / 12.
LoadCase line_load(double w, int n) {
  LoadCase c{"line", {}, 0};
  const double l = span / n;
  for (int i = 0; i <= n; ++i) {
    const bool end = i == 0 || i == n;
    const double moment = w * l * l / 12 * (i == 0 ? 1 : i == n ? -1 : 0);
    c.loads.push_back({beam_node(i), {0, 0, -w * l * (end ? 0.5 : 1)}, {0, moment, 0}});
  }
  return c;
}

}  // namespace

TEST_CASE("portal pushed at the eave") {
  SOURCE(closed_form, "Kleinlogel, Rigid Frame Formulas, portal frame with k = 1.5",
         "axial and shear strain, which the forms leave out, made small but not nought");
  const Answer pinned = answer(portal(false, 1), force_at("b0", {10000, 0, 0}));
  CHECK_THAT(pinned.corner_moment, WithinRel(15.0e6, 1e-4));
  CHECK_THAT(pinned.vertical, WithinRel(7500.0, 1e-4));
  CHECK_THAT(pinned.sway, WithinRel(300.0, 1e-4));
  const Answer fixed = answer(portal(true, 1), force_at("b0", {10000, 0, 0}));
  CHECK_THAT(fixed.foot_moment, WithinRel(8.25e6, 1e-4));
  CHECK_THAT(fixed.corner_moment, WithinRel(6.75e6, 1e-4));
  CHECK_THAT(fixed.sway, WithinRel(73.125, 1e-4));
}

TEST_CASE("portal with a line load on the beam") {
  SOURCE(closed_form, "Kleinlogel, Rigid Frame Formulas, portal frame with k = 1.5",
         "axial and shear strain, which the forms leave out, made small but not nought");
  for (const int n : {1, 4}) {
    const Answer pinned = answer(portal(false, n), line_load(5, n));
    CHECK_THAT(pinned.corner_moment, WithinRel(3.33333e6, 1e-4));
    CHECK_THAT(pinned.horizontal, WithinRel(1111.11, 1e-4));
    const Answer fixed = answer(portal(true, n), line_load(5, n));
    CHECK_THAT(fixed.corner_moment, WithinRel(3.80952e6, 1e-4));
    CHECK_THAT(fixed.foot_moment, WithinRel(1.90476e6, 1e-4));
    CHECK_THAT(fixed.horizontal, WithinRel(1904.76, 1e-4));
  }
}
