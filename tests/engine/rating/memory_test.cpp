// SPDX-License-Identifier: GPL-3.0-or-later
// Ratings that share their parts give the same numbers: every change of a job is rated as if nothing were remembered.
#include "engine/rating/memory.h"

#include <catch2/catch.hpp>
#include <functional>

#include "engine/rating/rate.h"
#include "tests/engine/rating/short_demo.h"

namespace seamwright::rating {

namespace {

Job few_welds() {
  Job job = short_demo();
  job.design.welds.resize(3);
  job.design.notches.resize(1);
  job.design.bolts.clear();
  legs(job).resize(1);
  legs(job)[0].rates.push_back({job.duty.obstacles.at(0).id, 1});
  return job;
}

BriefRating rated(const Job& job, Memory& memory) {
  return rate_briefly(job, published::catalog().data, Method::spectral, memory);
}

void check_same(const BriefRating& a, const BriefRating& b) {
  CHECK(a.verdict == b.verdict);
  CHECK(a.likelihood.frame.probability == b.likelihood.frame.probability);
  REQUIRE(a.welds.size() == b.welds.size());
  for (std::size_t w = 0; w < a.welds.size(); ++w) {
    REQUIRE(a.welds[w].sites.size() == b.welds[w].sites.size());
    for (std::size_t s = 0; s < a.welds[w].sites.size(); ++s) {
      const SiteRating &one = a.welds[w].sites[s], &other = b.welds[w].sites[s];
      CHECK(one.site == other.site);
      CHECK((one.damage == other.damage || (std::isnan(one.damage) && std::isnan(other.damage))));
      CHECK((one.damage_unfactored == other.damage_unfactored || std::isnan(one.damage)));
      CHECK(one.largest_range_mpa == other.largest_range_mpa);
    }
  }
}

loads::Leg& first_leg(Job& job) { return job.duty.trips[0].legs[0]; }

// One for each value that a remembered thing follows from.
const std::vector<std::pair<const char*, std::function<void(Job&)>>> changes{
    {"nothing", [](Job&) {}},
    {"throat", [](Job& j) { j.design.welds[0].throat_mm *= 1.1; }},
    {"node", [](Job& j) { j.design.frame.nodes[0].position_mm.x() += 1; }},
    {"wall", [](Job& j) { std::get<frame::RoundTube>(j.design.frame.tubes[0].section).wall_mm *= 1.1; }},
    {"tyre", [](Job& j) { j.design.frame.wheels[0].radial_n_mm *= 1.1; }},
    {"wheel", [](Job& j) { j.design.frame.wheels[0].radius_mm += 1; }},
    {"damper of a tyre", [](Job& j) { j.design.frame.wheels[0].damping_n_s_m *= 1.1; }},
    {"joints", [](Job& j) { j.design.flexible_joints = !j.design.flexible_joints; }},
    {"rider", [](Job& j) { j.duty.rider.mass_kg += 5; }},
    {"payload", [](Job& j) { first_leg(j).pose.payload_kg += 5; }},
    {"steering", [](Job& j) { first_leg(j).pose.steering_deg += 2; }},
    {"speed", [](Job& j) { first_leg(j).speed_kmh += 1; }},
    {"distance", [](Job& j) { first_leg(j).distance_km += 1; }},
    {"cross fall", [](Job& j) { first_leg(j).cross_fall_percent += 1; }},
    {"roughness", [](Job& j) { for (loads::Road& r : j.duty.roads) r.gd_n0_m3 *= 1.1; }},
    {"waviness", [](Job& j) { for (loads::Road& r : j.duty.roads) r.waviness += 0.1; }},
    {"height of obstacles", [](Job& j) { for (loads::Obstacle& o : j.duty.obstacles) o.height_mm *= 1.1; }},
    {"speed over obstacles", [](Job& j) { for (loads::Obstacle& o : j.duty.obstacles) o.speed_kmh = 7; }},
    {"how often", [](Job& j) { for (loads::Rate& r : first_leg(j).rates) r.per_km *= 2; }},
    {"sample rate", [](Job& j) { j.duty.sample_rate_hz *= 1.25; }},
    {"highest frequency", [](Job& j) { j.duty.highest_frequency_hz *= 0.8; }},
    {"damping", [](Job& j) { j.duty.structural_damping += 0.005; }},
    {"trips", [](Job& j) { j.duty.trips[0].trips_per_year *= 2; }},
    {"range model", [](Job& j) { j.range_model = cycles::RangeModel::narrow_band; }},
    {"load factor", [](Job& j) { j.rules.load_factor = 1.37; }},
    {"environment", [](Job& j) { j.rules.environment_outside = rules::Environment::free_corrosion; }},
};

}  // namespace

TEST_CASE("a changed job is rated as if nothing were remembered") {
  const Job job = few_welds();
  Memory shared;
  std::size_t different = 0;
  const BriefRating as_is = rated(job, shared);
  for (const auto& [what, change] : changes) {
    INFO(what);
    Job changed = job;
    change(changed);
    Memory fresh;
    const BriefRating remembered = rated(changed, shared), alone = rated(changed, fresh);
    check_same(remembered, alone);
    check_same(rated(changed, shared), alone);
    different += remembered.welds[0].sites[0].damage != as_is.welds[0].sites[0].damage ? 1 : 0;
  }
  CHECK(different >= changes.size() - 4);  // nothing; and what the governing site does not feel
  check_same(rated(job, shared), as_is);
}

TEST_CASE("what follows from the same values is made once, and the oldest is forgotten") {
  const Job job = few_welds();
  const frame::Frame frame = loads::frame_in({}, job.design.frame, job.design.carriers, job.duty.rider, job.design.steering);
  Memory memory;
  const auto first = memory.solved(frame, 0, 60, 0.01);
  CHECK(memory.solved(frame, 0, 60, 0.01) == first);
  frame::Frame other = frame;
  other.masses[0].mass_kg *= 1 + 1e-15;
  CHECK(memory.solved(other, 0, 60, 0.01) != first);
  CHECK(memory.posed(frame) == memory.posed(frame));
  CHECK(memory.posed(frame) != memory.posed(other));
  const loads::Leg& leg = job.duty.trips[0].legs[0];
  const auto answer = memory.answer(first, job.duty.roads[0], leg, 60, job.design.carriers.saddle_node);
  CHECK(memory.answer(first, job.duty.roads[0], leg, 60, job.design.carriers.saddle_node) == answer);

  const auto weld = memory.weld("sites");
  CHECK(memory.weld("sites") == weld);
  int made = 0;
  const auto make = [&] {
    ++made;
    return WeldDamage{Eigen::ArrayXd::Constant(1, made), {}, {}};
  };
  const WeldLoad load{answer, "a"}, more{answer, "b"};
  CHECK(memory.damage(*weld, load, make)->factored[0] == 1);
  CHECK(memory.damage(*weld, more, make)->factored[0] == 2);
  CHECK(memory.damage(*weld, load, make)->factored[0] == 1);
  for (int i = 0; i < 1000; ++i) memory.damage(*weld, {answer, std::to_string(i)}, make);
  CHECK(made == 1002);
  memory.damage(*weld, load, make);
  CHECK(made == 1003);
  for (int i = 0; i < 10000; ++i) memory.weld(std::to_string(i));
  CHECK(memory.weld("sites") != weld);
}

}  // namespace seamwright::rating
