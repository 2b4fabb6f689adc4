// SPDX-License-Identifier: GPL-3.0-or-later
// The axial force of a brace finds its balance at a node: through the chord's wall by a brace opposite
// (X), by one on the same side (K), or by the chord itself (T, Y). Found from the member forces of each load.
#pragma once

#include <memory>

#include "engine/design/weld_geometry.h"
#include "engine/joints/xk.h"
#include "engine/sites/section_rows.h"

namespace seamwright::sites {

struct Site;

/// Forces across the chord, N, positive away from it, as rows over the section forces: of the brace itself,
/// of all braces opposite, and of the partner on the same side (empty where there is none).
struct Balance {
  Row own, opposite, beside;
};

/// Null where the design gives the shares, or where nothing stands opposite and no partner is named. Opposite
/// and beside: across the chord within 20 degrees of one plane, an assumption.
std::shared_ptr<const Balance> balance_of(const design::Design& design, const design::FrameIndex& cut,
                                          const frame::Assembly& assembly, const joints::Weld& weld);

/// Shares under one load. K first: what the partner takes up with the other sign; then X: what braces
/// opposite take up with the same sign (both pull or both press); the rest is Y. Source: the sorting by load
/// path that DNV-RP-C203 and ISO 19902 ask for [from memory]; the order is an assumption.
joints::Shares shares_of(const Balance& balance, const Eigen::Ref<const Eigen::VectorXd>& section_forces);

/// The site's row with the shares of this load.
Row row_under(const Site& site, const Eigen::Ref<const Eigen::VectorXd>& section_forces);

/// Adds to stress (sites x loads) what the shares of each load (columns of section forces) change.
void add_balanced(const std::vector<Site>& sites, const Eigen::MatrixXd& section_forces,
                  Eigen::MatrixXd& stress);

}  // namespace seamwright::sites
