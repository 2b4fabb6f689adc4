// SPDX-License-Identifier: GPL-3.0-or-later
// Hinges and supports as exact linear relations: full = expand * reduced.
#pragma once

#include "engine/frame/assembly.h"
#include "engine/frame/bodies.h"

namespace seamwright::frame {

/// A hinge between node indices; the axis has unit length.
struct HingeRelation {
  std::string id;
  std::size_t first = 0, second = 0;
  Eigen::Vector3d axis{0, 0, 1};
};

/// The relations are made from these.
struct Relations {
  std::size_t nodes = 0;
  Eigen::Index sprung = 0;                 ///< own degrees of freedom after the nodes'
  std::vector<HingeRelation> hinges;       ///< a node is second of at most one
  std::vector<std::array<bool, 6>> fixed;  ///< per node
  std::vector<bool> turned;  ///< per node: something has stiffness or inertia against its rotation
};

/// Sets expand, held, held_dofs and hinges of the assembly. A node whose rotation nothing resists or follows
/// (only axial-only members meet there) keeps none. Throws Fault "frame.hinge-cycle".
void constrain(Assembly& assembly, const Relations& relations);

}  // namespace seamwright::frame
