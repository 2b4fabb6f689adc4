// SPDX-License-Identifier: GPL-3.0-or-later
// Feet on a chord, each finding on both sides of its edge, by hand.
#include "engine/shape/feet.h"

#include <cmath>

#include "tests/engine/shape/tubes.h"

namespace seamwright::shape {

namespace {

constexpr double half_turn_rad = 3.14159265358979;

// A chord of 40 along x, and one brace or two from its node o, square to it, an angle apart.
frame::Frame chord_and(const std::string& tube, double apart_deg) {
  frame::Frame f = tubes();
  for (const auto& [id, x] : {std::pair("w", -200), {"o", 0}, {"e", 200}}) node(f, id, Vec3(x, 0, 0));
  member(f, "chord", "40x2", {"w", "o", "e"});
  const double half = apart_deg / 2 * half_turn_rad / 180;
  for (const auto& [id, side] : {std::pair("left", 1.0), {"right", -1.0}})
    member(f, id, tube, {"o", node(f, id, {0, side * 300 * std::sin(half), 300 * std::cos(half)})});
  return f;
}

const std::vector<joints::Weld> both{weld("W1", "left", "o", "chord"), weld("W2", "right", "o", "chord")};

std::string finding(const frame::Frame& f, const std::vector<joints::Weld>& welds) {
  const std::vector<Foot> found = feet(f, welds);
  return found.empty() ? "" : found[0].finding.id.text();
}

double number_in(const Foot& foot, const std::string& name) {
  for (const Argument& a : foot.finding.arguments)
    if (a.name == name) return std::get<double>(a.value);
  return std::nan("");
}

}  // namespace

TEST_CASE("a brace wider than its chord has no wall below its flanks") {
  CHECK(finding(chord_and("40x2", 180), {both[0]}).empty());
  const std::vector<Foot> found = feet(chord_and("60x2", 180), {both[0]});
  REQUIRE(found.size() == 1);
  CHECK(found[0].finding.id == "shape.foot-wider");
  CHECK(number_in(found[0], "beyond") == Approx(10));
  CHECK_FALSE(found[0].possible);
}

TEST_CASE("a brace beside its chord's axis is said by how far") {
  frame::Frame f = chord_and("20x2", 180);
  f.members[1].start_offset_mm = {7, 0, 0};  // along the chord: the axes still meet
  f.members[1].end_offset_mm = {7, 0, 0};
  CHECK(finding(f, {both[0]}).empty());
  f.members[1].start_offset_mm = f.members[1].end_offset_mm = {0, 0, 6};  // left goes along y
  const std::vector<Foot> found = feet(f, {both[0]});
  REQUIRE(found.size() == 1);
  CHECK(found[0].finding.id == "shape.foot-aside");
  CHECK(number_in(found[0], "aside") == Approx(6));
}

TEST_CASE("two braces of one node: clear, touching, one in the other") {
  // Axes at 20 mm from the node are 20 sin(angle) from the other's: within its radius of 10 below 30 degrees.
  // Clear from where the crotch, 10 / tan(angle / 2), lies at the wall: 2 atan(0.5) = 53.1 degrees.
  CHECK(finding(chord_and("20x2", 53.2), both).empty());
  CHECK(finding(chord_and("20x2", 53.0), both) == "shape.feet-touch");
  CHECK(finding(chord_and("20x2", 30.1), both) == "shape.feet-touch");
  CHECK(finding(chord_and("20x2", 29.9), both) == "shape.foot-in-brace");
  const std::vector<Foot> found = feet(chord_and("20x2", 29.9), both);
  CHECK(found.size() == 2);  // told at both welds
  CHECK(number_in(found[0], "along") == Approx(10 / std::tan(14.95 * half_turn_rad / 180) - 20));
  CHECK(feet(chord_and("20x2", 53.0), both)[0].possible);
}

}  // namespace seamwright::shape
