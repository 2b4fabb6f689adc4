// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/test_specimen.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "engine/design/design.h"
#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/frame/element.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/solid/joint_models.h"
#include "engine/solid/seam_path.h"

namespace seamwright::study {

namespace {

using frame::Vec3;
using Vector6 = Eigen::Matrix<double, 6, 1>;
using Matrix6 = Eigen::Matrix<double, 6, 6>;

constexpr double diameters_beyond_toes = 3, least_beyond_model = 0.5, rounded_up_to_mm = 5, legs_within_mm = 0.1;

const frame::Section& section_of(const solid::JointTask& task, const solid::End& end) {
  const std::vector<shape::Stretch>& way = std::get<shape::Hollow>(task.parts[static_cast<std::size_t>(end.part)].body).stretches;
  const auto nearest = [&](const shape::Stretch& s) { return std::min((s.from - end.at).norm(), (s.to - end.at).norm()); };
  return std::min_element(way.begin(), way.end(), [&](const auto& a, const auto& b) { return nearest(a) < nearest(b); })->section;
}

double furthest_toe(const solid::SeamPath& path, const Vec3& node, const Vec3& out) {
  double furthest = 0;
  for (const solid::SeamSection& s : path.sections())
    for (const Vec3& toe : {s.brace_toe, s.chord_toe}) furthest = std::max(furthest, (toe - node).dot(out));
  return furthest;
}

SpecimenTube tube_of(const design::Design& design, const solid::FrameJoint& joint, std::size_t end, const Vec3& node,
                     const solid::SeamPath& path) {
  const solid::End& sawn = joint.task.ends[end];
  SpecimenTube t;
  t.member = joint.ends[end].member;
  t.section = section_of(joint.task, sawn);
  t.material = design::tube_of(design.frame, design::member_of(design.frame, t.member)).material;
  t.out = sawn.out;
  t.model_end_mm = sawn.at;
  t.toe_mm = furthest_toe(path, node, t.out);
  const double wide = 2 * shape::outer_radius_mm(t.section), model_mm = (sawn.at - node).dot(t.out);
  const double asked = std::max(t.toe_mm + diameters_beyond_toes * wide, model_mm + least_beyond_model * wide);
  t.length_mm = rounded_up_to_mm * std::ceil(asked / rounded_up_to_mm);
  t.beyond_model_mm = t.length_mm - model_mm;
  return t;
}

// The stiffness of a tube from the model's end to where it is cut: local order of frame/element.h, global axes.
Eigen::Matrix<double, 12, 12> beam_of(const SpecimenTube& t, const solid::Elastic& steel) {
  frame::ElementData data;
  data.section = frame::section_properties(t.section, steel.poisson).properties;
  data.youngs_mpa = steel.youngs_mpa;
  data.poisson = steel.poisson;
  data.length_mm = t.beyond_model_mm;
  const Eigen::Matrix<double, 12, 12> turn = frame::to_local_ends(*frame::local_axes(t.out, {}), Vec3::Zero(), Vec3::Zero());
  return turn.transpose() * frame::element_stiffness(data) * turn;
}

// The joint's matrix over its ends alone: nothing loads the nodes within.
Eigen::MatrixXd stiffness_over_ends(const solid::ModelledJoint& joint) {
  solid::JointTask ends = joint.joint.task;
  ends.seats.clear();
  solid::JointAnswer answer;
  const auto size = static_cast<Eigen::Index>(6 * (ends.ends.size() - 1));
  answer.flexibility = joint.answer->flexibility.topLeftCorner(size, size);
  return solid::stiffness_of(ends, answer);
}

// Axial force, resulting moment and torsion at a place of a tube, by what acts on the joint at the model's end.
double nominal_at(const SpecimenTube& t, const Vector6& on_joint, double from_model_mm, const frame::SectionProperties& p) {
  const Vec3 force = on_joint.head<3>(), moment = on_joint.tail<3>() - (from_model_mm * t.out).cross(force);
  const double torsion = moment.dot(t.out), bending = (moment - torsion * t.out).norm();
  const double along = std::abs(force.dot(t.out)) / p.area_mm2 + bending / p.w_y_mm3, shear = std::abs(torsion) / p.w_t_mm3;
  return std::sqrt(along * along + 3 * shear * shear);
}

// Directions of brace and chord, and how far the chord reaches.
void add_axes(const Vec3& way, const shape::Hollow& chord_part, Specimen& out) {
  out.along_chord = way.dot(out.brace) < 0 ? Vec3(-way) : way;
  out.in_plane = (out.along_chord - out.along_chord.dot(out.brace) * out.brace).normalized();
  out.across = out.brace.cross(out.in_plane);
  out.angle_deg = std::acos(std::min(1.0, out.along_chord.dot(out.brace))) / degree;
  out.chord_section = chord_part.stretches.front().section;
  for (const shape::Stretch& s : chord_part.stretches)
    for (const Vec3& end : {s.from, s.to}) {
      out.chord_ahead_mm = std::max(out.chord_ahead_mm, (end - out.node_mm).dot(out.along_chord));
      out.chord_behind_mm = std::max(out.chord_behind_mm, (out.node_mm - end).dot(out.along_chord));
    }
}

}  // namespace

const char* name_of(TestForce force) {
  constexpr const char* names[] = {"axial", "in-plane", "out-of-plane"};
  return names[static_cast<std::size_t>(force)];
}

const char* name_of(TubeUse use) {
  constexpr const char* names[] = {"held", "loaded", "free"};
  return names[static_cast<std::size_t>(use)];
}

Vec3 Specimen::direction(TestForce force) const {
  return force == TestForce::axial ? brace : force == TestForce::in_plane ? in_plane : across;
}

double Specimen::lever_mm() const { return loaded_tube().length_mm - loaded_tube().toe_mm; }

std::optional<Specimen> specimen_of(const design::Design& design, const solid::ModelledJoint& joint, std::size_t seam) {
  const solid::JointTask& task = joint.joint.task;
  const solid::Seam& s = task.seams[seam];
  const auto weld = std::find_if(design.welds.begin(), design.welds.end(), [&](const joints::Weld& w) { return w.id == joint.joint.welds[seam]; });
  if (weld == design.welds.end() || task.ends.size() < 2) return {};
  Specimen out;
  out.weld = weld->id;
  out.node = weld->node;
  out.member = weld->member;
  out.chord = weld->chord;
  out.procedure = weld->procedure;
  out.throat_mm = weld->throat_mm;
  out.leg_crown_mm = s.fillet.leg_crown_mm;
  out.leg_saddle_mm = s.fillet.leg_saddle_mm;
  out.node_mm = joint.joint.axes * (design::position_of(design.frame, weld->node) - joint.joint.origin_mm);
  const solid::SeamPath path(s.fillet, 72);
  out.loaded = task.ends.size();
  for (std::size_t e = 0; e < task.ends.size(); ++e) {
    out.tubes.push_back(tube_of(design, joint.joint, e, out.node_mm, path));
    const bool of_chord = task.ends[e].part == s.chord;
    if (task.ends[e].part == s.brace) out.loaded = e;
    if (of_chord) out.tubes.back().use = TubeUse::held;
    out.chord_held = out.chord_held || of_chord;
  }
  if (out.loaded == task.ends.size()) return {};
  for (SpecimenTube& t : out.tubes)
    if (!out.chord_held) t.use = TubeUse::held;
  out.tubes[out.loaded].use = TubeUse::loaded;
  out.brace = out.tubes[out.loaded].out;
  add_axes(shape::along(s.fillet.chord), std::get<shape::Hollow>(task.parts[static_cast<std::size_t>(s.chord)].body), out);
  out.mirrored = joint.joint.mirrored();
  return out;
}

bool alike(const Specimen& a, const Specimen& b) {
  const auto near = [](double x, double y, double within) { return std::abs(x - y) <= within; };
  if (!near(a.angle_deg, b.angle_deg, 0.1) || !near(a.throat_mm, b.throat_mm, 1e-6) || !near(a.leg_crown_mm, b.leg_crown_mm, legs_within_mm) ||
      !near(a.leg_saddle_mm, b.leg_saddle_mm, legs_within_mm))
    return false;
  const auto same = [](const SpecimenTube& x, const SpecimenTube& y) { return x.section == y.section && x.length_mm == y.length_mm && x.use == y.use; };
  return std::is_permutation(a.tubes.begin(), a.tubes.end(), b.tubes.begin(), b.tubes.end(), same);
}

SpecimenForces specimen_forces(const Specimen& specimen, const solid::ModelledJoint& joint) {
  const solid::Elastic& steel = joint.joint.task.steel;
  const Eigen::MatrixXd body = stiffness_over_ends(joint);
  Eigen::MatrixXd whole = body;
  for (std::size_t e = 0; e < specimen.tubes.size(); ++e)
    if (specimen.tubes[e].use == TubeUse::held) {
      const auto first = static_cast<Eigen::Index>(6 * e);
      whole.block<6, 6>(first, first) += beam_of(specimen.tubes[e], steel).topLeftCorner<6, 6>();
    }
  const SpecimenTube& loaded = specimen.loaded_tube();
  const auto at = static_cast<Eigen::Index>(6 * specimen.loaded);
  Eigen::MatrixXd load = Eigen::MatrixXd::Zero(body.rows(), 3);
  for (const TestForce f : test_forces) {
    const Vec3 force = specimen.direction(f);
    load.col(static_cast<Eigen::Index>(f)).segment<6>(at) << force, (loaded.beyond_model_mm * loaded.out).cross(force);
  }
  const Eigen::MatrixXd moved = whole.ldlt().solve(load);
  SpecimenForces out{body * moved, Eigen::RowVectorXd::Zero(3), {}, Eigen::RowVectorXd::Zero(3)};
  const Eigen::Matrix<double, 12, 12> beam = beam_of(loaded, steel);
  for (Eigen::Index k = 0; k < 3; ++k) {
    for (std::size_t e = 0; e < specimen.tubes.size(); ++e) {
      const SpecimenTube& t = specimen.tubes[e];
      const frame::SectionProperties p = frame::section_properties(t.section, steel.poisson).properties;
      const Vector6 forces = out.at_ends.col(k).segment<6>(static_cast<Eigen::Index>(6 * e));
      const double to_toe = t.toe_mm - (t.length_mm - t.beyond_model_mm);
      for (const double place : {to_toe, 0.0, t.beyond_model_mm})
        if (const double stress = nominal_at(t, forces, place, p); stress > out.nominal_mpa[k]) {
          out.nominal_mpa[k] = stress;
          out.where[static_cast<std::size_t>(k)] = t.member;
        }
    }
    const Vec3 force = specimen.direction(test_forces[static_cast<std::size_t>(k)]);
    Vector6 at_tip = Vector6::Zero();
    at_tip.head<3>() = force;
    const Vector6 near = moved.col(k).segment<6>(at);
    const Vector6 tip = Matrix6(beam.bottomRightCorner<6, 6>()).ldlt().solve(at_tip - beam.bottomLeftCorner<6, 6>() * near);
    out.stroke_mm[k] = tip.head<3>().dot(force);
  }
  return out;
}

}  // namespace seamwright::study
