// SPDX-License-Identifier: GPL-3.0-or-later
// Static peaks beside the spectra, for strength: what may happen once.
#pragma once

#include "engine/loads/manoeuvres.h"

namespace seamwright::loads {

/// Section forces of all elements in one case, N and N mm, with everything that stands on the trike.
struct PeakCase {
  std::string id;
  Pose pose;
  Eigen::VectorXd section_forces;
  Eigen::VectorXd displacements;  ///< full, of the trike on its tyres; empty where it hangs
  Evidence evidence;  ///< value: the force or acceleration that makes the case; source "assumption" or a rule
};

/// All cases for a loading: kerb-square, kerb-sideways, drop, full-braking, tip-over, fall, scrub, climbing,
/// parking, lashing, lifting, towing, belts. A case whose nodes the duty does not name is left out and named
/// in `missing`. Linear, on the tyres (lifting: on its nodes). Throws the Faults of PosedTrike and manoeuvre
/// loads.
struct PeakCases {
  std::vector<PeakCase> cases;
  std::vector<std::string> missing;
};
PeakCases peak_cases(const frame::Frame& frame, const Carriers& carriers, const Duty& duty,
                     const Steering& steering, const Pose& loading);

/// Falling from a height onto a spring whose deflection at rest is d: force over weight 1 + sqrt(1 + 2 s/d),
/// without damping (energy; an upper bound until the rim meets the ground).
double drop_factor(double drop_mm, double rest_deflection_mm);
/// Horizontal over vertical force of a rigid wheel that begins to climb an edge: sqrt(s (2R - s))/(R - s).
/// Derived; infinite from the height of the axle on.
double climb_ratio(double edge_mm, double radius_mm);

}  // namespace seamwright::loads
