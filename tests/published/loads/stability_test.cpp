// SPDX-License-Identifier: GPL-3.0-or-later
// Tip-over limits by handbook statics: moments about the line of the wheels that stay down. Vehicle: 200 kg,
// centre 0.45 m behind the front axle and 0.75 m high, wheelbase 1.30 m, track 0.80 m; thresholds worked
// apart from a_y = g t b / (2 h L), braking adds a t / (2 L).
#include "engine/loads/stability.h"
#include "tests/published/outside/outside.h"

#include <cmath>
#include <numbers>

using namespace seamwright;
using namespace seamwright::loads;
using seamwright::outside::Expected;

namespace {
Stance v1() {
  Stance s;
  s.front_left_mm = {1300, 400};
  s.front_right_mm = {1300, -400};
  s.rear_mm = {0, 0};
  s.centre_mm = {850, 0, 750};
  return s;
}
}  // namespace

TEST_CASE("side tip straight ahead, braking and accelerating") {
  SOURCE(closed_form, "Moments about the line of the wheels that stay down", "digits of the evaluation");
  for (const bool left : {true, false}) {
    const TipResult r = side_tip(v1(), left, 0);
    CHECK(r.acceleration_m_s2 == Expected(3.41975).epsilon(1e-5));
    CHECK(r.tilt_deg == Expected(18.433).epsilon(1e-4));
    CHECK(side_tip(v1(), left, 3).acceleration_m_s2 == Expected(4.34283).epsilon(1e-5));
    CHECK(side_tip(v1(), left, -1.5).acceleration_m_s2 == Expected(2.95822).epsilon(1e-5));
  }
  // v = sqrt(a R): 11.53, 14.89, 21.05 km/h on 3, 5 and 10 m.
  CHECK(3.6 * std::sqrt(side_tip(v1(), true, 0).acceleration_m_s2 * 5) == Expected(14.89).epsilon(1e-3));
}

TEST_CASE("an off-centre load lowers the limit on its own side") {
  SOURCE(closed_form, "Moments about the line of the wheels that stay down", "digits of the evaluation");
  // [t g b / (2 L) + g y] / h with y towards the turn's centre.
  Stance s = v1();
  s.centre_mm.y() = 30;
  CHECK(side_tip(s, true, 0).acceleration_m_s2 == Expected(3.41975 + 9.80665 * 30 / 750).epsilon(1e-5));
  CHECK(side_tip(s, false, 0).acceleration_m_s2 == Expected(3.41975 - 9.80665 * 30 / 750).epsilon(1e-5));
}

TEST_CASE("a steered front brings the outer wheel inward") {
  SOURCE(closed_form, "Moments about the line of the wheels that stay down", "rounding of the arithmetic");
  // Front frame turned by 30 degrees about a pivot 200 behind the axle; the line of outer front and rear
  // contact by coordinates.
  const double c = std::cos(std::numbers::pi / 6), s = 0.5;
  Stance steered = v1();
  steered.front_right_mm = {1100 + 200 * c + 400 * s, 200 * s - 400 * c};
  steered.front_left_mm = {1100 + 200 * c - 400 * s, 200 * s + 400 * c};
  const double x = steered.front_right_mm[0], y = steered.front_right_mm[1];
  // Weight about the line: moment arm times cos psi over height: a = g (850 |y| / x) / 750.
  CHECK(side_tip(steered, true, 0).acceleration_m_s2 == Expected(9.80665 * 850 * -y / x / 750).epsilon(1e-9));
  CHECK(side_tip(steered, true, 0).acceleration_m_s2 < side_tip(v1(), true, 0).acceleration_m_s2);
}

TEST_CASE("pitching over: braking lifts the rear, starting the front") {
  SOURCE(closed_form, "g a / h; g (L - a) / h", "digits of the evaluation");
  CHECK(forward_tip_m_s2(v1()) == Expected(5.884).epsilon(1e-4));  // g a / h
  CHECK(backward_tip_m_s2(v1()) == Expected(9.80665 * 850 / 750).epsilon(1e-9));
}

TEST_CASE("a centre outside the triangle tips at rest") {
  SOURCE(closed_form, "A centre outside the triangle of contacts tips at rest", "comparison");
  Stance s = v1();
  s.centre_mm.y() = -500;
  const TipResult r = side_tip(s, true, 0);
  CHECK(r.acceleration_m_s2 < 0);
  REQUIRE(r.evidence.notes.size() == 1);
  CHECK(r.evidence.notes[0].id == "loads.tips-at-rest");
}

TEST_CASE("slides before it tips where friction is below the threshold over g") {
  SOURCE(closed_form, "Friction below the threshold over g slides first", "comparison");
  StabilityCase c;
  c.left = side_tip(v1(), true, 0);
  c.right = side_tip(v1(), false, 0);
  // 0.3487 g.
  CHECK(slides_first(c, 0.34));
  CHECK_FALSE(slides_first(c, 0.36));
  CHECK(tip_threshold_m_s2(c) == Expected(3.41975).epsilon(1e-5));
}
