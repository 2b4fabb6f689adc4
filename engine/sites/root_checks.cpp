// SPDX-License-Identifier: GPL-3.0-or-later
// An open root has two more lives: its leg by the class for throats that bend, and its slit as a crack. Neither decides: they lie far apart,
// and no test of thin tubes tells which holds.
#include <cmath>
#include <numbers>

#include "engine/fatigue/growth.h"
#include "engine/sites/modelled_weld.h"
#include "engine/solid/scaled_model.h"

namespace seamwright::sites {

namespace {

using solid::SectionKind;
using solid::SectionStress;

double bending_share(const ModelledWeld& m, const SectionStress& s) {
  const double bending = m.size_of(s.bending), membrane = m.size_of(s.membrane);
  return bending + membrane > 0 ? bending / (bending + membrane) : 0;
}

// The set's class for the leg of a fillet welded from one side whose throat bends [condition from memory].
void add_legs(ModelledWeld& m, double wall_mm) {
  constexpr double least_bending = 0.5;
  if (!m.maker.has_detail(m.weld, place::root_leg)) return;
  for (int k = 0; k < solid::places_around; ++k) {
    const SectionStress* worst = nullptr;
    for (const SectionKind kind : {SectionKind::brace_leg, SectionKind::chord_leg}) {
      const SectionStress& s = m.seam.sections[static_cast<std::size_t>(kind)][static_cast<std::size_t>(k)];
      if (bending_share(m, s) < least_bending) continue;
      if (!worst || m.size_of(s.membrane + s.bending) > m.size_of(worst->membrane + worst->bending)) worst = &s;
    }
    if (!worst) continue;
    Evidence e = model_evidence(m, solid::scaled_root_error);
    e.coverage = Coverage::extended;
    e.inputs.push_back({"leg", worst->length_mm, "mm"});
    m.maker.push({m.weld, place::root_leg, m.angle_deg(k), wall_mm}, m.row_of(worst->membrane + worst->bending), e).aside = true;
  }
}

Site slit_site(const ModelledWeld& m, int place, double wall_mm) {
  const auto [section, kind] = worst_section(m, place);
  const double share = bending_share(m, *section);
  Site site = crack_site(m, place::slit_crack, place, wall_mm, std::pow(fatigue::growth_length_mm(section->length_mm, share), -1.0 / 3), "slit-crack");
  site.evidence.unit = "N/mm^1.5";
  site.evidence.inputs.insert(site.evidence.inputs.end(),
                              {{"ligament", section->length_mm, "mm"}, {"bending share", share, ""}, {"size_factor", site.size_factor, ""}});
  site.evidence.notes.push_back({"rating.slit-crack", {}});
  return site;
}

// The modes open the slit together and each load in its own mixture: rows turned by 45 degrees between the two parts of the energy miss less
// than a twelfth of any mixture.
void add_slit(ModelledWeld& m, double wall_mm) {
  constexpr int turns = 4;
  for (std::size_t k = 0; k < m.seam.slit.size(); ++k)
    for (int turn = 0; turn < turns; ++turn) {
      const solid::SlitTip& tip = m.seam.slit[k];
      const double angle = std::numbers::pi * turn / turns;
      Site site = slit_site(m, static_cast<int>(k), wall_mm);
      site.row = m.row_of(std::cos(angle) * tip.first + std::sin(angle) * tip.second);
      m.maker.sites.push_back(std::move(site));
    }
}

}  // namespace

Site crack_site(const ModelledWeld& m, const PlaceKind& kind, int place, double wall_mm, double size_factor, const char* figure) {
  Site site;
  site.weld = m.weld;
  site.kind = kind;
  site.angle_deg = m.angle_deg(place);
  site.aside = true;
  site.mesh_error = m.seam.mesh_error;
  site.thickness_mm = wall_mm;
  site.curve = &fatigue::growth_curve();
  site.size_factor = size_factor;
  site.shear = m.maker.no_row();
  site.evidence = model_evidence(m, solid::scaled_root_error);
  site.evidence.figure = figure;
  site.evidence.source = site.curve->source;
  site.evidence.coverage = Coverage::extended;
  return site;
}

void add_root_checks(ModelledWeld& m, double wall_mm) {
  add_legs(m, wall_mm);
  add_slit(m, wall_mm);
}

}  // namespace seamwright::sites
