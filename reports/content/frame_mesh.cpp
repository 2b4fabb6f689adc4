// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_mesh.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

namespace seamwright::reports {

namespace {

using frame::Vec3;

Vec3 triple(const std::vector<float>& all, std::size_t i) {
  return {all[3 * i], all[3 * i + 1], all[3 * i + 2]};
}

void add_body(const FrameDrawing& drawing, const shape::Solid& given, bool weld, const std::string& member,
              FrameMesh& mesh) {
  FrameMesh::Body body;
  body.id = given.id;
  body.weld = weld;
  body.first_point = mesh.points.size() / 3;
  body.points = given.mesh.points.size() / 3;
  body.first_triangle = mesh.triangles.size() / 3;
  body.triangles = given.mesh.triangles.size() / 3;
  body.first_edge = mesh.edges.size() / 6;
  mesh.points.insert(mesh.points.end(), given.mesh.points.begin(), given.mesh.points.end());
  mesh.normals.insert(mesh.normals.end(), given.mesh.normals.begin(), given.mesh.normals.end());
  for (const std::uint32_t i : given.mesh.triangles)
    mesh.triangles.push_back(static_cast<std::uint32_t>(body.first_point) + i);
  for (const auto& line : given.mesh.edges)
    for (std::size_t i = 3; i + 2 < line.size(); i += 3)
      mesh.edges.insert(mesh.edges.end(), line.begin() + static_cast<std::ptrdiff_t>(i - 3),
                        line.begin() + static_cast<std::ptrdiff_t>(i + 3));
  body.edges = mesh.edges.size() / 6 - body.first_edge;
  body.least = Eigen::Vector3f::Constant(1e30F);
  body.most = -body.least;
  const std::vector<std::size_t> stretches = stretches_of(drawing, member);
  for (std::size_t i = 0; i < body.points; ++i) {
    const Vec3 p = triple(given.mesh.points, i);
    body.least = body.least.cwiseMin(p.cast<float>());
    body.most = body.most.cwiseMax(p.cast<float>());
    mesh.places.push_back(axis_place(drawing, stretches, p));
  }
  for (std::size_t i = 2 * body.first_edge; i < mesh.edges.size() / 3; ++i)
    mesh.edge_places.push_back(axis_place(drawing, stretches, triple(mesh.edges, i)));
  mesh.bodies.push_back(std::move(body));
}

std::vector<float> moves_of(const FrameDrawing& drawing, const FrameMotion& motion,
                            const std::vector<float>& points, const std::vector<AxisPlace>& places) {
  std::vector<float> moves;
  moves.reserve(points.size());
  for (std::size_t i = 0; i < places.size(); ++i) {
    const Vec3 move = motion_there(drawing, motion, places[i], triple(points, i));
    for (int k = 0; k < 3; ++k) moves.push_back(static_cast<float>(move[k]));
  }
  return moves;
}

// A place between two points of the mesh.
LineEnd between(const FrameMesh& mesh, std::size_t a, std::size_t b, float share, float faded) {
  LineEnd end{{}, {}, faded};
  for (std::size_t k = 0; k < 3; ++k) {
    end.place[k] = mesh.points[3 * a + k] + share * (mesh.points[3 * b + k] - mesh.points[3 * a + k]);
    end.move[k] = mesh.moves.empty()
                      ? 0
                      : mesh.moves[3 * a + k] + share * (mesh.moves[3 * b + k] - mesh.moves[3 * a + k]);
  }
  return end;
}

// In every triangle the line on which a value, linear between its corners, is nought.
void add_zero_lines(const FrameMesh& mesh, const std::vector<float>& value, bool welds,
                    const std::vector<float>& faded, std::vector<LineEnd>& lines) {
  for (std::size_t b = 0; b < mesh.bodies.size(); ++b) {
    const FrameMesh::Body& body = mesh.bodies[b];
    if (body.weld && !welds) continue;
    const std::uint32_t* corner = mesh.triangles.data() + 3 * body.first_triangle;
    for (std::size_t i = 0; i < body.triangles; ++i, corner += 3) {
      const bool high[] = {value[corner[0]] > 0, value[corner[1]] > 0, value[corner[2]] > 0};
      if (high[0] == high[1] && high[1] == high[2]) continue;
      for (int k = 0; k < 3; ++k) {
        const int next = (k + 1) % 3;
        if (high[k] == high[next]) continue;
        const float from = value[corner[k]], to = value[corner[next]];
        lines.push_back(between(mesh, corner[k], corner[next], from / (from - to), faded[b]));
      }
    }
  }
}

}  // namespace

FrameMesh frame_mesh(const FrameDrawing& drawing, const shape::FrameSolids& solids) {
  FrameMesh mesh;
  std::map<std::string, std::string> member_of;
  for (const auto& flag : drawing.flags) member_of[flag.id] = flag.member;
  const auto add = [&](const shape::Solid& given, bool weld, const std::string& member) {
    const bool sound = given.rung != shape::Rung::none && !given.mesh.triangles.empty() &&
                       given.mesh.normals.size() == given.mesh.points.size();
    if (sound && !drawing.stretches.empty()) add_body(drawing, given, weld, member, mesh);
  };
  for (const shape::Solid& given : solids.parts) add(given, false, given.id);
  for (const shape::Solid& given : solids.welds) add(given, true, member_of[given.id]);
  return mesh;
}

void set_moves(FrameMesh& mesh, const FrameDrawing& drawing, const FrameMotion* motion) {
  mesh.moves.clear();
  mesh.edge_moves.clear();
  if (!motion || motion->at.size() != drawing.points.size()) return;
  mesh.moves = moves_of(drawing, *motion, mesh.points, mesh.places);
  mesh.edge_moves = moves_of(drawing, *motion, mesh.edges, mesh.edge_places);
}

AxisPlace axis_place(const FrameDrawing& drawing, const std::vector<std::size_t>& stretches, const Vec3& p) {
  AxisPlace found;
  double least = 1e300;
  for (const std::size_t i : stretches) {
    const Vec3& from = drawing.points[drawing.stretches[i].from].at_mm;
    const Vec3 along = drawing.points[drawing.stretches[i].to].at_mm - from;
    const double t = std::clamp(along.dot(p - from) / std::max(1e-12, along.squaredNorm()), 0.0, 1.0);
    const double distance = (p - from - t * along).squaredNorm();
    if (distance < least) {
      least = distance;
      found = {static_cast<std::uint32_t>(i), static_cast<float>(t)};
    }
  }
  return found;
}

std::vector<std::size_t> stretches_of(const FrameDrawing& drawing, const std::string& member) {
  std::vector<std::size_t> own, all;
  for (std::size_t i = 0; i < drawing.stretches.size(); ++i) {
    all.push_back(i);
    if (drawing.stretches[i].member == member) own.push_back(i);
  }
  return own.empty() ? all : own;
}

Vec3 motion_there(const FrameDrawing& drawing, const FrameMotion& motion, const AxisPlace& axis,
                  const Vec3& place_mm) {
  const auto& s = drawing.stretches[axis.stretch];
  const Vec3& from = drawing.points[s.from].at_mm;
  const Vec3 chord = drawing.points[s.to].at_mm - from;
  const double length = std::max(1e-9, chord.norm()), t = axis.along;
  const Vec3 along = chord / length;
  const Vec3 &u0 = motion.at[s.from], &u1 = motion.at[s.to];
  const bool beam = !s.axial_only && motion.turn.size() == motion.at.size();
  // A link stays straight; a beam leaves its nodes as they turn.
  const Vec3 chord_turn = along.cross((u1 - u0) / length);
  const Vec3 turn0 = beam ? motion.turn[s.from] : chord_turn, turn1 = beam ? motion.turn[s.to] : chord_turn;
  const Vec3 slope0 = turn0.cross(along), slope1 = turn1.cross(along);
  const Vec3 across = (1 - 3 * t * t + 2 * t * t * t) * u0 + (3 * t * t - 2 * t * t * t) * u1 +
                      length * ((t - 2 * t * t + t * t * t) * slope0 + (t * t * t - t * t) * slope1);
  const Vec3 moved = across + along * (along.dot((1 - t) * u0 + t * u1) - along.dot(across));
  const Vec3 slope = (6 * t - 6 * t * t) / length * (u1 - u0) + (1 - 4 * t + 3 * t * t) * slope0 +
                     (3 * t * t - 2 * t) * slope1;
  const Vec3 turned = along.cross(slope) + along.dot((1 - t) * turn0 + t * turn1) * along;
  return moved + turned.cross(place_mm - from - t * chord);
}

double stress_there(const FrameMotion& rest, const AxisPlace& axis) {
  if (axis.stretch >= rest.stress_mpa.size()) return 0;
  const auto& ends = rest.stress_mpa[axis.stretch];
  return ends[0] + axis.along * (ends[1] - ends[0]);
}

double largest_stress_mpa(const FrameMotion& rest) {
  double largest = 0;
  for (const auto& ends : rest.stress_mpa) largest = std::max({largest, ends[0], ends[1]});
  return largest;
}

std::set<std::string> members_at(const FrameDrawing& drawing, const std::string& flag) {
  std::set<std::string> members;
  for (const auto& f : drawing.flags) {
    if (f.id != flag) continue;
    for (const auto& s : drawing.stretches)
      for (const std::size_t end : {s.from, s.to})
        if ((drawing.points[end].at_mm - drawing.points[f.point].at_mm).norm() < 1e-6)
          members.insert(s.member);
  }
  return members;
}

void add_contours(const FrameMesh& mesh, const Vec3& towards, bool welds, const std::vector<float>& faded,
                  std::vector<LineEnd>& lines) {
  const Eigen::Vector3f seen = towards.cast<float>();
  std::vector<float> facing(mesh.points.size() / 3);
  Eigen::Map<Eigen::RowVectorXf>(facing.data(), static_cast<Eigen::Index>(facing.size())) =
      seen.transpose() *
      Eigen::Map<const Eigen::Matrix3Xf>(mesh.normals.data(), 3, static_cast<Eigen::Index>(facing.size()));
  add_zero_lines(mesh, facing, welds, faded, lines);
}

void add_cuts(const FrameMesh& mesh, const HalfSpace& kept, double scale, const std::vector<float>& faded,
              std::vector<LineEnd>& lines) {
  std::vector<float> beyond(mesh.points.size() / 3);
  for (std::size_t i = 0; i < beyond.size(); ++i) {
    Vec3 p = triple(mesh.points, i);
    if (!mesh.moves.empty()) p += scale * triple(mesh.moves, i);
    beyond[i] = static_cast<float>(kept.normal.dot(p) - kept.offset_mm);
  }
  add_zero_lines(mesh, beyond, true, faded, lines);
}

}  // namespace seamwright::reports
