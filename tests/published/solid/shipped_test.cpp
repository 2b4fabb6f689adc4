// SPDX-License-Identifier: GPL-3.0-or-later
// Models that come with the program against models worked out now: one joint every day, all of them by night.
#include "catalog/models/shipped.h"

#include <catch2/catch.hpp>
#include <cstdlib>

#include "catalog/files/job_reader.h"
#include "catalog/models/wire.h"
#include "catalog/published/published_data.h"
#include "engine/sites/joint_readings.h"
#include "engine/solid/mesher/mesher.h"

namespace seamwright::models {

namespace {

void check_alike(const solid::JointAnswer& kept, const solid::JointAnswer& now) {
  CHECK((kept.flexibility - now.flexibility).norm() < 1e-6 * now.flexibility.norm());
  const bool as_many_seams = kept.seams.size() == now.seams.size();
  REQUIRE(as_many_seams);
  for (std::size_t s = 0; s < now.seams.size(); ++s)
    for (std::size_t kind = 0; kind < now.seams[s].sections.size(); ++kind) {
      const auto &a = kept.seams[s].sections[kind], &b = now.seams[s].sections[kind];
      const bool as_many = a.size() == b.size();
      REQUIRE(as_many);
      for (std::size_t k = 0; k < b.size(); ++k) {
        const Eigen::RowVectorXd one = a[k].membrane + a[k].bending, other = b[k].membrane + b[k].bending;
        CHECK((one - other).norm() < 1e-4 * other.norm());
      }
    }
}

}  // namespace

TEST_CASE("every joint of the demonstrations comes with the program, as it would be worked out") {
  const char* const job = GENERATE("orchard-trike", "orchard-trike-b");
  CAPTURE(job);
  const auto design = files::read_design(files::design_path(std::string(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/") + job), published::catalog());
  const solid::FrameJoints joints = sites::frame_joints(design);
  REQUIRE(joints.joints.size() >= 20);
  std::vector<std::pair<const solid::JointTask*, solid::JointAnswer>> kept;
  for (const solid::FrameJoint& j : joints.joints) {
    CAPTURE(j.id);
    const auto answer = shipped_answer(bytes_of(Task(j.task)));
    INFO("tests/run models makes them anew");
    REQUIRE(answer);
    kept.emplace_back(&j.task, std::get<solid::JointAnswer>(*answer));
  }
  std::sort(kept.begin(), kept.end(), [](const auto& a, const auto& b) { return a.second.unknowns < b.second.unknowns; });
  if (!std::getenv("SEAMWRIGHT_NIGHT")) kept.resize(1);
  for (const auto& [task, answer] : kept) {
    // A worker sees numbers rounded.
    const auto asked = std::get<solid::JointTask>(task_of(bytes_of(Task(*task))));
    check_alike(answer, solid::joint_answer(asked, solid::mesher::mesh_of(asked), solid::mesher::solve));
  }
}

}  // namespace seamwright::models
