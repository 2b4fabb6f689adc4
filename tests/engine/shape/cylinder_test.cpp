// SPDX-License-Identifier: GPL-3.0-or-later
// Elementary geometry: values by hand, and a search that samples every point of both bodies.
#include "engine/shape/cylinder.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

namespace seamwright::shape {

namespace {

using Random = std::mt19937_64;

double uniform(Random& random, double low, double high) {
  return low + (high - low) * static_cast<double>(random() >> 11) / 9007199254740992.0;
}

Vec3 anywhere(Random& random, double reach) {
  return {uniform(random, -reach, reach), uniform(random, -reach, reach), uniform(random, -reach, reach)};
}

// The least distance of two segments over a grid of both, refined around its best place.
double sampled_distance(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
  double s = 0.5, t = 0.5, half = 0.5, best = 1e300;
  for (int level = 0; level < 12; ++level, half /= 4) {
    double at_s = s, at_t = t;
    for (int i = -20; i <= 20; ++i)
      for (int j = -20; j <= 20; ++j) {
        const double x = std::clamp(s + half * i / 20, 0.0, 1.0), y = std::clamp(t + half * j / 20, 0.0, 1.0);
        const double distance = (a + x * (b - a) - c - y * (d - c)).norm();
        if (distance < best) best = distance, at_s = x, at_t = y;
      }
    s = at_s;
    t = at_t;
  }
  return best;
}

// The deepest of many points of one body lies this deep in the other.
double sampled_depth(const Cylinder& body, const Cylinder& other) {
  const Vec3 axis = body.to - body.from, x = axis.unitOrthogonal(), y = axis.normalized().cross(x);
  double deepest = 0;
  for (int i = 0; i <= 60; ++i)
    for (int j = 0; j < 48; ++j)
      for (int k = 0; k <= 12; ++k) {
        const double angle = 2 * std::numbers::pi * j / 48, r = body.radius_mm * k / 12;
        const Vec3 at = body.from + axis * i / 60 + r * (std::cos(angle) * x + std::sin(angle) * y);
        deepest = std::max(deepest, -outside_mm(at, other));
      }
  return deepest;
}

}  // namespace

TEST_CASE("distances of segments are those of school geometry") {
  // Skew at right angles, 5 apart; the feet at 1/4 and 3/4.
  Nearest n = nearest({0, 0, 0}, {100, 0, 0}, {25, -75, 5}, {25, 25, 5});
  CHECK(n.distance_mm == Approx(5));
  CHECK(n.first == Approx(0.25));
  CHECK(n.second == Approx(0.75));
  CHECK(nearest({0, 0, 0}, {10, 0, 0}, {13, 4, 0}, {50, 4, 0}).distance_mm == Approx(5));  // ends, 3-4-5
  CHECK(nearest({0, 0, 0}, {10, 0, 0}, {-5, 7, 0}, {50, 7, 0}).distance_mm == Approx(7));  // side by side
  CHECK(nearest({0, 0, 0}, {10, 0, 0}, {12, 0, 0}, {50, 0, 0}).distance_mm == Approx(2));  // in line
  CHECK(nearest({0, 0, 0}, {10, 0, 0}, {5, 3, 0}, {5, 30, 40}).distance_mm == Approx(3));  // an end on a side
}

TEST_CASE("distances of random segments are those of a search over both") {
  Random random(1);
  for (int i = 0; i < 150; ++i) {
    const Vec3 a = anywhere(random, 100), b = anywhere(random, 100), c = anywhere(random, 100),
               d = anywhere(random, 100);
    CHECK(nearest(a, b, c, d).distance_mm == Approx(sampled_distance(a, b, c, d)).margin(2e-3));
  }
}

TEST_CASE("a point's depth in a tube is that below the nearest face") {
  const Cylinder c{{0, 0, 0}, {100, 0, 0}, 10};
  CHECK(outside_mm({50, 0, 0}, c) == Approx(-10));
  CHECK(outside_mm({97, 0, 0}, c) == Approx(-3));
  CHECK(outside_mm({50, 14, 0}, c) == Approx(4));
  CHECK(outside_mm({103, 0, 5}, c) == Approx(3));
  CHECK(outside_mm({103, 14, 0}, c) == Approx(5));  // from the rim, 3-4-5
}

TEST_CASE("overlaps of cylinders by hand, on both sides of their edge") {
  const Cylinder a{{0, 0, 0}, {100, 0, 0}, 10};
  const auto across = [&](double height) { return overlap_mm(a, {{50, -50, height}, {50, 50, height}, 5}); };
  CHECK(across(14.9) == Approx(0.1));  // 10 + 5 - 14.9
  CHECK(across(15.1) == 0);
  CHECK(across(6) == Approx(9));
  // Flat end to side: the end's face stands 10 + gap from the axis.
  const auto ended = [&](double gap) { return overlap_mm(a, {{50, 0, 10 + gap}, {50, 0, 90}, 5}); };
  CHECK(ended(0.1) == 0);
  CHECK(ended(-0.1) == Approx(0.1).margin(1e-6));
  // Flat end to flat end, in line and aside: rounded ends would touch at 15 of distance, flat ones do not.
  CHECK(overlap_mm(a, {{100.1, 0, 0}, {200, 0, 0}, 10}) == 0);
  CHECK(overlap_mm(a, {{99.9, 0, 0}, {200, 0, 0}, 10}) == Approx(0.1).margin(1e-6));
  CHECK(overlap_mm(a, {{104, 12, 0}, {200, 12, 0}, 5}) == 0);
  // Side by side, 18 apart for 10 + 10.
  CHECK(overlap_mm(a, {{-20, 18, 0}, {50, 18, 0}, 10}) == Approx(2).margin(1e-6));
  CHECK(overlap_mm(a, {{-20, 20.1, 0}, {50, 20.1, 0}, 10}) == 0);
  CHECK(overlap_mm(a, {{0, 18, 0}, {100, 18, 0}, 10}) == Approx(2).margin(1e-6));  // ends in one plane
  CHECK(overlap_mm(a, {{100, 20.1, 0}, {0, 20.1, 0}, 10}) == 0);
}

TEST_CASE("random tubes overlap where some point of one lies in the other, and only there") {
  Random random(7);
  int apart = 0, within = 0;
  const int pairs = std::getenv("SEAMWRIGHT_NIGHT") ? 160 : 48;
  for (int i = 0; i < pairs; ++i) {
    const Cylinder a{anywhere(random, 60), anywhere(random, 60), uniform(random, 4, 25)},
        b{anywhere(random, 60), anywhere(random, 60), uniform(random, 4, 25)};
    const double depth = overlap_mm(a, b), sampled = std::max(sampled_depth(a, b), sampled_depth(b, a));
    // No sampled point can lie deeper than the other's radius or the overlap with its axis; a grid of some mm
    // misses at most its own size.
    if (sampled > 0) CHECK(depth > 0);
    if (depth > 3) CHECK(sampled > 0);
    CHECK(overlap_mm(b, a) == Approx(depth).margin(1e-5));
    depth > 0 ? ++within : ++apart;
  }
  CHECK(apart > pairs / 8);
  CHECK(within > pairs / 8);
}

}  // namespace seamwright::shape
