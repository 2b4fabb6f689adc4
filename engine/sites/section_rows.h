// SPDX-License-Identifier: GPL-3.0-or-later
// Linear rows over the section forces of all elements: how a stress or a load follows from them.
#pragma once

#include <Eigen/SparseCore>
#include <array>

#include "engine/frame/assembly.h"

namespace seamwright::sites {

using Row = Eigen::SparseVector<double>;

/// One end of one element: column of its N in the section force map (N, Vy, Vz, T, My, Mz follow). Where the beam goes on into a
/// joint's body, the section meant is so far along local x from there, as it lies without the body: nothing loads it between.
struct Station {
  Eigen::Index column = -1;
  const frame::Element* element = nullptr;
  double beyond_mm = 0;
};

/// Ends of a member's segments: of the segment between two of its nodes, the first being number 0. Throws
/// Fault "rating.unknown-member". No element where the segment lies within a joint's body.
Station station(const frame::Assembly& assembly, const frame::Member& member, std::size_t segment,
                bool at_start);

/// A section force: 0 to 5 for N, Vy, Vz, T, My, Mz.
Row force_row(const Station& s, int component, Eigen::Index size);
/// Nominal stress at the outer fibre in the global direction `out` (unit, across the element), MPa:
/// N/A - Mz y/Iz + My z/Iy on the +x face.
Row nominal(const Station& s, const frame::Vec3& out, double radius_mm, Eigen::Index size);
/// N/A, MPa.
Row axial(const Station& s, Eigen::Index size);
/// Shear flow along the seam of a thin round tube, N/mm: torsion and transverse shear.
Row along_flow(const Station& s, const frame::Vec3& out, double radius_mm, Eigen::Index size);

/// The same number of rows at a place between both ends of an element: share 0 its start, 1 its end. Holds
/// without loads between the ends.
Row interpolated_row(const Row& at_start, const Row& at_end, double share);

/// Force and moment in global axes that the part on the +x side exerts through a section, N and N mm, as six
/// rows.
using Load = std::array<Row, 6>;
Load load_through(const Station& s, Eigen::Index size);
Load sum_of(const Load& a, double factor, const Load& b);
/// The same load with its moment about another point: arm from there to the old point, mm.
Load moment_row(const Load& load, const frame::Vec3& arm_mm);
/// A linear form of the six components.
Row form_of(const Load& load, const Eigen::Matrix<double, 6, 1>& weights);

}  // namespace seamwright::sites
