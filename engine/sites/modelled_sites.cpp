// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of a weld whose joint has a model: stress around toes and root as the model gives it, with the chord's own in it.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "engine/evidence/constants.h"
#include "engine/frame/section.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/sites/joint_readings.h"
#include "engine/sites/site_maker.h"
#include "engine/solid/scaled_model.h"

namespace seamwright::sites {

namespace {

using solid::SectionKind;
using solid::SectionStress;
using solid::Toe;

// A weld in its joint's model.
struct Modelled {
  SiteMaker& maker;
  std::size_t weld;
  const solid::FrameJoint& joint;
  const solid::JointAnswer& answer;
  const solid::SeamAnswer& seam;
  Eigen::Index first_column = 0;  ///< of the forces at the joint's second end, in the section forces
  std::optional<double> scaled_apart;  ///< of a model that is another's
  Eigen::VectorXd usual;          ///< forces of 1 MPa of nominal stress at each end: what makes rows comparable

  Row row_of(const Eigen::RowVectorXd& over_ends) const {
    Row row(maker.size);
    row.reserve(over_ends.size());
    for (Eigen::Index c = 0; c < over_ends.size(); ++c)
      if (over_ends[c] != 0) row.insertBack(first_column + c) = over_ends[c];
    return row;
  }
  double angle_deg(int place) const { return solid::angle_in_frame(joint, 360.0 * place / solid::places_around); }
  double size_of(const Eigen::RowVectorXd& row) const { return row.cwiseProduct(usual.transpose()).norm(); }
};

// Forces and moments that make 1 MPa in the tube that goes on at each end; nothing for the nodes within.
Eigen::VectorXd usual_forces(const solid::JointTask& task) {
  Eigen::VectorXd out = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(6 * (task.ends.size() - 1 + task.seats.size())));
  for (std::size_t e = 1; e < task.ends.size(); ++e) {
    const auto& tube = std::get<shape::Hollow>(task.parts[static_cast<std::size_t>(task.ends[e].part)].body);
    const frame::SectionProperties p = frame::section_properties(tube.stretches.front().section, task.steel.poisson).properties;
    out.segment<3>(6 * static_cast<Eigen::Index>(e - 1)).setConstant(p.area_mm2);
    out.segment<3>(6 * static_cast<Eigen::Index>(e - 1) + 3).setConstant(p.i_y_mm4 / p.outer_y_mm);
  }
  return out;
}

Evidence model_evidence(const Modelled& m, double scaled_error) {
  Evidence e;
  e.figure = "joint-model";
  e.value = std::numeric_limits<double>::quiet_NaN();  // a way to a stress, not one stress
  e.unit = "MPa";
  e.source = m.maker.rules.set->hot_spot.clause.source();
  e.from_memory = true;
  e.inputs = {{"unknowns", m.answer.unknowns, ""}, {"volume", m.answer.volume_mm3 / m.answer.planned_mm3, ""}};
  if (m.scaled_apart)
    e.notes.push_back({"rating.joint-scaled", {text("joint", m.joint.id), number("apart", 100 * std::expm1(*m.scaled_apart), "%"),
                                               number("error", 100 * scaled_error, "%")}});
  else
    e.notes.push_back({"rating.joint-model", {text("joint", m.joint.id), number("unknowns", m.answer.unknowns, "")}});
  return e;
}

// Stress of a surface on a plane turned by so much from the toe's own.
Eigen::RowVectorXd on_plane(const solid::SurfaceStress& s, double turn_deg) {
  const double c = std::cos(turn_deg * degree), n = std::sin(turn_deg * degree);
  return c * c * s.normal + n * n * s.along + 2 * c * n * s.shear;
}

// The set's own points on the surface, or the stress linearised through the wall: the larger, since a coarse mesh rounds the one and
// not the other.
void add_toe(Modelled& m, const PlaceKind& kind, double angle_deg, double wall_mm, const Toe& toe, const SectionStress& through) {
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
  m.maker.push(place, m.row_of(on_surface > in_wall ? surface.normal : linear), evidence);
  // Principal stress within 60 degrees of the square to the weld: planes on which more acts than on its own.
  const double own = m.size_of(surface.normal);
  for (const double turn_deg : {-50.0, -25.0, 25.0, 50.0}) {
    const Eigen::RowVectorXd turned = on_plane(surface, turn_deg);
    if (m.size_of(turned) < 1.05 * std::max(own, in_wall)) continue;
    place.angle_deg = angle_deg + turn_deg / 25;  // a name of its own
    m.maker.push(place, m.row_of(turned), evidence);
  }
}

void add_toes(Modelled& m, double brace_wall, double chord_wall) {
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
void add_root(Modelled& m, double wall_mm) {
  for (int k = 0; k < solid::places_around; ++k) {
    const SectionStress* worst = nullptr;
    std::string_view name;
    for (const auto& [kind, section_name] : solid::section_kinds) {
      if (kind == SectionKind::brace_wall || kind == SectionKind::chord_wall) continue;
      const SectionStress& s = m.seam.sections[static_cast<std::size_t>(kind)][static_cast<std::size_t>(k)];
      if (worst && m.size_of(s.membrane + s.bending) <= m.size_of(worst->membrane + worst->bending)) continue;
      worst = &s;
      name = section_name;
    }
    Evidence e = model_evidence(m, solid::scaled_root_error);
    e.source = m.maker.rules.set->throat.clause.source();
    e.coverage = Coverage::extended;
    e.inputs.push_back({std::string(name), worst->length_mm, "mm"});
    e.notes.push_back({"rating.root-from-model", {}});
    push_root_of_model(m.maker, {m.weld, place::root, m.angle_deg(k), wall_mm},
                       m.row_of(worst->membrane + worst->bending), m.row_of(worst->across), m.row_of(worst->along), e);
  }
}

// A fused root can crack from the inside through the brace's wall: the stress there, linearised, on the set's class for one-sided full
// penetration.
void add_inner_wall(Modelled& m, double wall_mm) {
  if (!m.maker.has_detail(m.weld, place::root_wall)) return;
  const auto& brace = m.seam.sections[static_cast<std::size_t>(SectionKind::brace_wall)];
  for (int k = 0; k < solid::places_around; ++k) {
    const SectionStress& s = brace[static_cast<std::size_t>(k)];
    Evidence e = model_evidence(m, solid::scaled_toe_error);
    e.coverage = Coverage::extended;
    e.notes.push_back({"rating.root-proven", {text("proof", m.maker.design.welds[m.weld].root_proof)}});
    m.maker.push({m.weld, place::root_wall, m.angle_deg(k), wall_mm}, m.row_of(s.membrane - s.bending), e);
  }
}

}  // namespace

bool add_modelled_sites(SiteMaker& maker, std::size_t weld) {
  if (!maker.joints) return false;
  const joints::Weld& w = maker.design.welds[weld];
  for (std::size_t j = 0; j < maker.joints->size(); ++j) {
    const solid::ModelledJoint& joint = (*maker.joints)[j];
    const auto found = std::find(joint.joint.welds.begin(), joint.joint.welds.end(), w.id);
    if (found == joint.joint.welds.end()) continue;
    const auto number = static_cast<std::size_t>(found - joint.joint.welds.begin());
    const solid::Seam& seam = joint.joint.task.seams[number];
    if (joint.answer->welds[number] == shape::Rung::none) return false;  // a joint without its weld metal tells nothing of the weld
    Modelled m{maker, weld, joint.joint, *joint.answer, joint.answer->seams[number], maker.assembly.bodies[j].first_row + 6,
               joint.scaled ? std::optional(joint.apart) : std::nullopt, usual_forces(joint.joint.task)};
    const auto wall = [&](int part) {
      return shape::thickness_mm(
          std::get<shape::Hollow>(joint.joint.task.parts[static_cast<std::size_t>(part)].body).stretches.front().section);
    };
    add_toes(m, wall(seam.brace), wall(seam.chord));
    if (seam.fused)
      add_inner_wall(m, wall(seam.brace));
    else
      add_root(m, wall(seam.brace));
    return true;
  }
  return false;
}

}  // namespace seamwright::sites
