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

// Three tests look at this one rating.
const rating::Rating& demonstration_rated() {
  static const rating::Rating r = rating::rate(demonstration(), published::catalog().data, rating::Method::spectral, {});
  return r;
}

double fall_of(const rating::BriefRating& r) { return r.likelihood.limit_states.at(2).probability; }

}  // namespace

TEST_CASE("a stress that carries the size of a crack does so with and without the factors on loads") {
  const rating::Rating& r = demonstration_rated();
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
  const rating::Rating& r = demonstration_rated();
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
  rating::Memory memory;
  const rating::BriefRating dry = rated(treated, memory), wet = rated(vented, memory);
  std::size_t shorter = 0;
  for (const rating::WeldRating& w : dry.welds)
    for (const rating::WeldRating& other : wet.welds) {
      if (w.id != other.id || std::isnan(w.sites[0].life_km_predicted)) continue;
      CHECK(other.sites[0].life_km_predicted <= w.sites[0].life_km_predicted * (1 + 1e-9));
      shorter += other.sites[0].life_km_predicted < 0.5 * w.sites[0].life_km_predicted;
    }
  CHECK(shorter > 20);
}

TEST_CASE("checks beside the rating decide neither a rig case nor what returned frames say") {
  rating::Job looked = demonstration();
  REQUIRE(rules::looks(looked.rules));
  const auto& data = published::catalog().data;
  // No frame can have cracked there: the name is unknown to returns.
  CHECK_THROWS_AS(measured::field_model(looked, data, {{true, "W32.L", "through-crack@180", 900, 1}}), Fault);

  const auto cases = files::read_rigs(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike/rig.toml", looked, published::catalog());
  for (const measured::RigResult& r : measured::rate_rigs(looked, data, cases, demonstration_rated())) {
    INFO(r.id << " " << r.site);
    CHECK(r.site.find("crack") == std::string::npos);
    CHECK(r.site.find("root-open") == std::string::npos);
  }
}

TEST_CASE("a joint without a model among joints with models has places, or says why not") {
  const rating::Job whole = demonstration();
  const std::vector<solid::FrameJoint> joints_of_frame = sites::frame_joints(whole.design).joints;
  for (std::size_t i = 0; i < joints_of_frame.size(); i += 4) {  // each costs a second with the sanitizers
    const solid::FrameJoint& left_out = joints_of_frame[i];
    INFO(left_out.id);
    rating::Job job = whole;
    auto library = std::make_shared<solid::JointLibrary>(*whole.joint_models);
    std::erase_if(library->models, [&](const auto& known) { return known.first == left_out.task; });
    job.joint_models = library;
    const rating::JointsOfJob joints = rating::joints_of(job);
    CHECK(joints.without >= 1);
    const auto all = rating::sites_of(job, rating::jointed_frame(job, joints), published::catalog().data, joints.modelled, sites::Checks::left_out);
    for (const std::string& weld : left_out.welds)
      CHECK(std::any_of(all.begin(), all.end(), [&](const sites::Site& site) { return site.weld < job.design.welds.size() && job.design.welds[site.weld].id == weld; }));
  }
}

TEST_CASE("a weld that its joint's model could not build is not covered, and says so") {
  rating::Job job = demonstration();
  auto library = std::make_shared<solid::JointLibrary>(*job.joint_models);
  std::size_t left_out = 0;
  for (const solid::FrameJoint& joint : sites::frame_joints(job.design).joints)
    for (std::size_t seam = 0; seam < joint.welds.size(); ++seam)
      for (auto& [task, answer] : library->models)
        if (joint.welds[seam] == "W28" && task == joint.task) {
          answer.welds.at(seam) = shape::Rung::none;
          ++left_out;
        }
  REQUIRE(left_out > 0);
  job.joint_models = library;
  const rating::JointsOfJob joints = rating::joints_of(job);
  const auto all = rating::sites_of(job, rating::jointed_frame(job, joints), published::catalog().data, joints.modelled, sites::Checks::left_out);
  std::size_t told = 0;
  for (const sites::Site& site : all) {
    if (site.weld >= job.design.welds.size() || job.design.welds[site.weld].id != "W28") continue;
    CHECK_FALSE(site.curve);
    told += std::any_of(site.evidence.notes.begin(), site.evidence.notes.end(), [](const Message& m) { return m.id == "rating.chord-in-joint"; });
  }
  CHECK(told > 0);
}

}  // namespace seamwright::models
