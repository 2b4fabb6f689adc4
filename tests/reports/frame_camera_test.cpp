// SPDX-License-Identifier: GPL-3.0-or-later
// The view of the frame as numbers: projection and its inverse, what stays put while one turns and zooms,
// bodies, bands, motion, section and picking.
#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "reports/content/frame_pick.h"
#include "reports/content/plain_solids.h"
#include "tests/reports/demonstration.h"

using namespace seamwright;
using namespace seamwright::reports;
using frame::Vec3;

namespace {

const FrameDrawing& drawn() {
  static const FrameDrawing drawing = frame_drawing(demo().design);
  return drawing;
}

double apart(const Point& a, const Point& b) { return std::hypot(a.x - b.x, a.y - b.y); }

// One tube of 40 mm along x from 0 to 1000, with a weld at its start.
FrameDrawing one_tube() {
  FrameDrawing d;
  d.points = {{"a", {0, 0, 0}}, {"b", {1000, 0, 0}}};
  d.stretches = {{"tube", 0, 1, 40, false, 36}};
  d.flags = {{"W1", "tube", "a", 0, {0, 0, 0}, {1, 0, 0}, 40, 0}};
  d.least_mm = {0, -20, -20};
  d.most_mm = {1000, 20, 20};
  return d;
}

double volume_mm3(const shape::Mesh& mesh) {
  double sum = 0;
  const auto point = [&](std::size_t i) {
    const std::size_t k = 3 * std::size_t{mesh.triangles[i]};
    return Vec3(mesh.points[k], mesh.points[k + 1], mesh.points[k + 2]);
  };
  for (std::size_t i = 0; i < mesh.triangles.size(); i += 3)
    sum += point(i).dot(point(i + 1).cross(point(i + 2))) / 6;
  return sum;
}

}  // namespace

TEST_CASE("a place projected and taken back is the same place", "[view]") {
  for (const double turn : {-170.0, 0.0, 32.0, 90.0, 250.0})
    for (const double tip : {-90.0, -20.0, 0.0, 24.0, 90.0}) {
      FrameView view;
      view.turn_deg = turn;
      view.tip_deg = tip;
      const FrameCamera camera = camera_of(drawn(), view, 180, 110);
      for (const auto& p : drawn().points) {
        const Vec3 back = unprojected(camera, projected(camera, p.at_mm), depth_mm(camera, p.at_mm));
        CHECK((back - p.at_mm).norm() < 1e-9);
      }
    }
}

TEST_CASE("the whole frame fits until a hand moves it", "[view]") {
  for (const char* name : {"side", "top", "front", "oblique"}) {
    const FrameCamera camera = camera_of(drawn(), view_of(name), 180, 110);
    for (const auto& p : drawn().points) {
      const Point q = projected(camera, p.at_mm);
      CHECK((q.x > 10 && q.x < 170 && q.y > 10 && q.y < 100));
    }
  }
}

TEST_CASE("the pivot stays where it is while the frame turns about it", "[view]") {
  FrameView view;
  const Vec3 pivot = drawn().flags.front().at_mm;
  const Point before = projected(camera_of(drawn(), view, 180, 110), pivot);
  const double depth = depth_mm(camera_of(drawn(), view, 180, 110), pivot);
  const Vec3 other = drawn().flags.back().at_mm;
  const Point far = projected(camera_of(drawn(), view, 180, 110), other);
  for (int i = 0; i < 50; ++i) {
    view = turned_about(view, camera_of(drawn(), view, 180, 110), pivot, 7, i < 25 ? 3 : -4);
    const FrameCamera camera = camera_of(drawn(), view, 180, 110);
    CHECK(apart(projected(camera, pivot), before) < 1e-8);
    CHECK(depth_mm(camera, pivot) - depth == Approx(0).margin(1e-6));
    CHECK(std::abs(view.tip_deg) <= 90);
  }
  CHECK(view.turn_deg == Approx(32 + 350));
  CHECK(apart(projected(camera_of(drawn(), view, 180, 110), other), far) > 1);
}

