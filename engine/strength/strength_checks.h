// SPDX-License-Identifier: GPL-3.0-or-later
// Strength under one set of section forces: what is used most, and of what.
#pragma once

#include "engine/sites/sites.h"

namespace seamwright::strength {

/// The most used place of one kind of check: "member", "heat-affected-zone", "tube-joint",
/// "weld-directional", "weld-simplified", "bolt", "bolt-gap", "buckling", "thin-wall".
struct StrengthCheck {
  std::string kind;
  std::string subject;  ///< element, weld or circle of bolts
  double use = 0;       ///< at most 1
  Evidence evidence;
};

/// Made once for a job, used for every case.
struct StrengthModel {
  const design::Design& design;
  const frame::Frame& cut;
  const frame::Assembly& assembly;
  std::vector<sites::Site> sites;  ///< of the welds and bolts, by the throats of EN 1993-1-9
};
StrengthModel strength_model(const design::Design& design, const frame::Frame& cut,
                             const frame::Assembly& assembly, const rules::Published& published);

/// One check of each kind that the design's stated strengths allow. A kind whose strengths nowhere are stated
/// is left out. Sources: EN 1993-1-1 (von Mises at the outer fibre; 6.3.1 buckling with the whole member as
/// buckling length and the moment amplified by 1/(1 - N/Ncr), which is common practice), EN 1993-1-8 (joints,
/// welds, bolts).
std::vector<StrengthCheck> strength_checks(const StrengthModel& model, const Eigen::VectorXd& section_forces);

}  // namespace seamwright::strength
