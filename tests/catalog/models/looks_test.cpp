// SPDX-License-Identifier: GPL-3.0-or-later
// Growth of a crack around a brace and what looking for it is worth, by the models that come with the program.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <memory>

#include "catalog/files/job_reader.h"
#include "catalog/files/rig_reader.h"
#include "catalog/models/joint_library.h"
#include "catalog/published/published_data.h"
#include "engine/measured/field_calibration.h"
#include "engine/measured/rig_rating.h"
#include "engine/rating/looks.h"
#include "engine/rating/memory.h"
#include "engine/rating/service.h"
#include "engine/sites/joint_readings.h"

namespace seamwright::models {

namespace {

rating::Job demonstration() {
  rating::Job job = files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());
  job.joint_models = std::make_shared<const solid::JointLibrary>(shipped_joints(sites::frame_joints(job.design)));
  return job;
}

rating::BriefRating rated(const rating::Job& job, rating::Memory& memory) {
  return rating::rate_briefly(job, published::catalog().data, rating::Method::spectral, memory);
}

double fall_of(const rating::BriefRating& r) { return r.likelihood.limit_states.at(2).probability; }

}  // namespace

TEST_CASE("a stress that carries the size of a crack does so with and without the factors on loads") {
  const rating::Job job = demonstration();
  const rating::Rating r = rating::rate(job, published::catalog().data, rating::Method::spectral, {});
  std::size_t checked = 0;
  for (const rating::WeldRating& w : r.welds)
    for (const rating::SiteRating& s : w.checks) {
      if (s.kind != "slit-crack" && s.kind != "through-crack") continue;
      INFO(w.id << " " << s.kind);
      // One slope of 3, so that factors on stress count by their cube.
      CHECK(s.damage == Approx(s.damage_unfactored * r.rules.design_fatigue_factor * std::pow(r.rules.load_factor, 3)).epsilon(1e-9));
      ++checked;
    }
  CHECK(checked > 100);
}

TEST_CASE("a crack grows from the wall to what the rest carries, and never faster than it began to be") {
  const rating::Job job = demonstration();
  const rating::Rating r = rating::rate(job, published::catalog().data, rating::Method::spectral, {});
  std::size_t known = 0;
  for (const rating::WeldRating& w : r.welds) {
    INFO(w.id);
    if (!(w.growth.km > 0)) continue;
    ++known;
    CHECK(w.growth.to_mm > w.growth.from_mm);
    CHECK(w.growth.to_mm <= 1.25 * w.growth.from_mm * (1 + 1e-9));  // half the girth over 40 % of it
    CHECK(w.growth.km < w.predicted.life.median * r.service_km);
    CHECK(w.path.cracked_share <= 0.5);
  }
  CHECK(known > 60);
}

TEST_CASE("looking oftener never makes a fall likelier, looking too seldom gains nothing") {
  rating::Job job = demonstration();
  rating::Memory memory;
  job.rules.look_every_km = 0;
  const double unlooked = fall_of(rated(job, memory));
  double last = unlooked;
  for (const double every : {1e6, 1000.0, 30.0, 1.0}) {
    INFO(every);
    job.rules.look_every_km = every;
    const double fall = fall_of(rated(job, memory));
    CHECK(fall <= last * (1 + 1e-12));
    if (every == 1e6) CHECK(fall == Approx(unlooked).epsilon(1e-12));
    last = fall;
  }
  CHECK(last < unlooked);
  job.rules.strategy = rules::Strategy::safe_life;
  CHECK(fall_of(rated(job, memory)) >= unlooked);
}

TEST_CASE("three looks count where three fall into the growth, and no more than three") {
  rules::Rules rules;
  rules.strategy = rules::Strategy::inspected;
  rules.look_every_km = 100;
  const rating::CrackGrowth growth{30, 37, 300, "through-crack@0"};
  const double once = 1 - fatigue::found_share(fatigue::by_eye, 30);
  CHECK(rating::missed_share(rules, growth) == Approx(once * once * once));
  rules.look_every_km = 100.1;
  CHECK(rating::missed_share(rules, growth) == 1);
  rules.look_every_km = 1;
  CHECK(rating::missed_share(rules, growth) == Approx(once * once * once));
  CHECK(rating::missed_share(rules, {}) == 1);
  rules.look_by = &fatigue::by_magnetic_particles;
  CHECK(rating::missed_share(rules, growth) < once * once * once);
}

TEST_CASE("vented tubes live no longer than treated ones") {
  rating::Job treated = demonstration(), vented = treated;
  vented.rules.environment_inside = rules::Environment::free_corrosion;
  const rating::Rating dry = rating::rate(treated, published::catalog().data, rating::Method::spectral, {});
  const rating::Rating wet = rating::rate(vented, published::catalog().data, rating::Method::spectral, {});
  for (const rating::WeldRating& w : dry.welds)
    for (const rating::WeldRating& other : wet.welds)
      if (w.id == other.id && !std::isnan(w.predicted.life.median)) CHECK(other.predicted.life.median <= w.predicted.life.median * (1 + 1e-9));
  CHECK(wet.predicted.life.median < 0.5 * dry.predicted.life.median);
}

TEST_CASE("checks beside the rating decide neither a rig case nor what returned frames say") {
  rating::Job looked = demonstration();
  REQUIRE(rules::looks(looked.rules));
  rating::Job unlooked = looked;
  unlooked.rules.look_every_km = 0;
  const std::vector<measured::Return> returns{{true, "W32.L", "", 900, 1}, {false, "", "", 5000, 3}};
  const auto& data = published::catalog().data;
  const measured::FieldModel with = measured::field_model(looked, data, returns), without = measured::field_model(unlooked, data, returns);
  for (std::size_t i = 0; i < returns.size(); ++i) CHECK(with.observations.at(i).ln_life_km == without.observations.at(i).ln_life_km);
  CHECK_THROWS_AS(measured::field_model(looked, data, {{true, "W32.L", "through-crack@180", 900, 1}}), Fault);

  const auto cases = files::read_rigs(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike/rig.toml", looked, published::catalog());
  const rating::Rating service = rating::rate(looked, data, rating::Method::spectral, {});
  for (const measured::RigResult& r : measured::rate_rigs(looked, data, cases, service)) {
    INFO(r.id << " " << r.site);
    CHECK(r.site.find("crack") == std::string::npos);
    CHECK(r.site.find("root-open") == std::string::npos);
  }
}

TEST_CASE("a joint without a model among joints with models has places, or says why not") {
  const rating::Job whole = demonstration();
  for (const solid::FrameJoint& left_out : sites::frame_joints(whole.design).joints) {
    INFO(left_out.id);
    rating::Job job = whole;
    auto library = std::make_shared<solid::JointLibrary>(*whole.joint_models);
    std::erase_if(library->models, [&](const auto& known) { return known.first == left_out.task; });
    job.joint_models = library;
    const rating::JointsOfJob joints = rating::joints_of(job);
    CHECK(joints.without >= 1);
    const auto all = rating::sites_of(job, rating::jointed_frame(job, joints), published::catalog().data, joints.modelled, sites::Checks::left_out);
    for (const std::string& weld : left_out.welds)
      CHECK(std::any_of(all.begin(), all.end(), [&](const sites::Site& site) { return job.design.welds.at(site.weld).id == weld; }));
  }
}

}  // namespace seamwright::models
