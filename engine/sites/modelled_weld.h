// SPDX-License-Identifier: GPL-3.0-or-later
// A weld in its joint's model, as the makers of its sites share it.
#pragma once

#include <optional>
#include <utility>

#include "engine/sites/site_maker.h"

namespace seamwright::sites {

struct ModelledWeld {
  SiteMaker& maker;
  std::size_t weld;
  const solid::FrameJoint& joint;
  const solid::JointAnswer& answer;
  const solid::SeamAnswer& seam;
  Eigen::Index first_column = 0;  ///< of the forces at the joint's second end, in the section forces
  std::optional<double> scaled_apart;  ///< of a model that is another's
  Eigen::VectorXd usual;          ///< forces of 1 MPa of nominal stress at each end: what makes rows comparable

  Row row_of(const Eigen::RowVectorXd& over_ends) const;
  double angle_deg(int place) const { return solid::angle_in_frame(joint, 360.0 * place / solid::places_around); }
  double size_of(const Eigen::RowVectorXd& row) const { return row.cwiseProduct(usual.transpose()).norm(); }
};

/// scaled_error: of a model that is another's, for this kind of place.
Evidence model_evidence(const ModelledWeld& weld, double scaled_error);

/// The largest membrane plus bending of throat and legs at a place.
std::pair<const solid::SectionStress*, solid::SectionKind> worst_section(const ModelledWeld& weld, int place);
Evidence root_evidence(const ModelledWeld& weld, const solid::SectionStress& section, solid::SectionKind kind);

/// A check by growth at a place: its length as a factor on stress; without a row yet. The figure names its evidence.
Site crack_site(const ModelledWeld& weld, const PlaceKind& kind, int place, double wall_mm, double size_factor, const char* figure);

/// Checks beside the rating of a root that is not fused: they decide nothing.
void add_root_checks(ModelledWeld& weld, double wall_mm);

/// A crack through the wall takes so long around the brace: by the stress in its wall, and where the root is not fused in
/// throat and leg, all around, as checks; none where no published solution reaches.
void add_growth(ModelledWeld& weld, const frame::RoundTube& brace, bool fused);

}  // namespace seamwright::sites
