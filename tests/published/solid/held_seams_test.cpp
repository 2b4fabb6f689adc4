// SPDX-License-Identifier: GPL-3.0-or-later
// Every weld of a joint's model holds its brace on its chord all around, or there is no model.
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/solid/frame_joints.h"
#include "engine/solid/joined_legs.h"
#include "engine/solid/seam_path.h"
#include "tests/published/outside/outside.h"
#include "tests/published/solid/tee.h"

namespace seamwright::solid {

namespace {

using outside::Expected;

// The head tube of the road frame with a top tube nearly as wide; its nodes are drawn to tenths of a
// millimetre, so that they are not quite in line.
JointTask head_joint(double aside_mm) {
  design::Design d = files::read_design(
      SEAMWRIGHT_SOURCE_DIR "/tests/published/rating/road-frame/design.toml", published::catalog());
  for (frame::Tube& t : d.frame.tubes)
    if (t.id == "top") t.section = frame::RoundTube{28.6, 0.9};
  for (frame::Node& n : d.frame.nodes)
    if (n.id == "H2") n.position_mm.x() += aside_mm;
  const FrameJoints all = frame_joints(d, {2.5, nullptr});
  return std::find_if(all.joints.begin(), all.joints.end(), [](const FrameJoint& j) { return j.id == "H1"; })
      ->task;
}

// The force along the brace that the weld's leg on it takes: shear along the leg, each of the places standing
// for the seam about it.
double carried_along(const Seam& seam, const SeamAnswer& answer, const Eigen::VectorXd& load) {
  const SeamPath path = path_of(seam);
  const std::vector<SeamSection>& sections = path.sections();
  const auto middle = [&](std::size_t i) {
    return Vec3((sections[i % sections.size()].root + sections[i % sections.size()].brace_toe) / 2);
  };
  double sum = 0;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    const auto place = static_cast<std::size_t>(
                           std::lround(sections[i].angle_rad / (2 * std::numbers::pi) * places_around)) %
                       places_around;
    const SectionStress& leg = answer.sections[static_cast<std::size_t>(SectionKind::brace_leg)][place];
    sum += leg.across.dot(load) * leg.length_mm * (middle(i + 1) - middle(i)).norm();
  }
  return sum;
}

// The brace's elements come off the weld's beyond a quarter turn to either side of the crown.
void take_off(const JointTask& task, MeshedJoint& joint) {
  const SeamPath path = path_of(task.seams[0]);
  std::vector<bool> of_metal(static_cast<std::size_t>(joint.mesh.nodes.cols()), false);
  for (std::size_t t = 0; t < joint.mesh.tets.size(); ++t)
    if (joint.seam_of[static_cast<std::size_t>(joint.mesh.piece[t])] == 0)
      for (const int n : joint.mesh.tets[t]) of_metal[static_cast<std::size_t>(n)] = true;
  std::map<int, int> copy;
  std::vector<Vec3> places;
  for (std::size_t t = 0; t < joint.mesh.tets.size(); ++t) {
    if (joint.part_of[static_cast<std::size_t>(joint.mesh.piece[t])] != task.seams[0].brace) continue;
    for (int& n : joint.mesh.tets[t]) {
      const Vec3 at = joint.mesh.nodes.col(n);
      if (!of_metal[static_cast<std::size_t>(n)] || std::cos(path.sections()[path.nearest(at)].angle_rad) > 0)
        continue;
      const auto [own, fresh] = copy.try_emplace(n, static_cast<int>(of_metal.size() + places.size()));
      if (fresh) places.push_back(at);
      n = own->second;
    }
  }
  joint.mesh.nodes.conservativeResize(Eigen::NoChange,
                                      joint.mesh.nodes.cols() + static_cast<Eigen::Index>(places.size()));
  joint.mesh.nodes.rightCols(static_cast<Eigen::Index>(places.size())) =
      Eigen::Map<const Eigen::Matrix3Xd>(places[0].data(), 3, static_cast<Eigen::Index>(places.size()));
}

}  // namespace

TEST_CASE("nodes drawn to tenths of a millimetre leave the welds of a head tube whole") {
  SOURCE(closed_form, "equilibrium: the leg on the brace carries what pulls at its end",
         "16 places of a coarse mesh stand for the whole seam");
  const JointTask task = head_joint(0);
  REQUIRE(task.seams.size() == 2);
  MeshedJoint joint = mesher::mesh_of(task);
  for (std::size_t s = 0; s < 2; ++s) {
    CHECK(joint.welds[s] == shape::Rung::exact);
    for (const JoinedLeg& leg : joined_legs(task, joint, s)) {
      CHECK(leg.stands_free);
      CHECK(std::min(leg.brace, leg.chord) > 0.6);
      CHECK(std::max(leg.brace, leg.chord) < 1.5);
    }
  }
  const JointAnswer answer = joint_answer(task, std::move(joint), mesher::solve);
  const Vec3 top = shape::along(task.seams[0].fillet.brace), down = shape::along(task.seams[1].fillet.brace);
  Eigen::VectorXd pull =
      Eigen::VectorXd::Zero(answer.flexibility.cols());  // at the down tube's end; the top tube's is held
  REQUIRE(task.ends[0].part == task.seams[0].brace);
  REQUIRE(task.ends[1].part == task.seams[1].brace);
  pull.head<3>() = down;
  CHECK(carried_along(task.seams[1], answer.seams[1], pull) == Expected(-1).epsilon(0.1));
  CHECK(carried_along(task.seams[0], answer.seams[0], pull) == Expected(top.dot(down)).margin(0.1));
  // Both braces lie in one plane, and so do the loads: either side of it carries the same, and no place
  // nothing.
  for (const SeamAnswer& seam : answer.seams) {
    std::vector<double> root;
    for (const SectionStress& leg : seam.sections[static_cast<std::size_t>(SectionKind::brace_leg)])
      root.push_back(std::abs((leg.membrane + leg.bending).dot(pull)) + std::abs(leg.across.dot(pull)));
    const double most = *std::max_element(root.begin(), root.end());
    for (std::size_t k = 1; k < places_around / 2; ++k)
      CHECK(root[k] == Expected(root[places_around - k]).margin(0.25 * most));
    CHECK(*std::min_element(root.begin(), root.end()) > 0.02 * most);
  }
}

TEST_CASE("a chord that bends under a weld has no model") {
  OURS;
  const JointTask bent = head_joint(1);
  CHECK_THROWS_WITH(mesher::mesh_of(bent), Catch::Contains("#2 bends under the weld of"));
}

TEST_CASE("a weld that holds half of its brace has no model") {
  OURS;
  const JointTask task = task_of({40, 2, 80, {{25, 2, 90, 0, 0, 2.8, 3.5, false}}, 60, 1.5});
  MeshedJoint joint = mesher::mesh_of(task);
  for (const JoinedLeg& leg : joined_legs(task, joint, 0)) CHECK(std::min(leg.brace, leg.chord) > 0.6);
  CHECK_NOTHROW(check_joined(task, joint));
  take_off(task, joint);
  const std::vector<JoinedLeg> half = joined_legs(task, joint, 0);
  for (std::size_t k = 5; k < 12; ++k) {
    CHECK(half[k].brace == 0);
    CHECK(half[k].chord > 0.6);
  }
  CHECK_THROWS_WITH(joint_answer(task, std::move(joint), mesher::solve),
                    Catch::Contains("does not hold all around"));
}

}  // namespace seamwright::solid
