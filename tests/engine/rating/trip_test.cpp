// SPDX-License-Identifier: GPL-3.0-or-later
// The whole trip: kinds of trips, poses, batches of seeds, shares of damage.
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "engine/rating/shape_findings.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rating;

namespace {

const SiteRating& worst(const Rating& r) { return r.welds[0].sites[0]; }

bool noted(const Rating& r, MessageId id) {
  return std::any_of(r.notes.begin(), r.notes.end(), [&](const Message& m) { return m.id == id; });
}

std::string refusal(const Job& job) {
  try {
    rated(job, Method::spectral);
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace

TEST_CASE("two kinds of trips add up") {
  const Job job = one_leg();
  Job split = job;
  split.duty.trips[0].trips_per_year /= 4;
  split.duty.trips.push_back(split.duty.trips[0]);
  split.duty.trips[1].id = "other";
  split.duty.trips[1].legs[0].id = "other-leg";
  split.duty.trips[1].trips_per_year *= 3;
  for (const Method method : {Method::time, Method::spectral}) {
    const Rating one = rated(job, method), two = rated(split, method);
    CHECK(two.km_per_year == Approx(one.km_per_year));
    // The other kind has its own road, as its leg has its own name: a realisation more.
    CHECK(site(weld(two, one.welds[0].id), worst(one).site).damage ==
          Approx(worst(one).damage).epsilon(method == Method::time ? 0.5 : 1e-9));
  }
}

TEST_CASE("shares of damage add up to one at every site, by leg and cause") {
  const Rating r = rated(short_demo(), Method::spectral);
  REQUIRE(r.parts.size() == 1 + 4 * 5);  // loading; in each leg road, pedalling, bend, stop, start
  for (const WeldRating& w : r.welds)
    for (const SiteRating& s : w.sites) {
      if (s.curve.empty()) continue;
      REQUIRE(s.damage_share.size() == r.parts.size());
      CHECK(std::accumulate(s.damage_share.begin(), s.damage_share.end(), 0.0) == Approx(1).epsilon(1e-9));
    }
}

TEST_CASE("batches are repeated until the governing damage is known well enough") {
  Job job = one_leg();
  job.duty.seeds = {"a", "b", "c"};
  job.duty.most_batches = 5;
  job.duty.confidence = 1e-6;
  const Rating all = rated(job);
  CHECK(all.realisations == 15);
  CHECK(all.confidence > 1e-6);
  job.duty.confidence = 100;
  const Rating few = rated(job);
  CHECK(few.realisations == 3);
  CHECK(few.confidence > all.confidence / 3);
  // The interval of few holds the mean of many, or nearly: they share three of fifteen.
  CHECK(std::abs(worst(few).damage / site(weld(all, few.welds[0].id), worst(few).site).damage - 1) <
        2 * (few.confidence + all.confidence));
  CHECK(std::isnan(rated(one_leg()).confidence));
}

TEST_CASE("a pose off the middle is another trike") {
  Job job = straight(one_leg());
  const Rating middle = rated(job, Method::spectral);
  legs(job)[0].pose.payload_left_mm = 150;
  const Rating left = rated(job, Method::spectral);
  // 100 kg moved by 150 mm on a track of 820 mm: 100 g 150 / 820 = 179.4 N from wheel to wheel.
  const double shift = 100 * 9.80665 * 150 / 820;
  CHECK(left.states[0].static_wheel_load_n[0] - middle.states[0].static_wheel_load_n[0] ==
        Approx(shift).epsilon(0.02));
  CHECK(left.states[0].static_wheel_load_n[1] - middle.states[0].static_wheel_load_n[1] ==
        Approx(-shift).epsilon(0.02));
  CHECK(left.states[0].static_wheel_load_n.sum() ==
        Approx(middle.states[0].static_wheel_load_n.sum()).epsilon(1e-9));
}

TEST_CASE("a leg at lock is rated in its own pose, and both locks mirror each other") {
  Job job = straight(one_leg());
  legs(job)[0].pose.steering_deg = 30;
  const Rating left = rated(job, Method::spectral);
  CHECK(left.states[0].pose.steering_deg == 30);
  legs(job)[0].pose.steering_deg = -30;
  const Rating right = rated(job, Method::spectral);
  // Posts of the box are mirror twins and near enough to symmetry: the drive and the link are not.
  CHECK(worst(rated(job, Method::spectral)).damage > 0);
  const double a = weld(left, "W01.L").sites[0].damage, b = weld(right, "W01.R").sites[0].damage;
  CHECK(b == Approx(a).epsilon(0.2));
  legs(job)[0].pose.steering_deg = 41;
  CHECK(refusal(job) == "loads.beyond-stop");
}

TEST_CASE("a cross fall stands on top of the load, and tips what cannot stand it") {
  Job job = straight(short_demo());
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 = 1e-16;
  for (loads::Leg& leg : legs(job)) leg.pose.payload_kg = 100;
  const Rating level = rated(job);
  legs(job)[0].cross_fall_percent = 5;
  const Rating sloping = rated(job);
  double most = 0;
  for (const WeldRating& w : sloping.welds)
    for (const SiteRating& s : w.sites) most = std::max(most, s.largest_range_mpa);
  CHECK(most > 1);  // one cycle a trip between the slope and the level
  for (const WeldRating& w : level.welds)
    for (const SiteRating& s : w.sites) CHECK(s.largest_range_mpa < 0.01);
  legs(job)[0].cross_fall_percent = 80;
  CHECK(refusal(job) == "rating.tips-at-rest");
}

TEST_CASE("a rough leg is ridden in steps and lifts its wheels about as often as it should") {
  Job job = straight(one_leg());
  legs(job)[0].pose.payload_kg = 0;
  legs(job)[0].speed_kmh = 15;
  legs(job)[0].distance_km = 0.3;
  const Rating r = rated(job);
  REQUIRE(noted(r, "rating.wheel-lifts"));
  REQUIRE(r.legs.size() == 1);
  const double gaussian = r.legs[0].levels.lift_share.maxCoeff();
  CHECK(gaussian > 0.01);
  CHECK(r.legs[0].counted_lift_share > 0.5 * gaussian);
  CHECK(r.legs[0].counted_lift_share < 3 * gaussian);
  // Held down, the linear model counts within some ten per cent of it: few wheels are in the air for long.
  job.duty.lift_share_limit = 1;
  const Rating held = rated(job);
  CHECK(std::isnan(held.legs[0].counted_lift_share));
  CHECK(site(weld(held, r.welds[0].id), worst(r).site).damage == Approx(worst(r).damage).epsilon(0.5));
}

TEST_CASE("where nothing lifts, steps and lines give the same damage") {
  Job job = straight(one_leg());
  legs(job)[0].distance_km = 0.8;
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 /= 16;
  const Rating lines = rated(job);
  job.duty.lift_share_limit = -1;
  const Rating steps = rated(job);
  CHECK(steps.legs[0].counted_lift_share == 0);
  for (std::size_t i = 0; i < 30; ++i) {
    const WeldRating& w = lines.welds[i];
    INFO(w.id);
    if (w.sites[0].curve.empty()) continue;
    // One side starts from rest, the other in the midst of the ride: a second of 288.
    CHECK(site(weld(steps, w.id), w.sites[0].site).damage == Approx(w.sites[0].damage).epsilon(0.03));
  }
}

TEST_CASE("a road that shakes faster than is reckoned with is told") {
  // Ten waves per metre at 22 km/h: 61.1 Hz; at 21 km/h: 58.3 Hz.
  Job job = straight(one_leg());
  legs(job)[0].speed_kmh = 21;
  CHECK_FALSE(noted(rated(job, Method::spectral), "rating.road-cut-short"));
  legs(job)[0].speed_kmh = 22;
  CHECK(noted(rated(job, Method::spectral), "rating.road-cut-short"));
}

// A load that the model cannot tell bounds every damage from below: nothing meets by it, and the page says why.
void check_bound(const Job& job, MessageId why) {
  const Rating r = rated(job, Method::spectral);
  CHECK(std::count_if(r.beyond.begin(), r.beyond.end(), [&](const Message& m) { return m.id == why; }) == 1);
  CHECK(noted(r, why));
  CHECK(r.verdict != Verdict::meets);
  for (const WeldRating& w : r.welds) {
    CHECK(w.verdict != Verdict::meets);
    CHECK((w.at_most || w.rejected));
  }
}

TEST_CASE("loads beyond the model leave no weld that meets") {
  const Job job = straight(one_leg());
  CHECK(rated(job, Method::spectral).beyond.empty());
  Job rough = job;
  for (loads::Road& road : rough.duty.roads) road.gd_n0_m3 = 16384e-6;
  check_bound(rough, "rating.beyond-contact");
  Job fast = job;
  legs(fast)[0].speed_kmh = 44;  // ten waves per metre: 122 Hz, and 60 Hz are computed
  check_bound(fast, "rating.beyond-speed");
  Job kerb = job;
  legs(kerb)[0].rates.push_back({"drop-kerb-up", 1});
  for (frame::Wheel& wheel : kerb.design.frame.wheels) wheel.section_radius_mm = 24;
  CHECK(rated(kerb, Method::spectral).beyond.empty());
  for (frame::Wheel& wheel : kerb.design.frame.wheels) wheel.section_radius_mm = 5;
  check_bound(kerb, "rating.beyond-tyre");
  for (frame::Wheel& wheel : kerb.design.frame.wheels) wheel.section_radius_mm = 0;  // taking the line out helps nobody
  check_bound(kerb, "rating.beyond-tyre-unknown");
}

TEST_CASE("what lies in each other with the front turned is found, up to the stops") {
  design::Design design = short_demo().design;
  const std::vector<Message> found = shape_findings(design);
  REQUIRE(found.size() == 1);
  CHECK(found[0].id == "shape.turned-clash");
  CHECK(std::abs(std::get<double>(found[0].arguments.at(0).value)) == 20);  // the platform's last cross tube on the lever
  design.steering.left_deg = design.steering.right_deg = 10;
  CHECK(shape_findings(design).empty());
  design.steering = {};  // to leave the stops out helps nobody
  REQUIRE(shape_findings(design).size() == 1);
  CHECK(shape_findings(design)[0].id == "shape.stops-unknown");
  const Job redesigned = files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike-b", "", published::catalog());
  CHECK(shape_findings(redesigned.design).empty());
}

TEST_CASE("setts add their sine, and say so where it is too fast") {
  Job job = straight(one_leg());
  const Rating plain = rated(job, Method::spectral);
  loads::Road& lane = job.duty.roads[1];
  lane.pitch_mm = 202;
  lane.pitch_amplitude_mm = 1;
  const Rating setts = rated(job, Method::spectral);
  CHECK(setts.legs[0].levels.wheel_force_sd_n.minCoeff() > plain.legs[0].levels.wheel_force_sd_n.minCoeff());
  CHECK_FALSE(noted(setts, "rating.pitch-left-out"));
  legs(job)[0].speed_kmh = 50;
  CHECK(noted(rated(job, Method::spectral), "rating.pitch-left-out"));
}

TEST_CASE("a recorded profile of a class gives about the damage of its class") {
  // Heights synthesised as white velocity of class C on both tracks: 2 pi n0 sqrt(G / (2 dx)) per step.
  Job job = straight(one_leg());
  legs(job)[0].distance_km = 0.4;
  job.duty.roads[1].coherence = loads::Coherence::full;
  const Rating by_class = rated(job, Method::spectral);
  loads::Road& lane = job.duty.roads[1];
  lane.profile_step_m = 0.02;
  std::uint64_t state = 1;
  double z = 0;
  for (int i = 0; i < 20001; ++i) {
    lane.profile_left_m.push_back(z);
    double sum = 0;  // twelve uniforms: a normal deviate
    for (int k = 0; k < 12; ++k) {
      state = state * 6364136223846793005ULL + 1442695040888963407ULL;
      sum += static_cast<double>(state >> 11) / 9007199254740992.0;
    }
    z += 0.02 * 2 * 3.14159265 * 0.1 * std::sqrt(256e-6 / (2 * 0.02)) * (sum - 6);
  }
  lane.profile_right_m = lane.profile_left_m;
  const Rating recorded = rated(job, Method::spectral), counted = rated(job);
  CHECK(recorded.legs[0].box_acceleration_rms_m_s2 ==
        Approx(by_class.legs[0].box_acceleration_rms_m_s2).epsilon(0.1));
  CHECK(site(weld(counted, recorded.welds[0].id), worst(recorded).site).damage ==
        Approx(worst(recorded).damage).epsilon(0.35));
}

TEST_CASE("obstacles count by both methods and more often means more") {
  Job job = straight(one_leg());
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 = 1e-16;
  legs(job)[0].rates = {{"drop-kerb-up", 20}};
  const Rating once = rated(job);
  legs(job)[0].rates = {{"drop-kerb-up", 60}};
  const Rating thrice = rated(job);
  CHECK(worst(thrice).damage == Approx(3 * worst(once).damage).epsilon(0.02));
  CHECK(noted(once, "rating.passage"));
  legs(job)[0].rates = {{"none-such", 1}};
  CHECK(refusal(job) == "rating.unknown-manoeuvre");
}

TEST_CASE("elastic modes are told beside the quasi-static answer") {
  const Rating r = rated(straight(one_leg()), Method::spectral);
  std::size_t told = 0;
  for (const WeldRating& w : r.welds) {
    const double ratio = w.sites[0].elastic_over_quasi_static;
    if (std::isnan(ratio)) continue;
    CHECK(ratio > 0.01);  // damage goes with the third to fifth power of stress: 0.4 to 2.5 times that
    CHECK(ratio < 100);
    ++told;
  }
  CHECK(told > 30);
}
