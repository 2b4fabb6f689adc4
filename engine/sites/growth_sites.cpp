// SPDX-License-Identifier: GPL-3.0-or-later
// A crack that has come through the wall goes on around the brace, from there to half the girth. It decides nothing about a
// crack's beginning.
#include <cmath>
#include <numbers>

#include "engine/fatigue/growth.h"
#include "engine/sites/modelled_weld.h"

namespace seamwright::sites {

namespace {

using solid::SectionKind;
using solid::SectionStress;

// The largest stress that opens a crack through the section: membrane, and bending by so much as it opens a crack in a plate.
Eigen::RowVectorXd opening_stress(const ModelledWeld& m, int place, bool fused) {
  Eigen::RowVectorXd worst = Eigen::RowVectorXd::Zero(m.usual.size());
  for (const SectionKind kind : {SectionKind::brace_wall, SectionKind::throat, SectionKind::brace_leg}) {
    if (fused && kind != SectionKind::brace_wall) continue;
    const SectionStress& s = m.seam.sections[static_cast<std::size_t>(kind)][static_cast<std::size_t>(place)];
    for (const double sign : {1.0, -1.0}) {
      const Eigen::RowVectorXd stress = s.membrane + sign * fatigue::bending_opens * s.bending;
      if (m.size_of(stress) > m.size_of(worst)) worst = stress;
    }
  }
  return worst;
}

}  // namespace

void add_growth(ModelledWeld& m, const frame::RoundTube& tube, bool fused) {
  const double radius = 0.5 * (tube.diameter_mm - tube.wall_mm);
  const auto cycles = fatigue::growth_around(radius, tube.wall_mm, fatigue::breakthrough_share, fatigue::half_the_girth);
  if (!cycles) return;
  for (int k = 0; k < solid::places_around; ++k) {
    Site site = crack_site(m, place::through_crack, k, tube.wall_mm, std::cbrt(1 / (fatigue::Paris{}.c * *cycles)), "through-crack");
    site.row = m.row_of(opening_stress(m, k, fused));
    site.evidence.source = {"zahoor-1985", "circumferential through-wall crack"};
    site.evidence.inputs.push_back({"girth", 2 * std::numbers::pi * radius, "mm"});
    site.evidence.inputs.push_back({"R/t", radius / tube.wall_mm, ""});
    site.evidence.notes.push_back({"growth.around-the-brace", {number("share", 100 * fatigue::breakthrough_share, "%")}});
    m.maker.sites.push_back(std::move(site));
  }
}

}  // namespace seamwright::sites
