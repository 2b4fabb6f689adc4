// SPDX-License-Identifier: GPL-3.0-or-later
// A whole frame's solids, and what can be asked of them, through a modeller.
#pragma once

#include <string>
#include <vector>

#include "catalog/models/modeller.h"

namespace seamwright::models {

/// Bodies in the order of the plan. Those that could not be built are there without body or mesh.
struct BuiltFrame {
  std::vector<shape::Built> parts, welds;
};

/// Builds all parts and weld bodies. Throws what Modeller::work() throws, and Fault "shape.too-many" beyond
/// `most_bodies`.
inline constexpr std::size_t most_bodies = 4000;
BuiltFrame frame_solids(Modeller& modeller, const shape::Plan& plan, const rating::Progress& progress);

/// "shape.not-built" of every body that is missing, then "shape.interference" of every pair of parts that share
/// more than a cubic millimetre, deepest first. A part that was cut by another shares nothing with it.
std::vector<Message> frame_findings(Modeller& modeller, const shape::Plan& plan, const BuiltFrame& solids,
                                    const rating::Progress& progress);

/// Mass of the parts as built: volumes times the steels' densities, kg, mm, kg m2 about the centre.
struct FrameMass {
  double mass_kg = 0, weld_metal_kg = 0, surface_m2 = 0;
  shape::Vec3 centre_mm{0, 0, 0};
  Eigen::Matrix3d inertia_kg_m2 = Eigen::Matrix3d::Zero();
};
/// density_kg_mm3 of each part, in their order; weld metal counts with the first one's.
FrameMass mass_of(const BuiltFrame& solids, const std::vector<double>& density_kg_mm3);

/// The bodies that are there, parts first, coloured by section.
std::vector<shape::NamedBody> named_bodies(const shape::Plan& plan, const BuiltFrame& solids, bool welds);

/// Throw Fault "shape.worker-failed".
Lines frame_view(Modeller& modeller, const shape::Plan& plan, const BuiltFrame& solids, const shape::Vec3& towards,
                 const shape::Vec3& up, const rating::Progress& progress);
std::string step_file(Modeller& modeller, const shape::Plan& plan, const BuiltFrame& solids, const std::string& name,
                      bool fused, const rating::Progress& progress);

}  // namespace seamwright::models
