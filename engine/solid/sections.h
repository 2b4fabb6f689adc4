// SPDX-License-Identifier: GPL-3.0-or-later
// Forces through sections of a weld and of the walls at its toes, from nodal forces: they do not hang on the mesh as a stress at a
// corner does, which has no limit there (Fricke, Kahl & Paetzold, Welding in the World 50 (2006) 64: the structural stress in the
// leg section, from nodal forces).
#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "engine/solid/seam_path.h"
#include "engine/solid/supported_body.h"

namespace seamwright::solid {

/// The section runs from an edge of its own (`root`: the root of the weld, or the outer surface of the wall at the toe) over a length.
enum class SectionKind { throat, brace_leg, chord_leg, brace_wall, chord_wall };
inline constexpr std::array<std::pair<SectionKind, std::string_view>, 5> section_kinds{{{SectionKind::throat, "throat"},
                                                                                        {SectionKind::brace_leg, "brace-leg"},
                                                                                        {SectionKind::chord_leg, "chord-leg"},
                                                                                        {SectionKind::brace_wall, "brace-wall"},
                                                                                        {SectionKind::chord_wall, "chord-wall"}}};

/// Stress in a section at one angle, linear over its length: rows over the unit loads, MPa. Normal stress at the edge is
/// membrane + bending.
struct SectionStress {
  double length_mm = 0;
  Eigen::RowVectorXd membrane, bending, across, along;  ///< normal; normal; shear across the seam; shear along it
};

/// A seam's sections are cut out of this.
struct SeamBody {
  const SupportedBody& body;
  const UnitAnswers& answers;
  const SeamPath& path;
  shape::Stretch brace, chord;           ///< with their sections
  std::vector<bool> on_brace, on_chord, metal;  ///< of each tetrahedron: of the brace, of the chord, weld metal of this seam; a fused ring is of the brace and metal
  double size_mm = 0;                    ///< of an element there
};

/// A place stands for the seam to either side of it, falling to nothing at this angle, rad: 7.5 degrees or two elements. Engineering choice of
/// ours.
double hat_of(const SeamBody& seam);

/// The section at each of so many angles around, from the crown.
std::vector<SectionStress> sections_around(const SeamBody& seam, SectionKind kind, int places);

}  // namespace seamwright::solid
