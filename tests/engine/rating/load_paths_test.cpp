// SPDX-License-Identifier: GPL-3.0-or-later
// Something else may carry when a weld has cracked through: displacements without a piece against a frame whose piece is
// as soft as nothing, and what follows for the limit states.
#include <catch2/catch.hpp>

#include "engine/design/weld_geometry.h"
#include "engine/loads/without_element.h"
#include "engine/rating/load_paths.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rating;

namespace {

// A member's steel without stiffness, its mass as before.
frame::Frame softened(frame::Frame f, const std::string& member) {
  const auto at = std::find_if(f.members.begin(), f.members.end(), [&](const auto& m) { return m.id == member; });
  frame::Tube tube = design::tube_of(f, *at);
  frame::Material steel = *std::find_if(f.materials.begin(), f.materials.end(), [&](const auto& m) { return m.id == tube.material; });
  steel.id = "as-nothing";
  steel.youngs_mpa *= 1e-8;
  tube.id = "as-nothing";
  tube.material = steel.id;
  at->tube = tube.id;
  f.materials.push_back(steel);
  f.tubes.push_back(tube);
  return f;
}

const LoadPath& path_of(const Job& job, const std::vector<LoadPath>& paths, const std::string& weld) {
  for (std::size_t w = 0; w < paths.size(); ++w)
    if (job.design.welds[w].id == weld) return paths[w];
  FAIL("no weld " << weld);
  return paths[0];
}

}  // namespace

TEST_CASE("without a piece of tube the trike moves as with one that is as soft as nothing") {
  const Job job = short_demo();
  const frame::Frame cut = design::frame_with_cuts(job.design);
  const loads::Pose laden{100};
  const auto trike_of = [&](const frame::Frame& f) {
    return loads::PosedTrike(laden, f, job.design.carriers, job.duty.rider, job.design.steering);
  };
  const loads::PosedTrike whole = trike_of(cut);
  std::size_t checked = 0, carried = 0;
  for (const frame::Element& e : whole.assembly().elements) {
    if (e.id.find('/') != std::string::npos) continue;  // a part of a member
    const auto without = loads::displacements_without(whole, e, whole.standing_displacement());
    if (!without) continue;
    INFO(e.id);
    const Eigen::VectorXd soft = trike_of(softened(cut, e.id)).standing_displacement();
    CHECK((without->col(0) - soft).norm() < 1e-5 * soft.norm());
    carried += (without->col(0) - whole.standing_displacement()).norm() > 1e-3 * soft.norm();
    ++checked;
  }
  CHECK(checked > 10);
  CHECK(carried > 5);
}

TEST_CASE("a wheel's only tube is a single load path, a web between two tubes is not") {
  const Job job = short_demo();
  const std::vector<LoadPath> paths = load_paths(ridden_frame(job));
  REQUIRE(paths.size() == job.design.welds.size());
  CHECK(path_of(job, paths, "W20.L").mechanism);  // the axle tube's outer piece holds the wheel alone
  CHECK_FALSE(path_of(job, paths, "W20.L").other());
  CHECK(path_of(job, paths, "W33").other());
  CHECK(path_of(job, paths, "W33").use > 0);
  CHECK(path_of(job, paths, "W33").use < 1);
}

TEST_CASE("weaker steel or a heavier climber never makes another load path") {
  const Job job = short_demo();
  const std::vector<LoadPath> before = load_paths(ridden_frame(job));
  Job weak = job, heavy = job, unknown = job;
  for (frame::Material& m : weak.design.frame.materials) {
    m.yield_mpa *= 0.5;
    m.haz_yield_mpa *= 0.5;
  }
  heavy.duty.peaks.climber_kg *= 2;
  for (frame::Material& m : unknown.design.frame.materials) m.yield_mpa = m.haz_yield_mpa = 0;
  const std::vector<LoadPath> weaker = load_paths(ridden_frame(weak)), heavier = load_paths(ridden_frame(heavy)), untold = load_paths(ridden_frame(unknown));
  std::size_t lost = 0;
  for (std::size_t w = 0; w < before.size(); ++w) {
    CHECK((before[w].other() || !weaker[w].other()));
    CHECK((before[w].other() || !heavier[w].other()));
    CHECK_FALSE(untold[w].other());  // no strength is stated: nothing is claimed
    lost += before[w].other() && !weaker[w].other();
  }
  CHECK(lost > 0);
}

TEST_CASE("a fall is no likelier in an inspected frame, and a tighter target never meets more") {
  Job job = short_demo();
  job.rules.strategy = rules::Strategy::inspected;
  const Rating inspected = rated(job, Method::spectral);
  REQUIRE(inspected.likelihood.limit_states.size() == 3);
  const LimitState &any = inspected.likelihood.limit_states[0], &single = inspected.likelihood.limit_states[1],
                   &fall = inspected.likelihood.limit_states[2];
  CHECK(single.probability <= fall.probability);
  CHECK(fall.probability <= any.probability * (1 + 1e-9));
  CHECK_FALSE(single.weld.empty());
  job.rules.strategy = rules::Strategy::safe_life;
  const Rating safe = rated(job, Method::spectral);
  CHECK(safe.likelihood.limit_states[2].probability == Approx(any.probability));
  job.rules.target_crack = job.rules.target_single_path = 4;
  const Rating strict = rated(job, Method::spectral);
  const auto meeting = [](const Rating& r) {
    return std::count_if(r.welds.begin(), r.welds.end(), [](const WeldRating& w) { return w.verdict == Verdict::meets; });
  };
  CHECK(meeting(strict) < meeting(safe));
  for (const WeldRating& w : safe.welds)
    if (w.verdict != Verdict::not_covered && !std::isnan(w.sites[0].used()))
      CHECK((w.verdict == Verdict::falls_short) == (w.sites[0].used() > 1));
}

TEST_CASE("the budget's shares add to one, and none of the rule set's factors is in the prediction") {
  Job job = short_demo();
  const Rating before = rated(job, Method::spectral);
  double sum = 0;
  for (const BudgetRow& row : before.likelihood.budget.rows) sum += row.share;
  CHECK(sum == Approx(1));
  job.rules.load_factor = 3;
  job.rules.design_fatigue_factor = 10;
  const Rating after = rated(job, Method::spectral);
  CHECK(after.predicted.life.median == Approx(before.predicted.life.median).epsilon(1e-9));
  CHECK(after.verdict == before.verdict);
  CHECK(after.welds[0].sites[0].life_km < before.welds[0].sites[0].life_km);
  job = short_demo();
  job.rules.load_bias = 1.1;
  CHECK(rated(job, Method::spectral).predicted.life.median < before.predicted.life.median);
  job = short_demo();
  job.rules.miner_median = 1;
  CHECK(rated(job, Method::spectral).predicted.life.median == Approx(2 * before.predicted.life.median).epsilon(1e-6));
}
