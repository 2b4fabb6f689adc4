// SPDX-License-Identifier: GPL-3.0-or-later
// From the frame as drawn to matrices. Inside: N, mm, s, tonne, MPa; the one place of conversion is assembly.cpp.
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

/// One beam element: Timoshenko, 12 degrees of freedom, rigid arms at both ends.
struct Element {
  std::string id;      ///< member id, or "ID/k" of a member through several nodes
  std::size_t member = 0;
  std::size_t first = 0, second = 0;  ///< node indices
  Eigen::Matrix3d axes;               ///< rows: local x, y, z in global axes
  double length_mm = 0;               ///< of the flexible part
  SectionProperties section;
  Matrix12 stiffness;     ///< local axes, at the flexible ends
  Matrix12 to_local;      ///< global node displacements -> local displacements of the flexible ends
};

enum class On {
  tyres,     ///< wheels as springs to ground; x held at one node, where its reaction must vanish
  supports,  ///< the frame's supports
  nothing    ///< free frame
};

/// Full degrees of freedom are 6 per node (ux uy uz rx ry rz; mm, rad), then one per sprung direction. Hinges and supports
/// are imposed exactly: full = expand * reduced.
struct Assembly {
  std::vector<Element> elements;
  std::map<std::string, std::size_t> node_index;
  std::vector<std::string> wheel_ids;
  std::vector<std::string> unlinked_hinges;  ///< hinges that nothing but their damper holds
  Eigen::Index full_size = 0;
  SparseMatrix expand;                 ///< full x reduced
  SparseMatrix stiffness, mass, damping;  ///< full x full: N/mm, tonne, N s/mm (damping: tyres, dampers, sprung masses)
  Eigen::MatrixXd tyre_radial;         ///< full x wheels: vertical direction at each contact point (unit ground motion b)
  Eigen::VectorXd tyre_stiffness, tyre_damping;  ///< N/mm, N s/mm per wheel
};

/// Builds the matrices. Throws Fault naming members and direction for: unknown node or tube, zero-length member, doubled
/// node (two nodes at one place, no hinge between them), loose part, negative or NaN numbers, two wheels of one name.
Assembly assemble(const Frame& frame, On on);

/// Weight of all masses and members in the direction of -z, as full nodal forces (N, N mm), for 1 g.
Eigen::VectorXd gravity_load(const Assembly& assembly);
/// Loads of a named case. Throws Fault "frame.unknown-node".
Eigen::VectorXd case_load(const Assembly& assembly, const LoadCase& load_case);

/// Section forces of an element for full displacements u: rows N, Vy, Vz, T, My, Mz at the start, then at the end.
/// Sign: forces on the face whose outward normal is +x (local), N positive in tension. N, N mm.
Vector12 section_forces(const Element& element, const Eigen::VectorXd& u);
/// The same as a linear map from full displacements, (12 * elements) x full, for many vectors at once.
SparseMatrix section_force_map(const Assembly& assembly);

}  // namespace seamwright::frame