TEST_CASE("what is under the pointer stays there while zooming", "[view]") {
  FrameView view;
  const Point pointer{40, 70};
  const FrameCamera first = camera_of(drawn(), view, 180, 110);
  const Vec3 under = unprojected(first, pointer, 12);
  for (const double by : {1.2, 3.0, 0.5, 1.7}) {
    const FrameCamera camera = camera_of(drawn(), view, 180, 110);
    view = zoomed_about(view, camera, pointer, by);
    const FrameCamera next = camera_of(drawn(), view, 180, 110);
    CHECK(next.scale == Approx(camera.scale * by));
    CHECK(apart(projected(next, under), pointer) < 1e-8);
  }
  for (int i = 0; i < 100; ++i) view = zoomed_about(view, camera_of(drawn(), view, 180, 110), pointer, 2);
  CHECK(camera_of(drawn(), view, 180, 110).scale == Approx(60 * first.fit_scale));
  const FrameCamera now = camera_of(drawn(), view, 180, 110);
  const FrameCamera moved = camera_of(drawn(), shifted(view, now, {3, -2}), 180, 110);
  CHECK(projected(moved, under).x == Approx(projected(now, under).x + 3));
  CHECK(projected(moved, under).y == Approx(projected(now, under).y - 2));
}

TEST_CASE("a chosen weld pulls the view to its joint", "[view]") {
  const auto& flag = drawn().flags[3];
  const FrameView view = pulled_to({}, drawn(), flag.id);
  const FrameCamera camera = camera_of(drawn(), view, 180, 110);
  CHECK(apart(projected(camera, flag.at_mm), {90, 55}) < 1e-9);
  CHECK(camera.scale > 3 * camera.fit_scale);
  CHECK(members_at(drawn(), flag.id).contains(flag.member));
  CHECK(members_at(drawn(), flag.id).size() > 1);
  CHECK_FALSE(pulled_to({}, drawn(), "no such weld").held);
}

TEST_CASE("plain tubes are closed and have the volume of their wall", "[view]") {
  const shape::FrameSolids solids = plain_solids(one_tube());
  REQUIRE(solids.parts.size() == 1);
  REQUIRE(solids.welds.size() == 1);
  const double sides = 24, area = sides / 2 * std::sin(2 * std::numbers::pi / sides);
  CHECK(volume_mm3(solids.parts[0].mesh) == Approx(area * (20 * 20 - 18 * 18) * 1000).epsilon(1e-5));
  CHECK(volume_mm3(solids.welds[0].mesh) > 0);
  for (const shape::Solid& part : plain_solids(drawn()).parts) CHECK(volume_mm3(part.mesh) > 0);
}

TEST_CASE("the nearest body under the pointer is picked, and not what a section took", "[view]") {
  const FrameDrawing d = one_tube();
  const FrameMesh mesh = frame_mesh(d, plain_solids(d));
  FrameLook look;
  look.used["W1"] = 0.3;
  const FrameBands bands = frame_bands(d, mesh, look);
  const FrameCamera camera = camera_of(d, view_of("side"), 200, 100);
  const auto pick = [&](const Vec3& p, const FrameSection& section) {
    return picked_at(d, mesh, bands, camera, kept_by(section, d), 0, projected(camera, p));
  };
  const auto tube = pick({500, 0, 5}, {});
  REQUIRE(tube);
  CHECK(tube->id == "tube");
  CHECK_FALSE(tube->weld);
  // The side view looks along +y: the near wall is at y = -sqrt(20^2 - 5^2), of a circle of 24 sides.
  CHECK(tube->place_mm[0] == Approx(500).margin(1e-3));
  CHECK(tube->place_mm[1] == Approx(-std::sqrt(375)).epsilon(0.01));
  CHECK_FALSE(pick({500, 0, 25}, {}));
  const auto inside = pick({500, 0, 5}, {FrameSection::Across::y, 0.5, false});
  REQUIRE(inside);
  CHECK(inside->place_mm[1] > 0);
  CHECK_FALSE(pick({500, 0, 5}, {FrameSection::Across::x, 0.25, true}));
  const auto weld = pick({5, 0, 0}, {});
  REQUIRE(weld);
  CHECK(weld->weld);
  CHECK(weld->id == "W1");
}

