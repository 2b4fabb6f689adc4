// SPDX-License-Identifier: GPL-3.0-or-later
// All bodies of a frame in few arrays, as a graphics card takes them: triangles, edges, what moves and how
// much a place is stressed; and the lines that depend on where one looks from.
#pragma once

#include <cstdint>
#include <set>
#include <string>
#include <vector>

#include "engine/shape/solid.h"
#include "reports/content/frame_camera.h"

namespace seamwright::reports {

/// A point of a body belongs to this place along the frame's axes.
struct AxisPlace {
  std::uint32_t stretch = 0;
  float along = 0;  ///< 0 at its start, 1 at its end
};

struct FrameMesh {
  struct Body {
    std::string id;
    bool weld = false;
    std::size_t first_point = 0, points = 0;        ///< in points and normals, three numbers each
    std::size_t first_triangle = 0, triangles = 0;  ///< in triangles, three indices each
    std::size_t first_edge = 0, edges = 0;          ///< in edges, two points each
    Eigen::Vector3f least{0, 0, 0}, most{0, 0, 0};
  };
  std::vector<Body> bodies;
  std::vector<float> points, normals;
  std::vector<std::uint32_t> triangles;
  std::vector<float> edges;  ///< single stretches of lines, from and to
  std::vector<AxisPlace> places, edge_places;
  /// Each point moves so for a unit of the motion shown; empty for the frame as drawn.
  std::vector<float> moves, edge_moves;
};
/// Bodies that were not built are left out.
FrameMesh frame_mesh(const FrameDrawing& drawing, const shape::FrameSolids& solids);
/// Bends the mesh as beams bend between their nodes; null: as drawn.
void set_moves(FrameMesh& mesh, const FrameDrawing& drawing, const FrameMotion* motion);

/// The stretches of a member; all of them for a name that no member has.
std::vector<std::size_t> stretches_of(const FrameDrawing& drawing, const std::string& member);
/// The nearest place on the axes of some stretches.
AxisPlace axis_place(const FrameDrawing& drawing, const std::vector<std::size_t>& stretches,
                     const frame::Vec3& place_mm);
/// The motion of a place that is fixed to an axis there.
frame::Vec3 motion_there(const FrameDrawing& drawing, const FrameMotion& motion, const AxisPlace& axis,
                         const frame::Vec3& place_mm);
/// Stress there; between the ends as a line.
double stress_there(const FrameMotion& rest, const AxisPlace& axis);
double largest_stress_mpa(const FrameMotion& rest);

/// Members that meet at a flag's joint.
std::set<std::string> members_at(const FrameDrawing& drawing, const std::string& flag);

/// One end of a line: where, how it moves, and how far it has faded (0..1).
struct LineEnd {
  float place[3], move[3], faded;
};
/// Contours, the lines on which surfaces turn away from the viewer, as pairs of ends; `faded` has one number
/// for each body. Welds go without, where they are too small for lines of their own.
void add_contours(const FrameMesh& mesh, const frame::Vec3& towards, bool welds,
                  const std::vector<float>& faded, std::vector<LineEnd>& lines);
/// The lines in which a section cuts the surfaces of the frame moved by so much.
void add_cuts(const FrameMesh& mesh, const HalfSpace& kept, double scale, const std::vector<float>& faded,
              std::vector<LineEnd>& lines);

}  // namespace seamwright::reports
