// SPDX-License-Identifier: GPL-3.0-or-later
// Cross sections of frame members: shapes as a drawing gives them, properties as beam theory needs them.
#pragma once

#include <optional>
#include <variant>

#include "engine/evidence/evidence.h"

namespace seamwright::frame {

struct RoundTube {
  double diameter_mm, wall_mm;
  bool operator==(const RoundTube&) const = default;
};
/// height along local y (the member's "up"), width along local z; outer corner radius (0 = sharp).
struct RectangularTube {
  double height_mm, width_mm, wall_mm, corner_radius_mm;
  bool operator==(const RectangularTube&) const = default;
};
/// Two half circles joined by flats; height along local y is the long side.
struct FlatOvalTube {
  double height_mm, width_mm, wall_mm;
  bool operator==(const FlatOvalTube&) const = default;
};
struct SolidBar {
  double diameter_mm;
  bool operator==(const SolidBar&) const = default;
};
/// height along local y, thickness along local z.
struct PlateStrip {
  double height_mm, thickness_mm;
  bool operator==(const PlateStrip&) const = default;
};
using Section = std::variant<RoundTube, RectangularTube, FlatOvalTube, SolidBar, PlateStrip>;

/// Wall of a tube, thickness of a plate; none of a solid bar.
std::optional<double> wall_mm(const Section& section);

/// Local y is "up", local z completes the right-handed triad with x along the member.
/// i_z bends in the local x-y plane (moment Mz); i_y in the x-z plane (moment My).
struct SectionProperties {
  double area_mm2 = 0;
  double i_y_mm4 = 0, i_z_mm4 = 0;
  double torsion_mm4 = 0;                        ///< St Venant torsion constant J
  double w_y_mm3 = 0, w_z_mm3 = 0, w_t_mm3 = 0;  ///< elastic moduli
  double shear_area_y_mm2 = 0, shear_area_z_mm2 = 0;
  double outer_y_mm = 0, outer_z_mm = 0;  ///< distance of the outer fibre along local y and z
};

/// Properties with evidence per shape (source of each formula). Throws Fault "section.impossible" for walls
/// that are not positive or do not fit, and for NaN.
struct SectionResult {
  SectionProperties properties;
  Evidence evidence;
};
SectionResult section_properties(const Section& section, double poisson);

}  // namespace seamwright::frame
