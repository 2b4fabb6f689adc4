// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/joint_report.h"

#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/frame/element.h"
#include "engine/frame/section.h"
#include "engine/joints/flexibility.h"
#include "engine/joints/hot_spot.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::models {

namespace {

using solid::JointAnswer;
using solid::JointTask;
using solid::SectionKind;
using solid::Vec3;
using Wrench = Eigen::Matrix<double, 6, 1>;
using Columns = Eigen::Matrix<double, Eigen::Dynamic, 3>;  // of the answer, for the three loads

// The brace's axis, the crown's direction across it, and the third.
struct BraceAxes {
  Vec3 along, crown, side;
};

const shape::Stretch& stretch_of(const JointTask& task, int part) {
  return std::get<shape::Hollow>(task.parts[static_cast<std::size_t>(part)].body).stretches.front();
}

frame::SectionProperties properties(const JointTask& task, int part) {
  return frame::section_properties(stretch_of(task, part).section, task.steel.poisson).properties;
}

BraceAxes axes_of(const solid::Seam& seam) {
  BraceAxes a{shape::along(seam.fillet.brace), seam.fillet.crown, {}};
  a.side = a.along.cross(a.crown);
  return a;
}

std::vector<std::size_t> ends_of(const JointTask& task, int part) {
  std::vector<std::size_t> out;
  for (std::size_t e = 0; e < task.ends.size(); ++e)
    if (task.ends[e].part == part) out.push_back(e);
  return out;
}

// The end at which the brace can be loaded: the one it leads to.
std::optional<std::size_t> brace_end(const JointTask& task, const solid::Seam& seam) {
  const Vec3 along = shape::along(seam.fillet.brace);
  for (const std::size_t e : ends_of(task, seam.brace))
    if (task.ends[e].out.dot(along) > 0) return e;
  return {};
}

// All places' displacements and forces for the three loads, with the chord's ends held.
struct Loaded {
  Columns moved, forces;
};

Loaded loaded(const JointTask& task, const Eigen::MatrixXd& stiffness, const solid::Seam& seam, std::size_t end) {
  std::vector<Eigen::Index> free;
  const std::vector<std::size_t> held = ends_of(task, seam.chord);
  for (Eigen::Index i = 0; i < stiffness.rows(); ++i)
    if (std::find(held.begin(), held.end(), static_cast<std::size_t>(i / 6)) == held.end()) free.push_back(i);
  const frame::SectionProperties p = properties(task, seam.brace);
  const BraceAxes a = axes_of(seam);
  const double modulus = p.i_y_mm4 / p.outer_y_mm;
  Columns load = Columns::Zero(stiffness.rows(), 3);
  const auto at = 6 * static_cast<Eigen::Index>(end);
  load.block<3, 1>(at, 0) = p.area_mm2 * a.along;
  load.block<3, 1>(at + 3, 1) = -modulus * a.side;
  load.block<3, 1>(at + 3, 2) = modulus * a.crown;
  Loaded out{Columns::Zero(stiffness.rows(), 3), {}};
  const Eigen::MatrixXd of_free = stiffness(free, free), load_of_free = load(free, Eigen::all), moved = of_free.ldlt().solve(load_of_free);
  out.moved(free, Eigen::all) = moved;
  out.forces = stiffness * out.moved;
  return out;
}

// The chord's nominal stress along its axis at a surface point, from the forces at the end on that side.
ByLoad chord_stress(const JointTask& task, const solid::Seam& seam, const Loaded& loads, const Vec3& at) {
  const shape::Stretch& chord = stretch_of(task, seam.chord);
  const Vec3 axis = shape::along(chord), node = seam.fillet.brace.from;
  const double side = (at - node).dot(axis);
  const std::vector<std::size_t> ends = ends_of(task, seam.chord);
  ByLoad out{};
  if (ends.empty()) return out;
  // The end on the point's own side; its force comes through the section whole.
  const auto nearest = std::min_element(ends.begin(), ends.end(), [&](std::size_t a, std::size_t b) {
    const auto off = [&](std::size_t e) { return (task.ends[e].at - node).dot(axis) * (side < 0 ? 1 : -1); };
    return off(a) < off(b);
  });
  const solid::End& end = task.ends[*nearest];
  if ((end.at - node).dot(axis) * side < 0) return out;  // the chord ends there
  const Vec3 centre = end.at + (at - end.at).dot(axis) * axis, arm = at - centre;
  const frame::SectionProperties p = properties(task, seam.chord);
  for (std::size_t load = 0; load < 3; ++load) {
    const Wrench f = loads.forces.block<6, 1>(6 * static_cast<Eigen::Index>(*nearest), static_cast<Eigen::Index>(load));
    const Vec3 force = f.head<3>(), moment = f.tail<3>() + (end.at - centre).cross(force);
    out[load] = force.dot(end.out) / p.area_mm2 + moment.cross(arm).dot(end.out) / p.i_y_mm4;
  }
  return out;
}

double larger(double a, double b) { return std::abs(a) > std::abs(b) ? a : b; }

JointReport::ToePlace toe_place(const JointTask& task, const solid::Seam& seam, const solid::SeamAnswer& answer, const Loaded& loads,
                                const solid::SeamPath& path, std::size_t place, bool on_chord) {
  JointReport::ToePlace out;
  out.on_chord = on_chord;
  out.angle_deg = 360.0 * static_cast<double>(place) / solid::places_around;
  const solid::Toe& toe = (on_chord ? answer.chord_toes : answer.brace_toes)[place];
  out.is_there = toe.is_there;
  if (!toe.is_there) return out;
  const solid::SectionStress& wall =
      answer.sections[static_cast<std::size_t>(on_chord ? SectionKind::chord_wall : SectionKind::brace_wall)][place];
  const Columns columns = loads.forces.bottomRows(loads.forces.rows() - 6);
  const ByLoad own = on_chord ? chord_stress(task, seam, loads, path.section_at(out.angle_deg * std::numbers::pi / 180).chord_toe) : ByLoad{};
  // The chord's own stress runs along it; square to the toe acts its share.
  const solid::SeamSection& s = path.section_at(out.angle_deg * std::numbers::pi / 180);
  const double share = std::pow(s.along_chord.dot(shape::along(stretch_of(task, seam.chord))), 2);
  for (std::size_t load = 0; load < 3; ++load) {
    const auto column = columns.col(static_cast<Eigen::Index>(load));
    const double on_surface = toe.readings.empty() ? 0 : toe.readings.front().normal.dot(column), linear = (wall.membrane + wall.bending).dot(column);
    out.model[load] = larger(on_surface, linear) - share * own[load];
  }
  return out;
}

JointReport::Section section_of(const solid::SeamAnswer& answer, SectionKind kind, std::string_view name, const Loaded& loads) {
  JointReport::Section out{name, 1e9, 0, {}, {}};
  const Columns columns = loads.forces.bottomRows(loads.forces.rows() - 6);
  const auto& all = answer.sections[static_cast<std::size_t>(kind)];
  for (std::size_t k = 0; k < all.size(); ++k) {
    out.least_mm = std::min(out.least_mm, all[k].length_mm);
    out.most_mm = std::max(out.most_mm, all[k].length_mm);
    for (std::size_t load = 0; load < 3; ++load) {
      const double here = (all[k].membrane + all[k].bending).dot(columns.col(static_cast<Eigen::Index>(load)));
      if (std::abs(here) <= std::abs(out.worst[load])) continue;
      out.worst[load] = here;
      out.angle_deg[load] = 360.0 * static_cast<double>(k) / solid::places_around;
    }
  }
  return out;
}

bool is_of_root(const solid::SeamAnswer& answer, SectionKind kind) {
  return kind != SectionKind::brace_wall && kind != SectionKind::chord_wall && !answer.sections[static_cast<std::size_t>(kind)].empty();
}

std::vector<JointReport::RootPlace> root_places(const solid::SeamAnswer& answer, const Loaded& loads) {
  std::vector<JointReport::RootPlace> out;
  const Columns columns = loads.forces.bottomRows(loads.forces.rows() - 6);
  for (std::size_t k = 0; k < solid::places_around; ++k) {
    JointReport::RootPlace place{360.0 * static_cast<double>(k) / solid::places_around, {}};
    for (const auto& [kind, name] : solid::section_kinds) {
      if (!is_of_root(answer, kind)) continue;
      const solid::SectionStress& s = answer.sections[static_cast<std::size_t>(kind)][k];
      for (std::size_t load = 0; load < 3; ++load)
        place.model[load] = larger(place.model[load], (s.membrane + s.bending).dot(columns.col(static_cast<Eigen::Index>(load))));
    }
    out.push_back(place);
  }
  return out;
}

// The brace's end in a model of beams: the chord held at its ends, rigid to its surface.
Eigen::Matrix<double, 6, 6> beam_flexibility(const JointTask& task, const solid::Seam& seam, std::size_t end) {
  const auto beam = [&](int part, const Vec3& from, const Vec3& to, const Vec3& arm) {
    const auto axes = *frame::local_axes(to - from, std::nullopt);
    const Eigen::Matrix<double, 12, 12> local = frame::to_local_ends(axes, arm, Vec3::Zero());
    const double length = (to - from - arm).norm();
    return Eigen::Matrix<double, 12, 12>(
        local.transpose() *
        frame::element_stiffness({properties(task, part), task.steel.youngs_mpa, task.steel.poisson, 0, length, false}) * local);
  };
  const Vec3 node = seam.fillet.brace.from;
  Eigen::MatrixXd k = Eigen::MatrixXd::Zero(12, 12);  // node, brace's end
  for (const std::size_t e : ends_of(task, seam.chord))
    k.topLeftCorner<6, 6>() += beam(seam.chord, node, task.ends[e].at, Vec3::Zero()).topLeftCorner<6, 6>();
  const Vec3 along = shape::along(seam.fillet.brace), chord = shape::along(seam.fillet.chord);
  const double sine = along.cross(chord).norm();
  k += beam(seam.brace, node, task.ends[end].at, shape::outer_radius_mm(seam.fillet.chord.section) / sine * along);
  return Eigen::MatrixXd(k.inverse()).bottomRightCorner<6, 6>();
}

// What the brace's foot gives way beyond beams, for loads at the foot: along the brace, turning in and out of the plane.
ByLoad local_flexibility(const JointTask& task, const solid::Seam& seam, std::size_t end, const Loaded& loads) {
  const BraceAxes a = axes_of(seam);
  const Eigen::Matrix<double, 6, 6> beam = beam_flexibility(task, seam, end);
  const frame::SectionProperties p = properties(task, seam.brace);
  const double modulus = p.i_y_mm4 / p.outer_y_mm;
  const auto at = 6 * static_cast<Eigen::Index>(end);
  Wrench axial = Wrench::Zero(), in = axial, out = axial;
  axial.head<3>() = a.along;
  in.tail<3>() = -a.side;
  out.tail<3>() = a.crown;
  return {axial.dot(Wrench(loads.moved.block<6, 1>(at, 0))) / p.area_mm2 - axial.dot(beam * axial),
          in.dot(Wrench(loads.moved.block<6, 1>(at, 1))) / modulus - in.dot(beam * in),
          out.dot(Wrench(loads.moved.block<6, 1>(at, 2))) / modulus - out.dot(beam * out)};
}

// The equations, where both tubes are round and they give something.
void add_equations(const design::Design& design, const joints::Weld& weld, double fixity, double youngs, JointReport::Seam& seam) {
  const frame::RoundTube *brace = design::round_tube(design.frame, weld.member), *chord = design::round_tube(design.frame, weld.chord);
  if (!brace || !chord) return;
  const design::Seat seat = design::seat_of(design.frame, weld);
  const joints::TyJoint joint{chord->diameter_mm, chord->wall_mm, seat.chord_length_mm, brace->diameter_mm, brace->wall_mm, seat.angle_deg};
  const joints::TyScf scf = joints::ty_scf(joint, fixity);
  if (scf.evidence.coverage == Coverage::none) return;
  for (JointReport::ToePlace& place : seam.toes) {
    const double eighth = place.angle_deg / 45;
    if (std::abs(eighth - std::round(eighth)) > 1e-6) continue;
    const auto factors = joints::eight_point_factors(place.on_chord ? scf.chord : scf.brace);
    const auto row = static_cast<Eigen::Index>(std::lround(eighth)) % 8;
    place.equations = ByLoad{factors(row, 0), factors(row, 1), -factors(row, 2)};  // theirs pull at 270 degrees
  }
  const joints::JointFlexibility f = joints::joint_flexibility(joint, youngs);
  seam.formula = ByLoad{f.axial, f.in_plane, f.out_of_plane};
}

// A joint solved as its mirror image: angles count the other way, and bending out of the plane pulls at the other side.
void mirror_back(const solid::FrameJoint& joint, JointReport::Seam& seam) {
  for (JointReport::ToePlace& p : seam.toes) {
    p.angle_deg = solid::angle_in_frame(joint, p.angle_deg);
    p.model[2] = -p.model[2];
    if (p.equations) (*p.equations)[2] = -(*p.equations)[2];
  }
  std::stable_sort(seam.toes.begin(), seam.toes.end(), [](const auto& a, const auto& b) {
    return std::pair(!a.on_chord, a.angle_deg) < std::pair(!b.on_chord, b.angle_deg);
  });
  for (JointReport::RootPlace& p : seam.root) {
    p.angle_deg = solid::angle_in_frame(joint, p.angle_deg);
    p.model[2] = -p.model[2];
  }
  for (JointReport::Section& s : seam.sections) {
    for (double& angle : s.angle_deg) angle = solid::angle_in_frame(joint, angle);
    s.worst[2] = -s.worst[2];
  }
}

}  // namespace

