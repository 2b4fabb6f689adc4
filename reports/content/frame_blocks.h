// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "engine/frame/modes.h"
#include "engine/frame/statics.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Displacements, section forces and reactions of one static solution.
Document solution_document(const std::string& what, const frame::Assembly& assembly,
                           const frame::Solution& solution);

/// The modes of one state, or of the free frame.
struct NamedModes {
  std::string where;  ///< "tyres", "supports" or "nothing"
  double payload_kg = 0;
  const frame::Assembly* assembly = nullptr;
  frame::Modes modes;
};
/// Counts the first modes that are free motions, below 0.001 Hz: they have no number, so that the first
/// elastic mode is number 1 here as in a weld's chain.
Eigen::Index free_motions(const frame::Modes& modes);
Document modes_document(const std::vector<NamedModes>& all);

/// The node that moves most in a mode, by translation.
std::string most_moving(const frame::Assembly& assembly, const Eigen::VectorXd& shape);

}  // namespace seamwright::reports
