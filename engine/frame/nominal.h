// SPDX-License-Identifier: GPL-3.0-or-later
// Nominal stress of a member's end, for strength.
#pragma once

#include "engine/frame/assembly.h"

namespace seamwright::frame {

/// Largest equivalent stress (von Mises) at the start and the end of an element, MPa, from its section forces
/// (section_forces(): N, N mm): |N|/A + bending, round sections at the angle of the resulting moment, others
/// with both moments at a corner; torsion T/Wt and the shear V/As act at the same place, which is on the safe
/// side.
std::array<double, 2> equivalent_stress_mpa(const Element& element, const Section& section,
                                            const Vector12& forces);

}  // namespace seamwright::frame
