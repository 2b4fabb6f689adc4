// SPDX-License-Identifier: GPL-3.0-or-later
// Two T joints on one chord: as one solid, and as beams between two models of one joint each.
#include <algorithm>

#include "engine/frame/statics.h"
#include "engine/solid/joint_models.h"
#include "tests/published/outside/outside.h"
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

}  // namespace

TEST_CASE("beams between models of joints stand for the frame as one solid") {
  // One solid: both braces on a chord with fixed ends. Of the chord 30 mm between the joints are a beam, and 45 mm at either end.
  Tee whole{chord_mm, wall_mm, half_mm, {brace, brace}, brace_length_mm, 1.0};
  whole.braces[0].at_mm = -apart_mm / 2;
  whole.braces[1].at_mm = apart_mm / 2;
  const JointAnswer one_solid = answered(task_of(whole));

  const Tee part{chord_mm, wall_mm, reach_mm, {brace}, stub_mm, 1.0};
  JointTask task = task_of(part);
  task.seats = {{0, {0, 0, 0}}};
  const JointAnswer answer = answered(task);
  const frame::Frame frame = with_bodies(beams(), {joint_at(-apart_mm / 2, "1", "one", task, answer), joint_at(apart_mm / 2, "2", "two", task, answer)});
  const frame::Assembly assembly = frame::assemble(frame, frame::Footing::supports);
  const frame::Statics statics(assembly);
  const Eigen::SparseMatrix<double> forces_of = frame::section_force_map(assembly);
  for (const Vec3& push : pushes) {
    frame::LoadCase load{"push", {{"T1", push, {0, 0, 0}}}, 0};
    const Eigen::VectorXd u = statics.solve(frame::case_load(assembly, load)).displacements;
    Eigen::Matrix<double, 6, 1> at_brace = Eigen::Matrix<double, 6, 1>::Zero();
    at_brace.head<3>() = push;
    const Eigen::VectorXd columns = combined(one_solid, {at_brace, Eigen::Matrix<double, 6, 1>::Zero()});
    const Eigen::VectorXd moved = one_solid.flexibility * columns;
    SOURCE(evaluated, "the same frame as one solid, by the elements that CalculiX confirms on the same mesh",
           "3 % of deflection, 10 % of stress: what the beams between cannot know");
    CHECK(push.dot(u.segment<3>(6 * 4)) == outside::Expected(push.dot(moved.segment<3>(6))).epsilon(0.03));
    const Eigen::VectorXd taken = (forces_of * u).segment(assembly.bodies[0].first_row + 6, answer.flexibility.cols());
    for (const SectionKind wall : {SectionKind::brace_wall, SectionKind::chord_wall}) {
      const auto toes = [&](const SeamAnswer& s) -> const std::vector<Toe>& { return wall == SectionKind::brace_wall ? s.brace_toes : s.chord_toes; };
      const auto number = static_cast<std::size_t>(wall);
      CHECK(worst_toe(toes(answer.seams[0]), answer.seams[0].sections[number], taken) ==
            outside::Expected(worst_toe(toes(one_solid.seams[0]), one_solid.seams[0].sections[number], columns)).epsilon(0.1));
    }
  }
}

}  // namespace seamwright::solid
