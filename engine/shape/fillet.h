// SPDX-License-Identifier: GPL-3.0-or-later
// The weld around a brace as a body: a triangle in the plane square to the root curve, carried round it.
#pragma once

#include <optional>
#include <vector>

#include "engine/shape/root_curve.h"

namespace seamwright::shape {

/// Leg of a fillet of this throat where its walls stand at this angle: that of a right-angled corner, throat times root of two, or the
/// one that keeps the throat, whichever is longer, up to 120 degrees (twice the throat); beyond, no fillet has it (EN 1993-1-8, 4.3.2.1
/// [from memory]). Engineering default of ours, where the design gives none.
double default_leg_mm(double throat_mm, double dihedral_rad);

struct Legs {
  double crown_mm = 0, saddle_mm = 0;
};

/// The triangle at an angle: root, toe on the brace, toe on the chord. The toes lie on the tubes' surfaces
/// exactly: up a generator of the brace, and along a helix of the chord.
struct FilletSection {
  Vec3 root, brace_toe, chord_toe;
};

/// n sections all round; the leg goes from either crown to the saddles as cosine squared. Nothing where a part of the
/// brace misses the chord or the walls are tangent.
std::vector<FilletSection> fillet_sections(const FilletAround& fillet, int n);

/// Volume between the sections, mm3: of the polyhedron over them.
double fillet_volume_mm3(const std::vector<FilletSection>& sections);

/// Volume of a fillet around a tube on a flat face, mm3: the triangle's area times the way of its centroid (Pappus's theorem).
double ring_volume_mm3(const FilletRing& ring);

/// Length of a weld's root, mm: of its curve around the brace, of the circle around a tube's end, or of its lines together. NaN
/// where a brace misses its chord.
double seam_length_mm(const WeldBody& weld);

TubePair pair_of(const FilletAround& fillet);

}  // namespace seamwright::shape