TEST_CASE("a band grows with the life used and has a shape for each answer", "[view]") {
  const FrameDrawing d = one_tube();
  const FrameMesh mesh = frame_mesh(d, plain_solids(d));
  double before = 0;
  for (const double used : {0.001, 0.03, 0.5, 1.0, 3.0}) {
    FrameLook look;
    look.used["W1"] = used;
    const FrameBands bands = frame_bands(d, mesh, look);
    REQUIRE(bands.bands.size() == 1);
    double reach = 0;
    for (const BandPoint& p : bands.points) {
      reach = std::max(reach, double{p.place[0]});
      CHECK(std::hypot(p.place[1], p.place[2]) > 19.5);  // never on the bore
      CHECK(p.shape == 0);
    }
    CHECK(reach > before);
    before = reach;
  }
  FrameLook look;
  look.used["W1"] = 3;
  look.falls_short = {"W1"};
  CHECK(frame_bands(d, mesh, look).points[0].shape == static_cast<float>(BandShape::teeth));
  look.not_covered = {"W1"};
  CHECK(frame_bands(d, mesh, look).points[0].shape == static_cast<float>(BandShape::hatched));
}

TEST_CASE("a mesh bends as a beam does", "[view]") {
  const FrameDrawing d = one_tube();
  FrameMesh mesh = frame_mesh(d, plain_solids(d));
  // A cantilever with a force at its end: 1 at the tip, which turns by 3/2 of the chord.
  FrameMotion motion{{}, {{0, 0, 0}, {0, 0, 1}}, false, {{0, 0, 0}, {0, -1.5e-3, 0}}, {}};
  for (const double x : {0.0, 250.0, 500.0, 1000.0}) {
    const double t = x / 1000;
    const Vec3 at = motion_there(d, motion, {0, static_cast<float>(t)}, {x, 0, 0});
    CHECK(at[2] == Approx((3 * t * t - t * t * t) / 2).margin(1e-9));
    const double slope = (6 * t - 3 * t * t) / 2e3;
    CHECK(motion_there(d, motion, {0, static_cast<float>(t)}, {x, 0, 20})[0] ==
          Approx(-20 * slope).margin(1e-9));
  }
  // All turned as one: every point of a rigid motion moves as the body does.
  const Vec3 turn(1e-3, 2e-3, -1e-3);
  const Vec3 end(1000, 0, 0);
  const FrameMotion rigid{{}, {{0, 0, 0}, turn.cross(end)}, false, {turn, turn}, {}};
  set_moves(mesh, d, &rigid);
  REQUIRE(mesh.moves.size() == mesh.points.size());
  double most = 0;
  for (std::size_t i = 0; i < mesh.points.size(); i += 3) {
    const Vec3 p(mesh.points[i], mesh.points[i + 1], mesh.points[i + 2]);
    most = std::max(most, (turn.cross(p) - Vec3(mesh.moves[i], mesh.moves[i + 1], mesh.moves[i + 2])).norm());
  }
  CHECK(most < 1e-4);
}

TEST_CASE("contours and cuts run where the surface turns away and where the plane meets it", "[view]") {
  const FrameDrawing d = one_tube();
  const FrameMesh mesh = frame_mesh(d, plain_solids(d));
  const std::vector<float> faded(mesh.bodies.size(), 0.F);
  std::vector<LineEnd> lines;
  add_contours(mesh, {0, 0, 1}, false, faded, lines);
  REQUIRE_FALSE(lines.empty());
  CHECK(lines.size() % 2 == 0);
  double along = 0;
  for (std::size_t i = 0; i < lines.size(); i += 2)
    along += std::abs(lines[i].place[0] - lines[i + 1].place[0]);
  CHECK(along >= 4000 - 1);  // two lines outside, two in the bore
  lines.clear();
  add_cuts(mesh, {{1, 0, 0}, 400}, 0, faded, lines);
  double round = 0;
  for (std::size_t i = 0; i < lines.size(); i += 2) {
    CHECK(lines[i].place[0] == Approx(400).margin(1e-3));
    round += std::hypot(lines[i].place[1] - lines[i + 1].place[1], lines[i].place[2] - lines[i + 1].place[2]);
  }
  CHECK(round == Approx(2 * std::numbers::pi * (20 + 18)).epsilon(0.01));
}

TEST_CASE("the rest under the payload brings stresses, end by end", "[view]") {
  const std::vector<FrameMotion> motions = frame_motions(demo(), drawn(), 3);
  REQUIRE(motions.size() > 1);
  CHECK(motions[0].stress_mpa.size() == drawn().stretches.size());
  CHECK(largest_stress_mpa(motions[0]) > 1);
  CHECK(motions[1].stress_mpa.empty());
  CHECK(motions[1].turn.size() == drawn().points.size());
  const auto& ends = motions[0].stress_mpa[0];
  CHECK(stress_there(motions[0], {0, 0.5F}) == Approx(0.5 * (ends[0] + ends[1])));
}
