// SPDX-License-Identifier: GPL-3.0-or-later
// The makers of sites share these: the model, the rules, and the way from a row to a site with its curve.
#pragma once

#include "engine/design/weld_geometry.h"
#include "engine/shape/feet.h"
#include "engine/sites/place_kinds.h"
#include "engine/sites/section_rows.h"
#include "engine/sites/sites.h"
#include "engine/solid/joint_models.h"

namespace seamwright::sites {

struct SiteMaker {
  const design::Design& design;
  const frame::Frame& frame;  ///< with its cuts
  const frame::Assembly& assembly;
  const rules::Rules& rules;
  const rules::Published& published;
  Eigen::Index size;                ///< of a row
  design::FrameIndex index;         ///< of the frame with its cuts
  const std::vector<solid::ModelledJoint>* joints = nullptr;  ///< in the order of the assembly's bodies
  Checks checks = Checks::left_out;
  std::vector<shape::Foot> feet{};  ///< what is found about the welds' feet
  std::vector<Site> sites{};

  /// A site of weld number `weld`; attachment: length along the stress for the details that ask for it, mm.
  struct Place {
    std::size_t weld = 0;
    PlaceKind kind;
    double angle_deg = 0, thickness_mm = 0, attachment_mm = 0;
    bool bound = false;  ///< the rule leaves something out: see Site::at_least
    std::string_view stress_from{};  ///< as PlaceKind::stress_from, where the place does not decide it
  };
  Site& push(const Place& place, const Row& row, const Evidence& rests_on);
  void push_not_covered(std::size_t weld, MessageId why);
  void push_not_covered(std::size_t weld, const Message& why);
  /// True when the set has a curve for this place.
  bool has_detail(std::size_t weld, const PlaceKind& kind) const;
  Row no_row() const { return Row(size); }
};

/// The chord on either side of the weld's node; no element where it ends there.
std::pair<Station, Station> sides_of(const SiteMaker& maker, const joints::Weld& weld);

/// Nominal stress and throat stress as evidence, with the source of the rule set.
Evidence nominal_evidence();
Evidence throat_evidence(const SiteMaker& maker, double throat_mm, double wall_mm);
/// Adds the root at one place, rated through the throat: across it, and along it in the set's own way. The
/// second part of the stress across joins with the sign that gives more. Where tubes meet the rule knows
/// neither the uneven flow around the brace nor the bending of the wall, so that its damage is a bound.
void push_root(SiteMaker& maker, const SiteMaker::Place& place, const Row& across, const Row& across_too,
               const Row& along, const Evidence& evidence);

/// The same without the last: a joint's model knows flow and bending, so that the damage is no bound.
void push_root_of_model(SiteMaker& maker, const SiteMaker::Place& place, const Row& across, const Row& across_too, const Row& along,
                        const Evidence& evidence);

/// Sites from this one on become checks beside the rating, of these kinds.
void set_aside(SiteMaker& maker, std::size_t first, const PlaceKind& kind, const PlaceKind& shear);

/// The root of a fused weld from its joint's model with open roots, as a check. False where that model is not known.
bool add_open_root_of_model(SiteMaker& maker, std::size_t weld);

/// Toes and roots of a weld from the model of its joint. False where it has none.
bool add_modelled_sites(SiteMaker& maker, std::size_t weld);

/// Sites of one weld by its layout; of a kind that no published rule covers, the nominal stress in the tube
/// where the shop has tested such a detail, else one site that is not covered.
void add_unwelded_sites(SiteMaker& maker, std::size_t weld);
void add_tube_sites(SiteMaker& maker, std::size_t weld);
void add_plate_sites(SiteMaker& maker, std::size_t weld);
/// False where the weld is not a K joint of like square tubes with a gap, all of it balanced.
bool add_square_k_sites(SiteMaker& maker, std::size_t weld);
/// Sites of a notch and of a circle of bolts, by their places in the design.
void add_notch_sites(SiteMaker& maker, std::size_t notch);
void add_bolt_sites(SiteMaker& maker, std::size_t bolts);

}  // namespace seamwright::sites
