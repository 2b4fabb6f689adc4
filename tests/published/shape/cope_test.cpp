// SPDX-License-Identifier: GPL-3.0-or-later
// Cut lines, their developed lengths and what they leave, against closed forms.
#include "engine/shape/cope.h"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/math/special_functions/ellint_1.hpp>
#include <boost/math/special_functions/ellint_2.hpp>

#include "engine/evidence/constants.h"
#include "engine/shape/quadrature.h"
#include "engine/shape/root_curve.h"
#include "tests/engine/shape/jointed.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::shape;
using seamwright::outside::Expected;

namespace {

constexpr double pi = std::numbers::pi;

// Length of the outer edge's line on the unrolled surface.
double developed_mm(const TubeEnd& e, double radius) {
  double length = 0;
  for (std::size_t i = 1; i < e.line.size(); ++i)
    length += std::hypot(radius * (e.line[i].angle_rad - e.line[i - 1].angle_rad),
                         e.line[i].outer_mm - e.line[i - 1].outer_mm);
  return length;
}

// A solid bar along x, 600 long, and a cut by a filled bar across its middle; what the cut takes. The bar is
// made of tubes in each other, since the quadrature has four radii in each.
double taken_mm3(double bar_radius, double cutter_radius, double angle_deg) {
  constexpr int shells = 24;
  const double wall = bar_radius / shells, a = angle_deg * degree;
  const Vec3 axis(std::cos(a), std::sin(a), 0);
  double taken = 0;
  for (int i = 1; i <= shells; ++i) {
    const frame::RoundTube tube{2 * wall * i, wall};
    Part bar{"bar", "bar", Hollow{{{tube, {-300, 0, 0}, {300, 0, 0}, {0, 0, 1}}}}, {}, "steel"};
    taken += quadrature(bar)->volume_mm3;
    bar.cuts.push_back(
        {Stretch{frame::SolidBar{2 * cutter_radius}, -600 * axis, 600 * axis, {0, 0, 1}}, "cutter"});
    taken -= quadrature(bar)->volume_mm3;
  }
  return taken;
}

}  // namespace

TEST_CASE("a square tee whose axes meet: z = sqrt(R^2 - r^2 sin^2)") {
  SOURCE(closed_form, "two cylinders whose axes meet at right angles: elementary", "rounding alone");
  for (const auto& [R, r] : {std::pair(20.0, 10.0), {30.0, 29.0}, {20.0, 20.0}, {16.0, 12.5}}) {
    const TubeEnd e = foot_end(tee(2 * R, 2 * r, 2));
    for (int deg = -175; deg <= 180; deg += 35) {
      const CutPlace p = *cut_place(e, deg * degree);  // the crown is at 180 degrees
      CHECK(p.outer_mm == Expected(std::sqrt(R * R - std::pow(r * std::sin(deg * degree), 2))).margin(1e-9));
      CHECK(p.inner_mm ==
            Expected(std::sqrt(R * R - std::pow((r - 2) * std::sin(deg * degree), 2))).margin(1e-9));
    }
  }
}

TEST_CASE("axes that meet at an angle: Pressler's formula of the tube mitre") {
  SOURCE(closed_form, "z = (sqrt(R^2 - r^2 sin^2 phi) + r cos phi cos theta) / sin theta, elementary",
         "rounding alone");
  for (const double theta : {75.0, 60.0, 45.0, 30.0, 12.0}) {
    const TubeEnd e = foot_end(tee(44, 28, 2, theta));
    CHECK(e.angle_deg == Expected(theta).margin(1e-9));
    const double s = std::sin(theta * degree), c = std::cos(theta * degree);
    for (int deg = 0; deg < 360; deg += 30) {
      // From the acute side, where the brace leans over the chord.
      const double expected =
          (std::sqrt(22 * 22 - std::pow(14 * std::sin(deg * degree), 2)) + 14 * std::cos(deg * degree) * c) /
          s;
      CHECK(cut_place(e, *e.crown_rad + deg * degree)->outer_mm == Expected(expected).margin(1e-9));
    }
  }
}

TEST_CASE("the developed curve of equal tubes is an ellipse's perimeter") {
  SOURCE(closed_form, "two half ellipses with half axes r and r sqrt 2: 4 sqrt 2 r E(1 / sqrt 2)",
         "line straight to 0.002 mm");
  for (const double r : {10.0, 20.0, 30.0}) {
    const double perimeter = 4 * std::numbers::sqrt2 * r * boost::math::ellint_2(1 / std::numbers::sqrt2);
    CHECK(developed_mm(foot_end(tee(2 * r, 2 * r, 1)), r) == Expected(perimeter).margin(0.01));
  }
}

