// SPDX-License-Identifier: GPL-3.0-or-later
// The frame as drawn becomes matrices: Timoshenko beams (Przemieniecki, Theory of Matrix Structural Analysis,
// 1968), rigid arms, hinges as exact constraints, tyres as springs. Small displacements; joints rigid;
// warping of open or flat sections ignored. Inside: N, mm, s, tonne, MPa; the one place of conversion is
// assembly.cpp.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <map>
#include <string>
#include <vector>

#include "engine/frame/frame.h"

namespace seamwright::frame {

using Matrix12 = Eigen::Matrix<double, 12, 12>;
using Vector12 = Eigen::Matrix<double, 12, 1>;
using SparseMatrix = Eigen::SparseMatrix<double>;

/// One beam element: Timoshenko, 12 degrees of freedom, rigid arms at both ends. A segment that lies within a joint's body has its
/// place in the list and no stiffness.
struct Element {
  std::string id;  ///< member id, or "ID/k" of a member through several nodes
  std::size_t member = 0;
  std::size_t first = 0, second = 0;  ///< node indices
  Eigen::Matrix3d axes;               ///< rows: local x, y, z in global axes
  double length_mm = 0;               ///< of the flexible part
  SectionProperties section;
  Matrix12 stiffness;  ///< local axes, at the flexible ends
  bool within_body = false;
  /// The flexible part begins and ends here; so much of the beam lies in a joint's body before and after it.
  Vec3 begins_mm{0, 0, 0}, ends_mm{0, 0, 0};
  double before_mm = 0, after_mm = 0;
  Matrix12 to_local;   ///< global node displacements -> local displacements of the flexible ends
};

enum class Footing {
  tyres,  ///< wheels as springs to ground; motion along x is free (Statics holds it and reports the reaction)
  supports,  ///< the frame's supports
  nothing    ///< free frame
};

/// One hinge's rotation phi of the second node against the first about the axis.
struct HingeColumn {
  std::string id;
  Eigen::Index column = 0;  ///< of expand
};

/// The forces that a joint's body takes, in its own axes: rows of the section forces from here on, ends first, then nodes.
struct BodyForces {
  Eigen::Index first_row = 0;
  std::vector<std::size_t> nodes;  ///< of its ends, then those within
  Eigen::MatrixXd from_motion;     ///< rows x 6 nodes, global displacements
};

/// Full degrees of freedom are 6 per node (ux uy uz rx ry rz; mm, rad), then one per sprung direction (its
/// absolute displacement along its axis, mm). Hinges and supports are imposed exactly: full = expand *
/// reduced.
struct Assembly {
  Footing on = Footing::nothing;
  std::vector<Element> elements;
  std::vector<BodyForces> bodies;
  std::map<std::string, std::size_t> node_index;
  std::vector<std::string> node_ids;
  std::vector<std::string> wheel_ids;    ///< Footing::tyres only, in the frame's order
  std::vector<std::size_t> wheel_nodes;  ///< Footing::tyres only
  std::vector<HingeColumn> hinges;
  double extent_mm = 0;  ///< diagonal of the box around all nodes
  Eigen::Index full_size = 0;
  SparseMatrix expand;                  ///< full x reduced
  SparseMatrix held;                    ///< full x supported directions; their motion is zero
  std::vector<Eigen::Index> held_dofs;  ///< full index of each supported direction
  SparseMatrix stiffness, mass,
      damping;  ///< full x full: N/mm, tonne, N s/mm (damping: tyres, dampers, sprung masses)
  SparseMatrix
      dampers;  ///< full x dampers: a unit force of each; damping is the sum of rate * column column'
  Eigen::VectorXd rise;  ///< full: motion when everything rises by 1 mm
  Eigen::MatrixXd
      tyre_radial;  ///< full x wheels: vertical direction at each contact point (unit ground motion b)
  Eigen::VectorXd tyre_stiffness, tyre_damping;  ///< N/mm, N s/mm per wheel
};

/// Builds the matrices. Footing::supports leaves the wheels out, Footing::tyres the supports. A member's
/// rigid cuts run inside the other tube, where nothing of the member is: they have no mass. Nodes held by
/// axial-only members alone keep no rotation. Throws Fault:
///   frame.empty, frame.too-large, frame.no-id, frame.duplicate-id, frame.unknown-node / -tube / -material,
///   frame.bad-number (NaN, infinite, negative or absurd), section.impossible;
///   frame.short-member, frame.zero-length, frame.cut-too-long, frame.up-along-axis, frame.offset-on-loop for
///   members; frame.doubled-node, frame.unused-node, frame.loose-part for the whole; frame.hinge-apart,
///   frame.hinge-axis, frame.hinge-twice, frame.hinge-cycle, frame.support-on-hinge; frame.damper-length,
///   frame.mass-carriers, frame.repeated-node, frame.sprung-axes; frame.no-wheel (Footing::tyres).
Assembly assemble(const Frame& frame, Footing on);

/// Weight of all masses and members in the direction of -z, as full nodal forces (N, N mm), for 1 g = 9.80665
/// m/s2.
Eigen::VectorXd gravity_load(const Assembly& assembly);
/// Loads of a named case, its gravity_factor times gravity_load among them. Throws Fault
/// "frame.unknown-node", "frame.bad-number", or "frame.load-on-nothing" for a moment on a node that only
/// axial-only members meet.
Eigen::VectorXd case_load(const Assembly& assembly, const LoadCase& load_case);

/// Section forces of an element for full displacements u: rows N, Vy, Vz, T, My, Mz at the start, then at the
/// end of the flexible part. Sign: forces on the face whose outward normal is +x (local), N positive in
/// tension. N, N mm. They are the forces of the stiffness: a member's own weight w between its nodes would
/// add at most w L^2 / 12 in bending.
Vector12 section_forces(const Element& element, const Eigen::VectorXd& u);
/// Section forces of all elements one after the other, then the forces that the joints' bodies take.
Eigen::Index section_force_count(const Assembly& assembly);
/// The same as a linear map from full displacements, section_force_count() x full, for many vectors at once.
SparseMatrix section_force_map(const Assembly& assembly);

}  // namespace seamwright::frame
