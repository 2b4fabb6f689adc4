// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of a weld whose joint has a model: stress around toes and root as the model gives it, with the chord's own in it.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "engine/evidence/constants.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/sites/joint_readings.h"
#include "engine/sites/modelled_weld.h"
#include "engine/solid/scaled_model.h"
#include "engine/solid/usual_forces.h"

namespace seamwright::sites {

using solid::SectionKind;
using solid::SectionStress;
using solid::Toe;

Row ModelledWeld::row_of(const Eigen::RowVectorXd& over_ends) const {
  Row row(maker.size);
  row.reserve(over_ends.size());
  for (Eigen::Index c = 0; c < over_ends.size(); ++c)
    if (over_ends[c] != 0) row.insertBack(first_column + c) = over_ends[c];
  return row;
}

Evidence model_evidence(const ModelledWeld& m, double scaled_error) {
  Evidence e;
  e.figure = "joint-model";
  e.value = std::numeric_limits<double>::quiet_NaN();  // a way to a stress, not one stress
  e.unit = "MPa";
  e.source = m.maker.rules.set->hot_spot.clause.source();
  e.from_memory = true;
  e.inputs = {{"unknowns", m.answer.unknowns, ""}, {"volume", m.answer.volume_mm3 / m.answer.planned_mm3, ""}, {"mesh error", 100 * m.seam.mesh_error, "%"}};
  if (m.scaled_apart)
    e.notes.push_back({"rating.joint-scaled", {text("joint", m.joint.id), number("apart", 100 * std::expm1(*m.scaled_apart), "%"),
                                               number("error", 100 * scaled_error, "%")}});
  else
    e.notes.push_back({"rating.joint-model", {text("joint", m.joint.id), number("unknowns", m.answer.unknowns, ""),
                                              number("error", 100 * m.seam.mesh_error, "%")}});
  return e;
}

std::pair<const SectionStress*, SectionKind> worst_section(const ModelledWeld& m, int place) {
  std::pair<const SectionStress*, SectionKind> worst{nullptr, SectionKind::throat};
  for (const SectionKind kind : {SectionKind::throat, SectionKind::brace_leg, SectionKind::chord_leg}) {
    const SectionStress& s = m.seam.sections[static_cast<std::size_t>(kind)][static_cast<std::size_t>(place)];
    if (worst.first && m.size_of(s.membrane + s.bending) <= m.size_of(worst.first->membrane + worst.first->bending)) continue;
    worst = {&s, kind};
  }
  return worst;
}

Evidence root_evidence(const ModelledWeld& m, const SectionStress& section, SectionKind kind) {
  Evidence e = model_evidence(m, solid::scaled_root_error);
  e.source = m.maker.rules.set->throat.clause.source();
  e.coverage = Coverage::extended;
  e.inputs.push_back({std::string(solid::section_kinds[static_cast<std::size_t>(kind)].second), section.length_mm, "mm"});
  return e;
}

namespace {

// Stress of a surface on a plane turned by so much from the toe's own.
Eigen::RowVectorXd on_plane(const solid::SurfaceStress& s, double turn_deg) {
  const double c = std::cos(turn_deg * degree), n = std::sin(turn_deg * degree);
  return c * c * s.normal + n * n * s.along + 2 * c * n * s.shear;
}

// The set's own points on the surface, or the stress linearised through the wall: the larger, since a coarse mesh rounds the one and
// not the other.
void add_toe(ModelledWeld& m, const PlaceKind& kind, double angle_deg, double wall_mm, const Toe& toe, const SectionStress& through) {
  const std::size_t reading = reading_number(m.maker.rules.set->hot_spot);
  const Eigen::RowVectorXd nothing = Eigen::RowVectorXd::Zero(through.membrane.size());
  const solid::SurfaceStress surface = toe.readings.empty() ? solid::SurfaceStress{nothing, nothing, nothing} : toe.readings.at(reading);
  const Eigen::RowVectorXd linear = through.membrane + through.bending;
  const double on_surface = m.size_of(surface.normal), in_wall = m.size_of(linear);
  Evidence evidence = model_evidence(m, solid::scaled_toe_error);
  // No hot-spot curve was made from walls below 4 mm, however good the model.
  evidence.limits = {limit("wall", wall_mm, "mm", 4, 50)};
  evidence.coverage = all_inside(evidence.limits) ? Coverage::inside : Coverage::extended;
  evidence.inputs.push_back({"surface", on_surface, ""});
  evidence.inputs.push_back({"linearised", in_wall, ""});
  if (toe.readings.empty())
    evidence.notes.push_back({"rating.joint-model-beside", {}});
  else if (std::abs(on_surface - in_wall) > 0.1 * std::max(on_surface, in_wall))
    evidence.notes.push_back({"rating.joint-model-larger", {number("surface", on_surface, ""), number("wall", in_wall, "")}});
  SiteMaker::Place place{m.weld, kind, angle_deg, wall_mm};
  place.stress_from = "extrapolation";
  m.maker.push(place, m.row_of(on_surface > in_wall ? surface.normal : linear), evidence).mesh_error = m.seam.mesh_error;
  // Principal stress within 60 degrees of the square to the weld: planes on which more acts than on its own.
  const double own = m.size_of(surface.normal);
  for (const double turn_deg : {-50.0, -25.0, 25.0, 50.0}) {
    const Eigen::RowVectorXd turned = on_plane(surface, turn_deg);
    if (m.size_of(turned) < 1.05 * std::max(own, in_wall)) continue;
    place.angle_deg = angle_deg + turn_deg / 25;  // a name of its own
    m.maker.push(place, m.row_of(turned), evidence).mesh_error = m.seam.mesh_error;
  }
}

void add_toes(ModelledWeld& m, double brace_wall, double chord_wall) {
  const auto& brace = m.seam.sections[static_cast<std::size_t>(SectionKind::brace_wall)];
  const auto& chord = m.seam.sections[static_cast<std::size_t>(SectionKind::chord_wall)];
  for (int k = 0; k < solid::places_around; ++k) {
    const auto i = static_cast<std::size_t>(k);
    const double angle = m.angle_deg(k);
    if (m.seam.chord_toes[i].is_there) add_toe(m, place::chord_toe, angle, chord_wall, m.seam.chord_toes[i], chord[i]);
    if (m.seam.brace_toes[i].is_there) add_toe(m, place::brace_toe, angle, brace_wall, m.seam.brace_toes[i], brace[i]);
  }
}

// Each place is rated by the section of the three with the largest membrane plus bending.
void add_root(ModelledWeld& m, double wall_mm, double fusion_mm) {
  for (int k = 0; k < solid::places_around; ++k) {
    const auto [worst, kind] = worst_section(m, k);
    Evidence e = root_evidence(m, *worst, kind);
    e.notes.push_back({"rating.root-from-model", {}});
    if (fusion_mm > 0)
      e.notes.push_back({"rating.root-fused-in-part", {number("fusion", fusion_mm, "mm"), text("proof", m.maker.design.welds[m.weld].root_proof)}});
    const std::size_t first = m.maker.sites.size();
    push_root_of_model(m.maker, {m.weld, place::root, m.angle_deg(k), wall_mm},
                       m.row_of(worst->membrane + worst->bending), m.row_of(worst->across), m.row_of(worst->along), e);
    for (std::size_t i = first; i < m.maker.sites.size(); ++i) m.maker.sites[i].mesh_error = m.seam.mesh_error;
  }
}

// A fused root can crack from the inside through the brace's wall: the stress there, linearised, on the set's class for one-sided full
// penetration.
void add_inner_wall(ModelledWeld& m, double wall_mm) {
  if (!m.maker.has_detail(m.weld, place::root_wall)) return;
  const auto& brace = m.seam.sections[static_cast<std::size_t>(SectionKind::brace_wall)];
  for (int k = 0; k < solid::places_around; ++k) {
    const SectionStress& s = brace[static_cast<std::size_t>(k)];
    Evidence e = model_evidence(m, solid::scaled_toe_error);
    e.coverage = Coverage::extended;
    e.notes.push_back({"rating.root-proven", {text("proof", m.maker.design.welds[m.weld].root_proof)}});
    m.maker.push({m.weld, place::root_wall, m.angle_deg(k), wall_mm}, m.row_of(s.membrane - s.bending), e).mesh_error = m.seam.mesh_error;
  }
}

double wall_of(const solid::JointTask& task, int part) {
  return shape::thickness_mm(std::get<shape::Hollow>(task.parts[static_cast<std::size_t>(part)].body).stretches.front().section);
}

// A weld among the joints that have models, and its number among its joint's seams.
struct Found {
  std::size_t joint = 0, seam = 0;
};
std::optional<Found> found_in(const SiteMaker& maker, std::size_t weld) {
  if (!maker.joints) return {};
  for (std::size_t j = 0; j < maker.joints->size(); ++j) {
    const std::vector<std::string>& welds = (*maker.joints)[j].joint.welds;
    const auto at = std::find(welds.begin(), welds.end(), maker.design.welds[weld].id);
    if (at != welds.end()) return Found{j, static_cast<std::size_t>(at - welds.begin())};
  }
  return {};
}

ModelledWeld modelled_weld(SiteMaker& maker, std::size_t weld, const Found& at, const solid::JointAnswer& answer) {
  const solid::ModelledJoint& joint = (*maker.joints)[at.joint];
  return {maker, weld, joint.joint, answer, answer.seams[at.seam], maker.assembly.bodies[at.joint].first_row + 6,
          joint.scaled ? std::optional(joint.apart) : std::nullopt, solid::usual_forces(joint.joint.task)};
}

}  // namespace

bool add_modelled_sites(SiteMaker& maker, std::size_t weld) {
  const std::optional<Found> at = found_in(maker, weld);
  if (!at) return false;
  const solid::ModelledJoint& joint = (*maker.joints)[at->joint];
  if (joint.answer->welds[at->seam] == shape::Rung::none) return false;  // a joint without its weld metal tells nothing of the weld
  const solid::JointTask& task = joint.joint.task;
  const solid::Seam& seam = task.seams[at->seam];
  ModelledWeld m = modelled_weld(maker, weld, *at, *joint.answer);
  add_toes(m, wall_of(task, seam.brace), wall_of(task, seam.chord));
  if (seam.fused)
    add_inner_wall(m, wall_of(task, seam.brace));
  else
    add_root(m, wall_of(task, seam.brace), seam.fusion_mm);
  if (maker.checks == Checks::asked_for || rules::looks(maker.rules))
    add_growth(m, *maker.index.round_tube(maker.design.welds[weld].member), seam.fused);
  if (!seam.fused && maker.checks == Checks::asked_for) add_root_checks(m, wall_of(task, seam.brace));
  return true;
}

bool add_open_root_of_model(SiteMaker& maker, std::size_t weld) {
  const std::optional<Found> at = found_in(maker, weld);
  const solid::JointAnswer* open = at ? (*maker.joints)[at->joint].open : nullptr;
  if (!open || open->welds[at->seam] == shape::Rung::none || open->seams[at->seam].sections[0].empty()) return false;
  const solid::JointTask& task = (*maker.joints)[at->joint].joint.task;
  ModelledWeld m = modelled_weld(maker, weld, *at, *open);
  const std::size_t first = maker.sites.size();
  add_root(m, wall_of(task, task.seams[at->seam].brace), 0);
  set_aside(maker, first, place::open_root, place::open_root_shear);
  return true;
}

}  // namespace seamwright::sites
