// SPDX-License-Identifier: GPL-3.0-or-later
// Volumes, centres, inertias and common parts of the kernel's bodies against closed forms: Archimedes' volume of
// two crossing cylinders of one radius, 16 r^3 / 3; tube, oblique cut and prism by elementary geometry; the
// common part of unequal cylinders against points of a lattice.
#include <Eigen/Geometry>
#include <cmath>

#include "tests/published/shape/worked.h"

namespace seamwright::models {

using frame::RoundTube;
using frame::SolidBar;
using shape::Cut;
using shape::HalfSpace;
using shape::Vec3;

TEST_CASE("a straight tube has the volume, surface and inertia of a hollow cylinder") {
  SOURCE(closed_form, "volume, surface and moments of inertia of a hollow cylinder", "integration of the kernel, 1e-5");
  const double outer = 20, bore = 18, length = 300;
  const shape::Built b = body_of(part({straight(RoundTube{40, 2}, {0, 0, 0}, {0, 0, length})}));
  const double volume = pi * (outer * outer - bore * bore) * length;
  CHECK(b.solid.rung == shape::Rung::exact);
  CHECK(b.solid.quantities.volume_mm3 == outside::Expected(volume).epsilon(1e-6));
  CHECK(b.solid.planned_mm3 == outside::Expected(volume).epsilon(1e-6));
  CHECK(b.solid.quantities.surface_mm2 ==
        outside::Expected(2 * pi * (outer + bore) * length + 2 * pi * (outer * outer - bore * bore)).epsilon(1e-5));
  CHECK((b.solid.quantities.centre_mm - Vec3(0, 0, length / 2)).norm() < 1e-4);
  const Eigen::Matrix3d& i = b.solid.quantities.inertia_mm5;
  CHECK(i(2, 2) == outside::Expected(volume / 2 * (outer * outer + bore * bore)).epsilon(1e-5));
  CHECK(i(0, 0) ==
        outside::Expected(volume * ((outer * outer + bore * bore) / 4 + length * length / 12)).epsilon(1e-5));
}

TEST_CASE("a bar on a bar of its own radius loses half of the volume of two crossing cylinders") {
  SOURCE(closed_form, "Archimedes, Method: two crossing cylinders of one radius share 16 r^3 / 3", "integration of the kernel, 1e-4 at a corner");
  const double r = 15, length = 100;
  const shape::Stretch chord = straight(SolidBar{2 * r}, {-60, 0, 0}, {60, 0, 0});
  const shape::Built b = body_of(part({straight(SolidBar{2 * r}, {0, 0, 0}, {0, 0, length})},
                                      {Cut{chord, "chord"}, Cut{HalfSpace{{0, 0, 0}, {0, 0, -1}}, "chord"}}));
  CHECK(b.solid.quantities.volume_mm3 == outside::Expected(pi * r * r * length - 8 * r * r * r / 3).epsilon(1e-4));
  CHECK(b.solid.planned_mm3 == outside::Expected(pi * r * r * length - 8 * r * r * r / 3).epsilon(1e-4));
}

TEST_CASE("an oblique cut leaves area times the length of the axis") {
  SOURCE(closed_form, "a prism cut obliquely: area times the length of its axis", "integration of the kernel, 1e-5");
  for (const double angle : {20.0, 45.0, 70.0}) {
    const double a = angle * pi / 180;
    const shape::Built b = body_of(part({straight(RoundTube{30, 2}, {-200, 0, 0}, {60, 0, 0})},
                                        {Cut{HalfSpace{{0, 0, 0}, {std::sin(a), 0, std::cos(a)}}, "saw"}}));
    if (15 / std::tan(a) < 60)  // the saw leaves through the end otherwise
      CHECK(b.solid.quantities.volume_mm3 == outside::Expected(pi * (15 * 15 - 13 * 13) * 200).epsilon(1e-5));
  }
}

TEST_CASE("a bent tube has the volume of its axis, and no step at the mitre") {
  SOURCE(closed_form, "a prism cut obliquely: area times the length of its axis", "integration of the kernel, 1e-5");
  const shape::Built b = body_of(part({straight(RoundTube{20, 2}, {0, 0, 0}, {100, 0, 0}),
                                       straight(RoundTube{20, 2}, {100, 0, 0}, {180, 60, 0})}));
  CHECK(b.solid.quantities.volume_mm3 == outside::Expected(pi * (100 - 64) * 200).epsilon(1e-5));
}

TEST_CASE("a fillet around a tube on a flat face is a frustum of a cone less the tube") {
  SOURCE(closed_form, "frustum of a cone: pi h (R^2 + R r + r^2) / 3", "integration of the kernel, 1e-6");
  const double r = 15, leg = 3;
  const shape::Built ring =
      body_of(shape::WeldBody{"W", shape::FilletRing{straight(RoundTube{30, 2}, {5, 6, 7}, {5, 6, 107}), leg}, {}});
  CHECK(ring.solid.rung == shape::Rung::exact);
  const double frustum = pi * leg / 3 * ((r + leg) * (r + leg) + (r + leg) * r + r * r);
  CHECK(ring.solid.quantities.volume_mm3 == outside::Expected(frustum - pi * r * r * leg).epsilon(1e-6));
  CHECK(ring.solid.quantities.centre_mm.z() > 7);  // on the tube's side of the face
  CHECK(ring.solid.quantities.centre_mm.z() < 7 + leg / 2);
}

TEST_CASE("plates have the area of their outline times their thickness") {
  SOURCE(closed_form, "areas of triangle, half circle and circular segment", "integration of the kernel, 1e-6");
  shape::Part p{"plate", "", shape::Flat{}, {}, "steel"};
  design::Plate& plate = std::get<shape::Flat>(p.body).plate;
  plate.thickness_mm = 5;
  const auto volume = [&] { return body_of(p).solid.quantities.volume_mm3; };
  plate.outline = design::triangle(60, 40);
  CHECK(volume() == outside::Expected(60.0 * 40 / 2 * 5).epsilon(1e-6));
  plate.outline = design::tongue(50, 20);
  CHECK(volume() == outside::Expected((40 * 20 + pi * 100 / 2) * 5).epsilon(1e-6));
  plate.holes = {{20, 0, 8}};
  CHECK(volume() == outside::Expected((40 * 20 + pi * 100 / 2 - pi * 16) * 5).epsilon(1e-6));
  plate.holes.clear();
  // A circular segment over the long side of 50 (30 by 40) with R = 50: R^2/2 (a - sin a), sin(a/2) = 1/2.
  plate.outline = design::dished(30, 40, 50);
  CHECK(volume() == outside::Expected((600 - 1250 * (pi / 3 - std::sqrt(3) / 2)) * 5).epsilon(1e-6));
}

TEST_CASE("other sections are as large as their handbook area") {
  SOURCE(closed_form, "areas of rectangle and circle", "integration of the kernel, 1e-6");
  const auto volume = [](const frame::Section& s) {
    return body_of(part({straight(s, {0, 0, 0}, {100, 0, 0})})).solid.quantities.volume_mm3;
  };
  CHECK(volume(frame::RectangularTube{40, 20, 2, 0}) == outside::Expected((40 * 20 - 36 * 16) * 100.0).epsilon(1e-6));
  const double round_corners = (4 - pi) * (9 - 1);  // of radius 3 outside and 1 inside
  CHECK(volume(frame::RectangularTube{40, 20, 2, 3}) ==
        outside::Expected((40 * 20 - 36 * 16 - round_corners) * 100.0).epsilon(1e-6));
  CHECK(volume(frame::FlatOvalTube{40, 20, 2}) ==
        outside::Expected((20 * 20 + pi * 100 - 20 * 16 - pi * 64) * 100.0).epsilon(1e-6));
  CHECK(volume(frame::PlateStrip{30, 4}) == outside::Expected(30 * 4 * 100.0).epsilon(1e-6));
}

TEST_CASE("two crossing bars share 16 r^3 / 3, and unequal ones what a lattice of points finds") {
  SOURCE(closed_form, "Archimedes, Method: 16 r^3 / 3; a lattice of lines 0.25 mm apart", "1e-4; 2e-3 of the lattice");
  const auto bar = [](double radius, const Vec3& from, const Vec3& to) {
    return body_of(part({straight(SolidBar{2 * radius}, from, to)})).body;
  };
  const shape::Body a = bar(15, {-60, 0, 0}, {60, 0, 0});
  const auto equal = std::get<shape::Common>(worked(CommonTask{a, bar(15, {0, -60, 0}, {0, 60, 0})}));
  CHECK(equal.volume_mm3 == outside::Expected(16 * 15 * 15 * 15 / 3.0).epsilon(1e-4));
  CHECK(equal.centre_mm.norm() < 0.01);
  const Vec3 from(-20, -50, 6), to(20, 50, 10);
  const auto common = std::get<shape::Common>(worked(CommonTask{a, bar(9, from, to)}));
  const shape::Stretch one = straight(SolidBar{30}, {-60, 0, 0}, {60, 0, 0}), two = straight(SolidBar{18}, from, to);
  double sampled = 0;
  const double step = 0.25;
  for (double x = -20; x < 20; x += step)
    for (double y = -16; y < 16; y += step) {
      const shape::Line line{{x + step / 2, y + step / 2, 0}, {0, 0, 1}};
      const shape::Interval i = shape::inside(line, one), j = shape::inside(line, two);
      sampled += std::max(0.0, std::min(i.to_mm, j.to_mm) - std::max(i.from_mm, j.from_mm)) * step * step;
    }
  CHECK(common.volume_mm3 == outside::Expected(sampled).epsilon(2e-3));
  CHECK(common.depth_mm > 10);
  const auto apart = std::get<shape::Common>(worked(CommonTask{a, bar(5, {-20, -50, 30}, {20, 50, 30})}));
  CHECK(apart.volume_mm3 == 0);
}

TEST_CASE("the swept fillet of a tee on a wide chord is nearly a ring around the brace") {
  SOURCE(closed_form, "Pappus: area times the way of the centroid", "the chord is flat to 2e-3");
  // On a chord so wide that it is flat, Pappus: the triangle's area times the way of its centroid.
  const double leg = 3, r = 15;
  shape::WeldBody w{"w",
                    shape::FilletAround{straight(RoundTube{2 * r, 2}, {0, 0, 0}, {0, 0, 5200}),
                                        straight(RoundTube{10000, 3}, {-500, 0, 0}, {500, 0, 0}),
                                        {-1, 0, 0}, leg, leg},
                    {}};
  const shape::Built b = body_of(w);
  CHECK(b.solid.rung == shape::Rung::exact);
  CHECK(b.solid.quantities.volume_mm3 == outside::Expected(leg * leg / 2 * 2 * pi * (r + leg / 3)).epsilon(2e-3));
}

TEST_CASE("a fillet where the brace is as wide as its chord is built lower on the ladder and says so") {
  SOURCE(ours, "", "");
  const shape::WeldBody w{"w",
                          shape::FilletAround{straight(RoundTube{40, 2}, {0, 0, 0}, {0, 0, 100}),
                                              straight(RoundTube{39, 2}, {-100, 0, 0}, {100, 0, 0}),
                                              {-1, 0, 0}, 3, 4},
                          {}};
  const shape::Built b = body_of(w);
  CHECK(b.solid.rung == shape::Rung::ring);
  CHECK(b.solid.quantities.volume_mm3 > 0);
}

TEST_CASE("what cannot be built is told within its time and takes nothing with it") {
  SOURCE(ours, "", "");
  WorkerClient client(SEAMWRIGHT_WORKER_PROGRAM, {std::chrono::milliseconds(30000), 1});
  const shape::Stretch zero{RoundTube{30, 2}, {0, 0, 0}, {0, 0, 0}, {1, 0, 0}};
  const shape::Stretch thick = straight(RoundTube{30, 20}, {0, 0, 0}, {100, 0, 0});
  const shape::Stretch twin = straight(RoundTube{30, 2}, {0, 0, 0}, {100, 0, 0});
  const shape::Stretch grazing = straight(RoundTube{30, 2}, {0, 0, 0}, {300, 26, 0});  // five degrees
  const double none = std::nan("");
  const std::vector<Answer> answers =
      client.work({part({zero}), part({thick}), part({twin}, {Cut{twin, "twin"}}), part({grazing}, {Cut{twin, "twin"}}),
                   part({straight(RoundTube{30, 2}, {0, 0, 0}, {none, 0, 0})}), part({twin})},
                  {});
  for (std::size_t i : {0U, 2U, 4U}) {
    const auto* b = std::get_if<shape::Built>(&answers[i]);
    CHECK((!b || b->body.empty()));
    if (b) CHECK_FALSE(b->why.empty());
  }
  CHECK(std::get<shape::Built>(answers[3]).solid.quantities.volume_mm3 > 0);
  CHECK(std::get<shape::Built>(answers[5]).solid.quantities.volume_mm3 == outside::Expected(pi * (225 - 169) * 100).epsilon(1e-5));
}

TEST_CASE("the same task gives the same bytes") {
  SOURCE(ours, "", "");
  const shape::Part p = part({straight(RoundTube{25, 2}, {0, 0, 0}, {0, 100, 170})},
                             {Cut{straight(RoundTube{40, 2}, {-100, 0, 0}, {100, 0, 0}), "chord"}});
  CHECK(bytes_of(worked(p)) == bytes_of(worked(p)));
}

}  // namespace seamwright::models
