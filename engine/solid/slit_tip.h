// SPDX-License-Identifier: GPL-3.0-or-later
// The unfused face of a root as a crack: the energy that its growth would set free, and the stress intensity of that.
#pragma once

#include <vector>

#include "engine/solid/sections.h"

namespace seamwright::solid {

/// The tip of a crack moves: corner nodes on its front, each with the way it goes, and the face that opens by that.
struct FrontStep {
  std::vector<int> nodes;
  std::vector<Vec3> ways;  ///< mm
  double opened_mm2 = 0;
};
/// Energy set free per face opened, N/mm, as a square form over the columns: u' A u for loads u. The displacements hold, the mesh at the front
/// is drawn along: Parks, Int. J. Fracture 10 (1974) 487 [from memory].
Eigen::MatrixXd energy_set_free(const SupportedBody& body, const Eigen::MatrixXd& moved, const FrontStep& step);

/// Stress intensity at the slit's tip as rows over the unit loads, N/mm^1.5: sqrt(E/(1 - nu^2) G). The three modes open it together; a load's
/// square is that of the rows' sum or difference, whichever is larger, at least.
struct SlitTip {
  Eigen::RowVectorXd first, second;  ///< the two largest parts of the square form, by usual forces
};
/// The tip at each of so many angles around, from the crown; a place's front lies within the hat of the sections. Zero where a
/// neighbour stands at the front; empty where brace, chord and metal have no node in common.
std::vector<SlitTip> slit_tips_around(const SeamBody& seam, const Eigen::VectorXd& usual_forces, int places);

}  // namespace seamwright::solid
