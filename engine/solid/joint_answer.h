// SPDX-License-Identifier: GPL-3.0-or-later
// A joint's model says this: stiffness of its ends, and stress around its seams as rows over the forces at its ends.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "engine/shape/solid.h"
#include "engine/solid/joint_task.h"
#include "engine/solid/slit_tip.h"
#include "engine/solid/supported_body.h"
#include "engine/solid/tet_mesh.h"

namespace seamwright::solid {

inline constexpr int places_around = 16;

/// Stress on a surface at a toe, in its plane, as rows over the unit loads, MPa: square to the weld, along it, and shear.
struct SurfaceStress {
  Eigen::RowVectorXd normal, along, shear;
};
/// A toe at one angle. Where neighbours cover it, or its surface ends before the points to be read, it is not there. Within a wall of a
/// neighbour's weld metal, whose own toe runs into it, nothing can be read off the surface: then it has no readings.
struct Toe {
  bool is_there = false;
  std::vector<SurfaceStress> readings;  ///< as the seam's readings, or none
};

struct SeamAnswer {
  std::string weld;
  std::vector<std::vector<SectionStress>> sections;  ///< as section_kinds, each at places_around angles; empty: not to be cut there
  std::vector<Toe> brace_toes, chord_toes;
  std::vector<SlitTip> slit;  ///< at places_around angles; empty where the root is fused
  double mesh_error = 0;   ///< around the seam, by the mesh: see mesh_error.h
};

/// Columns and rows: unit forces and moments at the ends from the second on, then at the seats, six each, in the task's axes.
struct JointAnswer {
  Eigen::MatrixXd flexibility;
  std::vector<SeamAnswer> seams;
  std::vector<shape::Rung> welds;
  double volume_mm3 = 0, planned_mm3 = 0;  ///< of the mesh, and of the bodies as planned
  double residual = 0, reaction = 0;       ///< see UnitAnswers
  double unknowns = 0;
};

/// A mesh with what its pieces are.
struct MeshedJoint {
  TetMesh mesh;
  std::vector<int> part_of, seam_of;  ///< of each piece: its part or -1, its seam or -1; both where a brace's end is fused: of the brace and weld metal
  std::vector<shape::Rung> welds;
  double planned_mm3 = 0;
};

/// Takes the tubes apart where nothing holds them: roots that are not fused.
void open_roots(const JointTask& task, MeshedJoint& joint);

/// The nodes of an end's part in its plane. Throws std::runtime_error where there are hardly any.
RigidEnd rigid_end(const JointTask& task, const MeshedJoint& joint, const End& end);

/// Stress around every seam, from the nodes' motions alone: rows over the answers' columns.
std::vector<SeamAnswer> seam_answers(const JointTask& task, const MeshedJoint& joint, const SupportedBody& body, const UnitAnswers& answers);

/// Throws std::runtime_error with the reason: what unit_answers() throws, an end without a face, a weld that does not hold
/// all around (joined_legs.h), a volume off by more than a hundredth.
JointAnswer joint_answer(const JointTask& task, MeshedJoint joint, const Solver& solver);

}  // namespace seamwright::solid
