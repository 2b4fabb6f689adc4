// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/plain_solids.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

namespace seamwright::reports {

namespace {

using frame::Vec3;

constexpr int sides = 24, bead_sides = 4;
constexpr double bead_share = 0.07;  // of the tube's diameter

// Puts a point and its normal, and gives its number.
std::uint32_t add_point(shape::Mesh& mesh, const Vec3& p, const Vec3& normal) {
  for (int k = 0; k < 3; ++k) {
    mesh.points.push_back(static_cast<float>(p[k]));
    mesh.normals.push_back(static_cast<float>(normal[k]));
  }
  return static_cast<std::uint32_t>(mesh.points.size() / 3 - 1);
}

void add_triangle(shape::Mesh& mesh, std::uint32_t a, std::uint32_t b, std::uint32_t c) {
  mesh.triangles.insert(mesh.triangles.end(), {a, b, c});
}

using Ring = std::vector<Vec3>;

// A strip between two rings of as many points, around against the clock seen against `along`; outward or
// inward.
void add_wall(shape::Mesh& mesh, const Ring& from, const Ring& to, const Vec3& axis_from, const Vec3& along,
              bool outward) {
  const auto normal_at = [&](const Vec3& p) {
    const Vec3 r = p - axis_from;
    const Vec3 out = (r - along.dot(r) * along).normalized();
    return outward ? out : Vec3(-out);
  };
  const auto first = static_cast<std::uint32_t>(mesh.points.size() / 3);
  for (std::size_t i = 0; i < from.size(); ++i) {
    add_point(mesh, from[i], normal_at(from[i]));
    add_point(mesh, to[i], normal_at(to[i]));
  }
  const auto count = static_cast<std::uint32_t>(from.size());
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint32_t a = first + 2 * i, b = first + 2 * ((i + 1) % count);
    if (outward) {
      add_triangle(mesh, a, b, b + 1);
      add_triangle(mesh, a, b + 1, a + 1);
    } else {
      add_triangle(mesh, a, b + 1, b);
      add_triangle(mesh, a, a + 1, b + 1);
    }
  }
}

void add_edge(shape::Mesh& mesh, const Ring& ring) {
  std::vector<float> line;
  for (std::size_t i = 0; i <= ring.size(); ++i)
    for (int k = 0; k < 3; ++k) line.push_back(static_cast<float>(ring[i % ring.size()][k]));
  mesh.edges.push_back(std::move(line));
}

// The flat end between outer and inner ring; a closed disc without an inner one.
void add_end(shape::Mesh& mesh, const Ring& outer, const Ring& inner, const Vec3& outward, bool at_start) {
  const auto count = static_cast<std::uint32_t>(outer.size());
  const auto first = static_cast<std::uint32_t>(mesh.points.size() / 3);
  for (std::size_t i = 0; i < outer.size(); ++i) {
    add_point(mesh, outer[i], outward);
    add_point(mesh, inner[i], outward);
  }
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint32_t a = first + 2 * i, b = first + 2 * ((i + 1) % count);
    if (at_start) {
      add_triangle(mesh, a, a + 1, b + 1);
      add_triangle(mesh, a, b + 1, b);
    } else {
      add_triangle(mesh, a, b + 1, a + 1);
      add_triangle(mesh, a, b, b + 1);
    }
  }
  add_edge(mesh, outer);
}

Ring circle(const Vec3& centre, const Vec3& along, double radius_mm) {
  const Vec3 u = along.unitOrthogonal(), v = along.cross(u);
  Ring ring;
  for (int i = 0; i < sides; ++i) {
    const double a = 2 * std::numbers::pi * i / sides;
    ring.push_back(centre + radius_mm * (std::cos(a) * u + std::sin(a) * v));
  }
  return ring;
}

// The ring goes on along the tube to a plane through a point.
Ring carried(Ring ring, const Vec3& along, const Vec3& point, const Vec3& plane) {
  for (Vec3& p : ring) p += plane.dot(point - p) / plane.dot(along) * along;
  return ring;
}

