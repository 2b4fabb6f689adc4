// SPDX-License-Identifier: GPL-3.0-or-later
// Two T joints on one chord: as one solid, by our elements and by night in CalculiX, and as beams between two models of one joint each.
#include <algorithm>

#include "engine/frame/statics.h"
#include "engine/solid/joint_models.h"
#include "tests/published/outside/outside.h"
#include "tests/published/solid/calculix.h"
#include "tests/published/solid/tee.h"

namespace seamwright::solid {

namespace {

constexpr double chord_mm = 40, brace_mm = 25, wall_mm = 2, apart_mm = 220, half_mm = 250, reach_mm = 95, brace_length_mm = 120, stub_mm = 55;
const BraceOf brace{brace_mm, wall_mm, 90, 0, 0, 2.83, 3.6, false};

// The task of one joint stands for both.
ModelledJoint joint_at(double x, const std::string& node, const std::string& member, const JointTask& task, const JointAnswer& answer) {
  ModelledJoint j;
  j.joint.id = node;
  j.joint.nodes = {node};
  j.joint.inside = {{"chord", half_mm + x - reach_mm, half_mm + x + reach_mm, true, true}, {member, -100, stub_mm, false, true}};
  j.joint.ends = {{"chord", true, half_mm + x - reach_mm}, {"chord", false, half_mm + x + reach_mm}, {member, false, stub_mm}};
  j.joint.origin_mm = {x, 0, 0};
  j.joint.task = task;
  j.answer = &answer;
  return j;
}

frame::Frame beams() {
  frame::Frame f;
  f.materials = {{"steel", 206000, 0.3, 7850}};
  f.tubes = {{"c", frame::RoundTube{chord_mm, wall_mm}, "steel"}, {"b", frame::RoundTube{brace_mm, wall_mm}, "steel"}};
  f.nodes = {{"L", {-half_mm, 0, 0}}, {"1", {-apart_mm / 2, 0, 0}}, {"2", {apart_mm / 2, 0, 0}}, {"R", {half_mm, 0, 0}},
             {"T1", {-apart_mm / 2, 0, brace_length_mm}}, {"T2", {apart_mm / 2, 0, brace_length_mm}}};
  frame::Member chord, one, two;
  chord.id = "chord";
  chord.tube = "c";
  chord.nodes = {"L", "1", "2", "R"};
  one.id = "one";
  one.tube = two.tube = "b";
  one.nodes = {"1", "T1"};
  two.id = "two";
  two.nodes = {"2", "T2"};
  f.members = {chord, one, two};
  f.supports = {{"L", {true, true, true, true, true, true}}, {"R", {true, true, true, true, true, true}}};
  return f;
}

// A load at the top of the first brace: along it, across it in the plane, out of the plane.
const std::array<Vec3, 3> pushes{Vec3(300, 0, 1000), Vec3(200, 0, 0), Vec3(0, 200, 0)};

double worst_toe(const std::vector<Toe>& toes, const std::vector<SectionStress>& walls, const Eigen::VectorXd& load) {
  double most = 0;
  for (std::size_t k = 0; k < toes.size(); ++k)
    most = std::max({most, std::abs((walls[k].membrane + walls[k].bending).dot(load)), std::abs(toes[k].readings[0].normal.dot(load))});
  return most;
}

// One solid: both braces on a chord with fixed ends. Of the chord 30 mm between the joints are a beam, and 45 mm at either end.
JointTask whole_frame() {
  Tee whole{chord_mm, wall_mm, half_mm, {brace, brace}, brace_length_mm, 1.0};
  whole.braces[0].at_mm = -apart_mm / 2;
  whole.braces[1].at_mm = apart_mm / 2;
  return task_of(whole);
}

// How far the load moves along itself, times the load; and the worst stress at the toes of the loaded brace on the brace's and chord's side.
struct Seen {
  double work, brace_toe, chord_toe;
};

Seen seen(double work, const SeamAnswer& seam, const Eigen::VectorXd& load) {
  const auto walls = [&](SectionKind kind) -> const std::vector<SectionStress>& { return seam.sections[static_cast<std::size_t>(kind)]; };
  return {work, worst_toe(seam.brace_toes, walls(SectionKind::brace_wall), load), worst_toe(seam.chord_toes, walls(SectionKind::chord_wall), load)};
}

std::vector<Seen> by_beams_and_models() {
  const Tee part{chord_mm, wall_mm, reach_mm, {brace}, stub_mm, 1.0};
  JointTask task = task_of(part);
  task.seats = {{0, {0, 0, 0}}};
  const JointAnswer answer = answered(task);
  const frame::Frame frame = with_bodies(beams(), {joint_at(-apart_mm / 2, "1", "one", task, answer), joint_at(apart_mm / 2, "2", "two", task, answer)});
  const frame::Assembly assembly = frame::assemble(frame, frame::Footing::supports);
  const frame::Statics statics(assembly);
  const Eigen::SparseMatrix<double> forces_of = frame::section_force_map(assembly);
  std::vector<Seen> out;
  for (const Vec3& push : pushes) {
    const frame::LoadCase load{"push", {{"T1", push, {0, 0, 0}}}, 0};
    const Eigen::VectorXd u = statics.solve(frame::case_load(assembly, load)).displacements;
    const Eigen::VectorXd taken = (forces_of * u).segment(assembly.bodies[0].first_row + 6, answer.flexibility.cols());
    out.push_back(seen(push.dot(u.segment<3>(6 * 4)), answer.seams[0], taken));
  }
  return out;
}

Eigen::Matrix<double, 6, 1> force_alone(const Vec3& push) {
  Eigen::Matrix<double, 6, 1> out = Eigen::Matrix<double, 6, 1>::Zero();
  out.head<3>() = push;
  return out;
}

void compare(const Seen& ours, const Seen& solid) {
  CHECK(ours.work == outside::Expected(solid.work).epsilon(0.03));
  CHECK(ours.brace_toe == outside::Expected(solid.brace_toe).epsilon(0.1));
  CHECK(ours.chord_toe == outside::Expected(solid.chord_toe).epsilon(0.1));
}

}  // namespace

TEST_CASE("beams between models of joints stand for the frame as one solid") {
  const JointAnswer one_solid = answered(whole_frame());
  const std::vector<Seen> ours = by_beams_and_models();
  for (std::size_t i = 0; i < pushes.size(); ++i) {
    const Eigen::VectorXd columns = combined(one_solid, {force_alone(pushes[i]), Eigen::Matrix<double, 6, 1>::Zero()});
    const Eigen::VectorXd moved = one_solid.flexibility * columns;
    SOURCE(evaluated, "the same frame as one solid, by the elements that CalculiX confirms on the same mesh",
           "3 % of deflection, 10 % of stress: what the beams between cannot know");
    compare(ours[i], seen(pushes[i].dot(moved.segment<3>(6)), one_solid.seams[0], columns));
  }
}

TEST_CASE("beams between models of joints stand for the frame as one solid in CalculiX", "[night]") {
  if (!has_calculix()) return;
  const JointTask task = whole_frame();
  MeshedJoint joint = mesher::mesh_of(task);
  open_roots(task, joint);
  SupportedBody body{joint.mesh, task.steel, {}, {}};
  for (const End& e : task.ends) body.ends.push_back(rigid_end(task, joint, e));
  std::vector<EndLoad> loads;
  for (const Vec3& push : pushes) loads.push_back({2, force_alone(push)});
  const CalculixAnswer theirs = calculix_answer(body, 2, loads);
  UnitAnswers moved;
  moved.moved = theirs.moved;
  const SeamAnswer seam = seam_answers(task, joint, body, moved)[0];
  const std::vector<Seen> ours = by_beams_and_models();
  for (std::size_t i = 0; i < pushes.size(); ++i) {
    const auto column = static_cast<Eigen::Index>(i);
    {
      SOURCE(evaluated, "CalculiX 2.20 (ccx), stress at the integration points of every element beside that from its displacements",
             "a thousandth of the largest: what it prints has seven digits");
      CHECK(stress_apart(body, theirs, i) < 1e-3);
    }
    SOURCE(evaluated, "CalculiX 2.20 (ccx), the same frame as one solid", "3 % of deflection, 10 % of stress: what the beams between cannot know");
    const double work = pushes[i].dot(theirs.end_moved.block<3, 1>(6, column));
    const Seen solid = seen(work, seam, Eigen::VectorXd::Unit(static_cast<Eigen::Index>(pushes.size()), column));
    CAPTURE(i, ours[i].work / solid.work, ours[i].brace_toe / solid.brace_toe, ours[i].chord_toe / solid.chord_toe);
    compare(ours[i], solid);
  }
}

}  // namespace seamwright::solid