JointReport joint_report(const design::Design& design, const solid::ModelledJoint& joint, double fixity) {
  const JointTask& task = joint.joint.task;
  const JointAnswer& answer = *joint.answer;
  JointReport report{joint.joint.id, joint.joint.nodes, joint.joint.ends, answer.unknowns, answer.volume_mm3 / answer.planned_mm3,
                     answer.residual, answer.reaction, {}};
  const Eigen::MatrixXd stiffness = solid::stiffness_of(task, answer);
  for (std::size_t i = 0; i < task.seams.size(); ++i) {
    const solid::Seam& seam = task.seams[i];
    const std::string& id = joint.joint.welds[i];
    const joints::Weld& weld = *std::find_if(design.welds.begin(), design.welds.end(), [&](const joints::Weld& w) { return w.id == id; });
    JointReport::Seam out;
    out.weld = id;
    out.brace = weld.member;
    out.chord = weld.chord;
    out.rung = answer.welds[i];
    out.fused = seam.fused;
    out.mesh_error = answer.seams[i].mesh_error;
    out.thinnest_mm = design::thinnest_wall_mm(design.frame, weld);
    const std::optional<std::size_t> end = brace_end(task, seam);
    out.loaded = end.has_value() && !ends_of(task, seam.chord).empty();
    if (out.loaded) {
      const Loaded loads = loaded(task, stiffness, seam, *end);
      const solid::SeamPath path = solid::path_of(seam);
      for (const bool on_chord : {true, false})
        for (std::size_t place = 0; place < solid::places_around; ++place)
          out.toes.push_back(toe_place(task, seam, answer.seams[i], loads, path, place, on_chord));
      for (const auto& [kind, name] : solid::section_kinds)
        if (is_of_root(answer.seams[i], kind)) out.sections.push_back(section_of(answer.seams[i], kind, name, loads));
      if (!out.sections.empty()) out.root = root_places(answer.seams[i], loads);
      out.flexibility = local_flexibility(task, seam, *end, loads);
    }
    add_equations(design, weld, fixity, task.steel.youngs_mpa, out);
    if (joint.joint.mirrored()) mirror_back(joint.joint, out);
    report.seams.push_back(std::move(out));
  }
  return report;
}

}  // namespace seamwright::models