struct Run {
  std::vector<Vec3> nodes;
  double radius_mm = 0, bore_mm = 0;
};

// Bends meet in the plane that halves them; a fold back on itself ends square.
shape::Mesh tube_mesh(const Run& run) {
  shape::Mesh mesh;
  std::vector<Vec3> along;
  for (std::size_t i = 0; i + 1 < run.nodes.size(); ++i)
    along.push_back((run.nodes[i + 1] - run.nodes[i]).normalized());
  Ring outer = circle(run.nodes[0], along[0], run.radius_mm),
       inner = circle(run.nodes[0], along[0], run.bore_mm);
  add_end(mesh, outer, inner, -along[0], true);
  for (std::size_t i = 0; i < along.size(); ++i) {
    Vec3 plane = along[i];
    if (i + 1 < along.size() && along[i].dot(along[i + 1]) > -0.5) plane = along[i] + along[i + 1];
    const Ring next_outer = carried(outer, along[i], run.nodes[i + 1], plane),
               next_inner = carried(inner, along[i], run.nodes[i + 1], plane);
    add_wall(mesh, outer, next_outer, run.nodes[i], along[i], true);
    if (run.bore_mm > 0) add_wall(mesh, inner, next_inner, run.nodes[i], along[i], false);
    outer = next_outer;
    inner = next_inner;
  }
  add_end(mesh, outer, inner, along.back(), false);
  return mesh;
}

shape::Mesh bead_mesh(const FrameDrawing::Flag& flag) {
  shape::Mesh mesh;
  const double around = 0.5 * flag.diameter_mm, thick = bead_share * flag.diameter_mm;
  const Vec3 u = flag.along.unitOrthogonal(), v = flag.along.cross(u);
  for (int i = 0; i < sides; ++i) {
    const double a = 2 * std::numbers::pi * i / sides;
    const Vec3 radial = std::cos(a) * u + std::sin(a) * v;
    for (int k = 0; k < bead_sides; ++k) {
      const double b = 2 * std::numbers::pi * k / bead_sides;
      const Vec3 normal = std::cos(b) * radial + std::sin(b) * flag.along;
      add_point(mesh, flag.at_mm + around * radial + thick * normal, normal);
    }
  }
  for (int i = 0; i < sides; ++i)
    for (int k = 0; k < bead_sides; ++k) {
      const auto index = [](int ring, int side) {
        return static_cast<std::uint32_t>((ring % sides) * bead_sides + side % bead_sides);
      };
      add_triangle(mesh, index(i, k), index(i + 1, k), index(i + 1, k + 1));
      add_triangle(mesh, index(i, k), index(i + 1, k + 1), index(i, k + 1));
    }
  return mesh;
}

}  // namespace

shape::FrameSolids plain_solids(const FrameDrawing& drawing) {
  shape::FrameSolids solids;
  const auto& all = drawing.stretches;
  for (std::size_t i = 0; i < all.size();) {
    Run run{{drawing.points[all[i].from].at_mm}, 0.5 * all[i].diameter_mm, 0.5 * all[i].bore_mm};
    const std::size_t first = i;
    for (; i < all.size() && all[i].member == all[first].member; ++i)
      if ((drawing.points[all[i].to].at_mm - run.nodes.back()).norm() > 1e-6)
        run.nodes.push_back(drawing.points[all[i].to].at_mm);
    if (run.nodes.size() < 2) continue;
    shape::Solid tube;
    tube.id = all[first].member;
    tube.mesh = tube_mesh(run);
    solids.parts.push_back(std::move(tube));
  }
  for (const auto& flag : drawing.flags) {
    shape::Solid bead;
    bead.id = flag.id;
    bead.rung = shape::Rung::ring;
    bead.mesh = bead_mesh(flag);
    solids.welds.push_back(std::move(bead));
  }
  return solids;
}

}  // namespace seamwright::reports
