// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration on every leg of its duty: nominal stress at the members' ends against the full equations
// of motion, however many modes are kept.
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/loads/posed_trike.h"
#include "engine/rating/job.h"
#include "tests/engine/loads/direct.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::loads;
using seamwright::outside::WithinAbs;

namespace {

struct Demonstration {
  rating::Job job =
      files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());

  const Road& road(const Leg& leg) const {
    for (const Road& r : job.duty.roads)
      if (r.id == leg.road) return r;
    throw Fault{Message{"rating.unknown-road", {}}};
  }
  State state(const Leg& leg, double highest_hz) const {
    return make_state(frame_in(leg.pose, design::frame_with_cuts(job.design), job.design.carriers,
                               job.duty.rider, job.design.steering),
                      leg.pose.payload_kg, highest_hz);
  }
};

}  // namespace

TEST_CASE("the demonstration's stresses on each leg are those of its full equations of motion") {
  const Demonstration d;
  const double structural = d.job.duty.structural_damping, highest = d.job.duty.highest_frequency_hz;
  std::map<Pose, std::pair<State, Direct>> poses;
  for (const Leg* leg : all_legs(d.job.duty)) {
    if (!poses.contains(leg->pose)) {
      State s = d.state(*leg, highest);
      Direct direct(s.assembly, structural);
      poses.emplace(leg->pose, std::pair(std::move(s), std::move(direct)));
    }
    const auto& [s, direct] = poses.at(leg->pose);
    const frame::SparseMatrix stresses = end_stresses(s.assembly);
    const Eigen::VectorXd ours = by_shapes(s, structural, stresses, d.road(*leg), *leg, highest),
                          full = directly(direct, direct.rows_of(stresses), s.tracks, d.road(*leg), *leg,
                                          highest);
    Eigen::Index told = 0;
    const double worst = apart(ours, full, told);
    INFO(leg->id);
    CHECK(told >= 12);
    SOURCE(closed_form,
           "(K + i w C - w^2 M) u = B (k + i w c) h with all of the frame's matrices, summed over frequency",
           "the dropped modes' inertia");
    CHECK_THAT(worst, WithinAbs(0, 0.02));
  }
}

TEST_CASE("the demonstration's stresses do not depend on how many modes are kept") {
  OURS;
  const Demonstration d;
  const double structural = d.job.duty.structural_damping;
  for (const Leg* leg : all_legs(d.job.duty)) {
    const State few = d.state(*leg, 60), many = d.state(*leg, 120);
    CHECK(many.modes.frequency_hz.size() > few.modes.frequency_hz.size());
    const frame::SparseMatrix stresses = end_stresses(few.assembly);
    Eigen::Index told = 0;
    INFO(leg->id);
    CHECK(apart(by_shapes(few, structural, stresses, d.road(*leg), *leg, 60),
                by_shapes(many, structural, stresses, d.road(*leg), *leg, 120), told) < 0.02);
    CHECK(told >= 12);
  }
}
