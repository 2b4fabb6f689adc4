// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/joint_answer.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/solid/joined_legs.h"
#include "engine/solid/mesh_error.h"
#include "engine/solid/slit.h"
#include "engine/solid/surface.h"
#include "engine/solid/usual_forces.h"

namespace seamwright::solid {

namespace {

const shape::Stretch& stretch_of(const JointTask& task, int part) {
  return std::get<shape::Hollow>(task.parts[static_cast<std::size_t>(part)].body).stretches.front();
}

std::vector<bool> tets_where(const MeshedJoint& joint, const std::vector<int>& of_piece, int wanted) {
  std::vector<bool> out;
  for (const int piece : joint.mesh.piece) out.push_back(of_piece[static_cast<std::size_t>(piece)] == wanted);
  return out;
}

// The nodes of its part within half a diameter of the seat along the tube, off the ends.
LooseSeat loose_seat(const JointTask& task, const MeshedJoint& joint, const Seat& seat, const std::vector<RigidEnd>& ends) {
  const shape::Stretch& tube = stretch_of(task, seat.part);
  const std::vector<bool> own = tets_where(joint, joint.part_of, seat.part);
  std::vector<bool> there(static_cast<std::size_t>(joint.mesh.nodes.cols()), false);
  for (std::size_t t = 0; t < own.size(); ++t)
    if (own[t])
      for (const int n : joint.mesh.tets[t])
        if (std::abs((joint.mesh.nodes.col(n) - seat.at).dot(shape::along(tube))) < shape::outer_radius_mm(tube.section))
          there[static_cast<std::size_t>(n)] = true;
  for (const RigidEnd& e : ends)
    for (const int n : e.nodes) there[static_cast<std::size_t>(n)] = false;
  LooseSeat out{seat.at, {}};
  for (std::size_t n = 0; n < there.size(); ++n)
    if (there[n]) out.nodes.push_back(static_cast<int>(n));
  if (out.nodes.size() < 8) throw std::runtime_error("no wall around a node of " + task.parts[static_cast<std::size_t>(seat.part)].id);
  return out;
}

// The tensor of a surface point in the plane of the toe: `away` from the weld, and along it.
SurfaceStress in_plane(const Eigen::MatrixXd& s, const Vec3& away, const Vec3& along) {
  const auto component = [&](const Vec3& a, const Vec3& b) -> Eigen::RowVectorXd {
    return a.x() * b.x() * s.row(0) + a.y() * b.y() * s.row(1) + a.z() * b.z() * s.row(2) + (a.x() * b.y() + a.y() * b.x()) * s.row(3) +
           (a.y() * b.z() + a.z() * b.y()) * s.row(4) + (a.z() * b.x() + a.x() * b.z()) * s.row(5);
  };
  return {component(away, away), component(along, along), component(away, along)};
}

// One side of a toe is asked for.
struct ToeSide {
  const shape::Stretch& tube;
  Vec3 toe, away;
};

Toe toe_at(const PartSurface& surface, const ToeSide& side, const std::vector<const std::vector<ReadPoint>*>& readings,
           const std::vector<Vec3>& neighbours, Eigen::Index columns) {
  Toe toe;
  toe.is_there = true;
  const double wall = shape::thickness_mm(side.tube.section);
  bool beside = false;
  const double tolerance = 0.2 * wall;
  for (const std::vector<ReadPoint>* points : readings) {
    const Eigen::RowVectorXd zero = Eigen::RowVectorXd::Zero(columns);
    SurfaceStress sum{zero, zero, zero};
    for (const ReadPoint& p : *points) {
      const Vec3 at = step_on(side.tube, side.toe, side.away, p.distance_mm);
      const auto stress = surface.stress_at(at, tolerance);
      if (!stress) return {};
      beside = beside || std::any_of(neighbours.begin(), neighbours.end(), [&](const Vec3& metal) { return (metal - at).norm() < wall; });
      const Vec3 normal = normal_of(side.tube, at), away = (side.away - side.away.dot(normal) * normal).normalized();
      const SurfaceStress there = in_plane(*stress, away, normal.cross(away));
      sum.normal += p.weight * there.normal;
      sum.along += p.weight * there.along;
      sum.shear += p.weight * there.shear;
    }
    toe.readings.push_back(std::move(sum));
  }
  if (beside) toe.readings.clear();
  return toe;
}

// Corners of other seams' weld metal in reach.
std::vector<Vec3> metal_beside(const MeshedJoint& joint, int seam, const std::vector<Vec3>& places, double reach) {
  std::vector<Vec3> out;
  for (std::size_t t = 0; t < joint.mesh.tets.size(); ++t) {
    const int own = joint.seam_of[static_cast<std::size_t>(joint.mesh.piece[t])];
    if (own < 0 || own == seam) continue;
    for (std::size_t i = 0; i < 4; ++i) {
      const Vec3 p = joint.mesh.nodes.col(joint.mesh.tets[t][i]);
      if (std::any_of(places.begin(), places.end(), [&](const Vec3& at) { return (at - p).squaredNorm() < reach * reach; })) out.push_back(p);
    }
  }
  return out;
}

std::vector<bool> near(const MeshedJoint& joint, const std::vector<Vec3>& places, double reach) {
  std::vector<bool> out;
  for (const Tet& t : joint.mesh.tets) {
    const Vec3 corner = joint.mesh.nodes.col(t[0]);
    out.push_back(std::any_of(places.begin(), places.end(), [&](const Vec3& p) { return (p - corner).squaredNorm() < reach * reach; }));
  }
  return out;
}

SeamAnswer seam_answer(const JointTask& task, const MeshedJoint& joint, const SupportedBody& body, const UnitAnswers& answers, std::size_t number) {
  const Seam& seam = task.seams[number];
  const shape::Stretch &brace = stretch_of(task, seam.brace), &chord = stretch_of(task, seam.chord);
  const SeamPath path = path_of(seam);
  const double thin = std::min(shape::thickness_mm(brace.section), shape::thickness_mm(chord.section));
  const SeamBody cut{body,
                     answers,
                     path,
                     brace,
                     chord,
                     tets_where(joint, joint.part_of, seam.brace),
                     tets_where(joint, joint.part_of, seam.chord),
                     tets_where(joint, joint.seam_of, static_cast<int>(number)),
                     task.size * thin};
  SeamAnswer out;
  out.weld = seam.weld;
  const bool has_metal = joint.welds[number] != shape::Rung::none;
  for (const auto& [kind, name] : section_kinds) {
    const bool of_weld = kind != SectionKind::brace_wall && kind != SectionKind::chord_wall;
    out.sections.push_back(seam.bare || (of_weld && (seam.fused || !has_metal)) ? std::vector<SectionStress>() : sections_around(cut, kind, places_around));
  }
  if (!seam.bare && !seam.fused && has_metal) out.slit = slit_tips_around(cut, usual_forces(task), places_around);
  std::vector<Vec3> roots;
  for (const SeamSection& s : path.sections()) roots.push_back(s.root);
  double furthest = 0;
  for (const Reading& r : seam.readings)
    for (const auto* points : {&r.brace, &r.chord_crown, &r.chord_saddle})
      for (const ReadPoint& p : *points) furthest = std::max(furthest, p.distance_mm);
  const double reach = path.greatest_leg_mm() + furthest + 4 * std::max(shape::thickness_mm(brace.section), shape::thickness_mm(chord.section));
  const std::vector<Vec3> neighbours = metal_beside(joint, static_cast<int>(number), roots, reach);
  out.mesh_error = mesh_error(body, near(joint, roots, path.greatest_leg_mm() + thin), answers.moved, usual_forces(task));
  const PartSurface on_brace(body, answers.moved, cut.on_brace, roots, reach), on_chord(body, answers.moved, cut.on_chord, roots, reach);
  for (int k = 0; k < places_around; ++k) {
    const double angle = 2 * std::numbers::pi * k / places_around;
    const SeamSection& s = path.section_at(angle);
    std::vector<const std::vector<ReadPoint>*> brace_points, chord_points;
    const bool crown = std::abs(std::cos(angle)) > std::sqrt(0.5) - 1e-9;
    for (const Reading& r : seam.readings) {
      brace_points.push_back(&r.brace);
      chord_points.push_back(crown ? &r.chord_crown : &r.chord_saddle);
    }
    out.brace_toes.push_back(toe_at(on_brace, {brace, s.brace_toe, s.up_brace}, brace_points, neighbours, answers.moved.cols()));
    out.chord_toes.push_back(toe_at(on_chord, {chord, s.chord_toe, s.along_chord}, chord_points, neighbours, answers.moved.cols()));
  }
  return out;
}

}  // namespace

RigidEnd rigid_end(const JointTask& task, const MeshedJoint& joint, const End& end) {
  const std::vector<bool> own = tets_where(joint, joint.part_of, end.part);
  std::vector<bool> there(static_cast<std::size_t>(joint.mesh.nodes.cols()), false);
  for (std::size_t t = 0; t < own.size(); ++t)
    if (own[t])
      for (const int n : joint.mesh.tets[t])
        if (std::abs((joint.mesh.nodes.col(n) - end.at).dot(end.out)) < 1e-4) there[static_cast<std::size_t>(n)] = true;
  RigidEnd out{end.at, {}};
  for (std::size_t n = 0; n < there.size(); ++n)
    if (there[n]) out.nodes.push_back(static_cast<int>(n));
  if (out.nodes.size() < 8) throw std::runtime_error("the end of " + task.parts[static_cast<std::size_t>(end.part)].id + " is not free");
  return out;
}

std::vector<SeamAnswer> seam_answers(const JointTask& task, const MeshedJoint& joint, const SupportedBody& body, const UnitAnswers& answers) {
  std::vector<SeamAnswer> out;
  for (std::size_t i = 0; i < task.seams.size(); ++i) out.push_back(seam_answer(task, joint, body, answers, i));
  return out;
}

void open_roots(const JointTask& task, MeshedJoint& joint) {
  std::vector<PieceRole> roles;
  for (std::size_t i = 0; i < joint.part_of.size(); ++i) {
    const int part = joint.seam_of[i] < 0 ? joint.part_of[i] : -1;
    const bool member = part >= 0 && !task.parts[static_cast<std::size_t>(part)].member.empty();
    roles.push_back({part < 0 ? PieceKind::weld : member ? PieceKind::member : PieceKind::other, part});
  }
  std::vector<std::pair<int, int>> fused;
  for (const Seam& s : task.seams)
    if (s.fused || s.bare) fused.emplace_back(s.brace, s.chord);
  open_slits(joint.mesh, roles, fused);
}

JointAnswer joint_answer(const JointTask& task, MeshedJoint joint, const Solver& solver) {
  open_roots(task, joint);
  check_joined(task, joint);
  SupportedBody body{joint.mesh, task.steel, {}, {}};
  for (const End& e : task.ends) body.ends.push_back(rigid_end(task, joint, e));
  for (const Seat& s : task.seats) body.seats.push_back(loose_seat(task, joint, s, body.ends));
  const UnitAnswers answers = unit_answers(body, solver);
  JointAnswer out;
  out.volume_mm3 = answers.volume_mm3;
  out.planned_mm3 = joint.planned_mm3;
  if (!(std::abs(out.volume_mm3 / out.planned_mm3 - 1) < 0.01))
    throw std::runtime_error("the mesh has " + std::to_string(out.volume_mm3) + " mm3 in place of " + std::to_string(out.planned_mm3));
  out.flexibility = answers.flexibility;
  out.residual = answers.residual;
  out.reaction = answers.reaction;
  out.unknowns = static_cast<double>(answers.unknowns);
  out.welds = joint.welds;
  out.seams = seam_answers(task, joint, body, answers);
  return out;
}

}  // namespace seamwright::solid
