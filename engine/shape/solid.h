// SPDX-License-Identifier: GPL-3.0-or-later
// The answer of the geometry kernel about one part: its quantities, and its surface as triangles for pictures.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <string>
#include <vector>

#include "engine/frame/vector.h"

namespace seamwright::shape {

/// A surface as triangles, mm, in the design's axes. Points are not shared between faces, so that each face
/// has normals of its own; edges are the lines where faces meet, each through several points.
struct Mesh {
  std::vector<float> points;             ///< x, y, z of each
  std::vector<float> normals;            ///< outward unit normal at each point; the same length
  std::vector<std::uint32_t> triangles;  ///< three indices each, seen from outside against the clock
  std::vector<std::vector<float>> edges;  ///< x, y, z along each
};

/// Volume, surface and moments of a body of density 1, mm: inertia (mm5) about its own centre, global axes.
struct Quantities {
  double volume_mm3 = 0, surface_mm2 = 0;
  frame::Vec3 centre_mm{0, 0, 0};
  Eigen::Matrix3d inertia_mm5 = Eigen::Matrix3d::Zero();
};

/// The rung of the ladder to which a body had to go down until the kernel could build it.
enum class Rung {
  exact,   ///< as planned
  shrunk,  ///< a tool was 0.05 mm smaller
  ring,    ///< of a weld: the common part of both tubes grown by the legs, in place of the fillet
  none     ///< not built: no body, mesh or quantities
};

struct Solid {
  std::string id;
  Rung rung = Rung::exact;
  Quantities quantities;
  double planned_mm3 = 0;  ///< volume by quadrature over the plan; NaN where there is none
  Mesh mesh;
};

/// All bodies of a frame: parts by the ids of their members, and the welds between them.
struct FrameSolids {
  std::vector<Solid> parts, welds;
};

}  // namespace seamwright::shape