TEST_CASE("developed lengths of narrower braces by integration of the closed form") {
  SOURCE(evaluated, "integral of sqrt(r^2 + z'^2), z = sqrt(R^2 - r^2 sin^2), adaptive Gauss and Kronrod",
         "line straight to 0.002 mm");
  for (const auto& [R, r] : {std::pair(20.0, 10.0), {30.0, 20.0}, {30.0, 29.0}}) {
    const auto speed = [R = R, r = r](double phi) {
      const double z = std::sqrt(R * R - std::pow(r * std::sin(phi), 2));
      return std::hypot(r, r * r * std::sin(phi) * std::cos(phi) / z);
    };
    const double length =
        4 * boost::math::quadrature::gauss_kronrod<double, 31>::integrate(speed, 0.0, pi / 2, 12, 1e-12);
    CHECK(developed_mm(foot_end(tee(2 * R, 2 * r, 1)), r) == Expected(length).margin(0.01));
    const TubePair pair{{0, 0, 0}, {0, 0, 1}, {1, 0, 0}, {0, 0, 0}, {1, 0, 0}, r, R};
    CHECK(*root_length_mm(pair, 720) == Expected(length).epsilon(1e-8));
  }
}

TEST_CASE("a mitre unrolls to a sine wave") {
  SOURCE(closed_form, "a plane at alpha off square cuts a cylinder at z = r tan(alpha) cos(phi)",
         "rounding alone");
  for (const double between : {90.0, 60.0, 120.0, 150.0}) {
    design::Design d;
    round_tube(d, "B", 30, 2);
    const double a = between * degree;
    node(d.frame, "o", Vec3(0, 0, 0));
    member(d.frame, "brace", "B", {"o", node(d.frame, "x", Vec3(400, 0, 0))});
    member(d.frame, "other", "B", {"o", node(d.frame, "y", 400 * Vec3(std::cos(a), std::sin(a), 0))});
    for (const auto& [id, tube] : {std::pair("W1", "brace"), {"W2", "other"}}) {
      joints::Weld w = weld(id, tube, "o", "");
      w.layout = joints::Layout::tube_end;
      w.kind = "tube-mitre";
      w.joint = "J";
      d.welds.push_back(w);
    }
    const TubeEnd e = foot_end(d);
    REQUIRE(e.kind == TubeEnd::Kind::mitred);
    CHECK(e.saw_deg == Expected(90 - between / 2).margin(1e-9));
    CHECK(e.angle_deg == Expected(between).margin(1e-9));
    const double tan = std::tan(e.saw_deg * degree);
    for (int deg = 0; deg < 360; deg += 24) {
      const CutPlace p = *cut_place(e, *e.crown_rad + deg * degree);
      CHECK(p.outer_mm - cut_place(e, *e.crown_rad + pi / 2)->outer_mm ==
            Expected(15 * tan * std::cos(deg * degree)).margin(1e-9));
      // Square through the wall the outer edge touches inside the corner, the inner edge outside it.
      CHECK(p.cut_mm - p.outer_mm == Expected(std::max(0.0, -2 * tan * std::cos(deg * degree))).margin(1e-9));
      CHECK(p.gap_square_mm ==
            Expected(2 * std::sin(e.saw_deg * degree) * std::abs(std::cos(deg * degree))).margin(1e-6));
    }
    // Long point to long point: the axis and r tan(alpha) beyond it.
    CHECK(blank_named(blanks_of(d), "brace").blank_mm == Expected(400 + 15 * tan).margin(0.002));
  }
}

TEST_CASE("two equal bars across each other share 16 r^3 / 3") {
  SOURCE(closed_form,
         "volume common to two equal cylinders at right angles, 16 r^3 / 3; / sin(angle) at another",
         "quadrature by fibres");
  for (const double r : {8.0, 15.0, 30.0}) {
    CHECK(taken_mm3(r, r, 90) == Expected(16 * r * r * r / 3).epsilon(1e-4));
    CHECK(taken_mm3(r, r, 50) == Expected(16 * r * r * r / 3 / std::sin(50 * degree)).epsilon(1e-4));
  }
}

TEST_CASE("two unequal bars share an elliptic integral's volume") {
  SOURCE(closed_form,
         "8/3 R ((R^2 + r^2) E(k) - (R^2 - r^2) K(k)), k = r / R: 8 int sqrt((r^2 - y^2)(R^2 - y^2)) dy",
         "quadrature by fibres");
  for (const auto& [R, r] : {std::pair(20.0, 10.0), {30.0, 25.0}, {22.5, 12.5}}) {
    const double k = r / R, volume = 8.0 / 3 * R *
                                     ((R * R + r * r) * boost::math::ellint_2(k) -
                                      (R * R - r * r) * boost::math::ellint_1(k));
    CHECK(taken_mm3(r, R, 90) == Expected(volume).epsilon(1e-4));
    CHECK(taken_mm3(R, r, 90) == Expected(volume).epsilon(1e-3));  // most fibres miss it: rougher
  }
}

TEST_CASE("a tube cut by planes holds its section times its axis") {
  SOURCE(closed_form, "section times length of the axis between the planes (Pappus)", "quadrature by fibres");
  Part tube{"t", "t", Hollow{{{frame::RoundTube{40, 3}, {0, 0, 0}, {500, 0, 0}, {0, 0, 1}}}}, {}, "steel"};
  tube.cuts.push_back({HalfSpace{{100, 0, 0}, Vec3(-1, 0.6, 0.2).normalized()}, "a"});
  tube.cuts.push_back({HalfSpace{{350, 0, 0}, Vec3(1, 0.5, -0.9).normalized()}, "b"});
  CHECK(quadrature(tube)->volume_mm3 == Expected(pi * (400 - 289) * 250).epsilon(1e-9));
}
