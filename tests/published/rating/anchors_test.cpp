// SPDX-License-Identifier: GPL-3.0-or-later
// Frames that somebody rides pass the tests of the cycle standards: the redesigned demonstration, rated by the models of its joints.
#include <algorithm>
#include <catch2/catch.hpp>
#include <memory>

#include "catalog/files/job_reader.h"
#include "catalog/files/rig_reader.h"
#include "catalog/models/joint_library.h"
#include "catalog/published/published_data.h"
#include "engine/measured/rig_rating.h"
#include "engine/rating/memory.h"
#include "engine/sites/joint_readings.h"
#include "engine/strength/peak_rating.h"
#include "tests/published/outside/outside.h"

namespace seamwright {

namespace {

const std::string redesign = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike-b";

rating::Job redesigned() {
  rating::Job job = files::read_job(redesign, "", published::catalog());
  job.joint_models = std::make_shared<const solid::JointLibrary>(models::shipped_joints(sites::frame_joints(job.design)));
  return job;
}

// A drum with slats in place of the duty: one ride of the test's length, a slat each 400 mm, on an even surface, loaded.
rating::Job on_the_drum(rating::Job job) {
  loads::Road even;
  even.id = "drum";
  even.gd_n0_m3 = 1e-9;
  loads::Obstacle slat;
  slat.id = "slat";
  slat.shape = loads::Shape::bar;
  slat.height_mm = 10;
  slat.length_mm = 50;
  loads::Trip test;
  test.id = "test";
  test.trips_per_year = 1;
  loads::Leg leg;
  leg.id = "drum";
  leg.road = even.id;
  leg.distance_km = 48;
  leg.speed_kmh = 8;
  leg.pose.payload_kg = 100;
  leg.rates = {{slat.id, 2500}};
  test.legs = {leg};
  job.duty.roads = {even};
  job.duty.obstacles = {slat};
  job.duty.manoeuvres.clear();
  job.duty.trips = {test};
  job.duty.years = 1;
  return job;
}

}  // namespace

TEST_CASE("a frame that rides passes the drum with slats by prediction") {
  SOURCE(printed, "TBIS 4210-3:2016, Annex A: slats of 50 by 10 mm at least 400 mm apart, 8 km/h for 6 h",
         "the earlier end of the interval lies beyond the test; how a trike is loaded there is assumed: rider and 100 kg");
  const rating::Rating r = rating::rate(on_the_drum(redesigned()), published::catalog().data, rating::Method::spectral, {});
  CHECK(r.service_km == 48);
  CHECK(r.likelihood.uncovered == 0);
  CHECK(r.predicted.life.low * r.service_km > 48);
  CHECK(r.likelihood.frame.probability < 0.0668);  // the target of any crack, index 1.5
}

TEST_CASE("a frame that rides passes the cases of the cycle standards by calculation") {
  SOURCE(recalled, "ISO 4210-6:2015, pedalling forces, city cycles; DIN 79010:2020, vertical forces",
         "damage below 1 at every site, curves at mean less two deviations; forces and geometry from memory");
  const rating::Job job = redesigned();
  const rating::Rating service = rating::rate(job, published::catalog().data, rating::Method::spectral, {});
  const auto cases = files::read_rigs(redesign + "/rig.toml", job, published::catalog());
  int passed = 0;
  for (const measured::RigResult& c : measured::rate_rigs(job, published::catalog().data, cases, service)) {
    INFO(c.id << " " << c.weld << " " << c.site);
    if (!c.not_applicable.empty()) continue;
    CHECK(c.passes);
    CHECK_FALSE(c.uncovered);
    CHECK(c.damage < 1);
    ++passed;
  }
  CHECK(passed == 3);
}

TEST_CASE("a frame that rides stays below yield in every peak case") {
  OURS;
  for (const strength::PeakRating& p : strength::rate_peaks(redesigned(), published::catalog().data).cases) {
    INFO(p.load.id << " " << p.element << " " << p.load.pose.payload_kg);
    CHECK(p.use < 1);
  }
}

// By night, since each is counted by histories: roads that the redesign has never seen.
TEST_CASE("roads of other names move the redesign's life less than its interval, and every weld meets on them", "[night]") {
  OURS;
  rating::Job job = redesigned();
  for (const char* seed : {"quarry", "ferry", "saddle", "lantern", "willow"}) {
    INFO(seed);
    job.duty.seeds = {seed};
    const rating::Rating r = rating::rate(job, published::catalog().data, rating::Method::time, {});
    CHECK(std::all_of(r.welds.begin(), r.welds.end(), [](const rating::WeldRating& w) { return w.verdict == rating::Verdict::meets; }));
    CHECK(r.predicted.life.median * r.service_km > 80000);
  }
}

}  // namespace seamwright
