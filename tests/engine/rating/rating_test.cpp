// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "catalog/published/published_data.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rating;

TEST_CASE("a road twice as high gives twice the stress at every site") {
  Job job = straight(one_leg());
  job.duty.lift_share_limit = 1;  // wheels held down: a linear system
  Job rough = job;
  for (loads::Road& road : rough.duty.roads) road.gd_n0_m3 *= 4;
  const Rating a = rated(job), b = rated(rough);
  std::size_t sites = 0;
  for (const WeldRating& w : a.welds)
    for (const SiteRating& s : w.sites) {
      const SiteRating& t = site(weld(b, w.id), s.site);
      INFO(w.id << " " << s.site);
      CHECK(t.largest_range_mpa == Approx(2 * s.largest_range_mpa).epsilon(1e-9).margin(1e-9));
      if (s.curve.empty()) continue;
      // Slopes lie between 3 and 5 on every curve of the set: damage grows by 8 to 32.
      if (s.damage > 1e-12) {
        CHECK(t.damage >= 8 * s.damage * (1 - 1e-9));
        CHECK(t.damage <= 32 * s.damage * (1 + 1e-9));
      }
      ++sites;
    }
  CHECK(sites > 1000);
}

TEST_CASE("loading and unloading the box is a cycle of every trip") {
  // Slow roads so smooth that the dynamics vanish: what is left is the ground cycle between the payload
  // states.
  Job job = straight(short_demo());
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 = 1e-16;
  const Rating r = rated(job);
  Job empty = job;
  for (loads::Leg& leg : legs(empty)) leg.pose.payload_kg = 0;
  const Rating never = rated(empty);
  double most = 0;
  for (const WeldRating& w : r.welds)
    for (const SiteRating& s : w.sites) {
      most = std::max(most, s.largest_range_mpa);
      CHECK(site(weld(never, w.id), s.site).largest_range_mpa < 0.01);
    }
  CHECK(most > 5);
  CHECK(most < 500);
}

TEST_CASE("factors and service act where they should") {
  Job job = one_leg();
  const Rating a = rated(job);
  const SiteRating& s = a.welds[0].sites[0];
  CHECK(a.rules.load_factor == Approx(std::exp(2 * std::sqrt(std::log(1.04)))).epsilon(1e-12));
  CHECK(a.service_km == Approx(0.05 * job.duty.trips[0].trips_per_year * job.duty.years).epsilon(1e-12));
  CHECK(s.life_km == Approx(a.service_km / s.damage).epsilon(1e-9));

  job.rules.load_factor = 1;
  job.rules.design_fatigue_factor = 1;
  const SiteRating bare = site(weld(rated(job), a.welds[0].id), s.site);
  CHECK(bare.damage == Approx(bare.damage_unfactored).epsilon(1e-12));
  CHECK(bare.damage == Approx(s.damage_unfactored).epsilon(1e-12));

  job.rules.design_fatigue_factor = 3;
  job.duty.years *= 2;
  const SiteRating twice = site(weld(rated(job), a.welds[0].id), s.site);
  CHECK(twice.damage == Approx(6 * bare.damage).epsilon(1e-12));
  CHECK(twice.life_km == Approx(bare.life_km / 3).epsilon(1e-9));
}

TEST_CASE("the same seeds give the same numbers, other seeds others near by") {
  Job job = one_leg();
  const double a = rated(job).welds[0].sites[0].damage, again = rated(job).welds[0].sites[0].damage;
  CHECK(a == again);
  job.duty.seeds = {"another"};
  const double b = rated(job).welds[0].sites[0].damage;
  CHECK(a != b);
  CHECK(b / a > 0.3);
  CHECK(b / a < 3);
}

namespace {

// One kind of manoeuvre on a road without height: both methods must count the same cycles.
void check_both_methods(const std::string& id, double level, double pedal_force_n = 0) {
  Job job = straight(one_leg());
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 = 1e-16;
  legs(job)[0].pedal_force_n = pedal_force_n;  // 50 m, 18 s
  if (!id.empty()) set_manoeuvre(job, id, level, 40);
  const Rating time = rated(job), spectral = rated(job, Method::spectral);
  std::size_t seen = 0;
  for (const WeldRating& w : time.welds)
    for (const SiteRating& s : w.sites) {
      if (!(s.damage > 1e-9)) continue;
      INFO(w.id << " " << s.site);
      CHECK(site(weld(spectral, w.id), s.site).damage == Approx(s.damage).epsilon(0.03));
      ++seen;
    }
  CHECK(seen > 50);
}

}  // namespace

TEST_CASE("pedalling alone is counted the same by both methods") { check_both_methods("", 0, 300); }
TEST_CASE("corners alone are counted the same by both methods") { check_both_methods("bend", 2); }
TEST_CASE("stops alone are counted the same by both methods") { check_both_methods("stop", 3); }
TEST_CASE("starts alone are counted the same by both methods") { check_both_methods("start", 700); }
TEST_CASE("kerbs alone are counted the same by both methods") { check_both_methods("drop-kerb-up", 0); }

TEST_CASE("manoeuvres are capped at the tip-over limits") {
  Job job = one_leg();
  set_manoeuvre(job, "bend", 9, 4);
  set_manoeuvre(job, "stop", 9.9, 4);
  set_manoeuvre(job, "start", 15000, 4);
  const Rating r = rated(job, Method::spectral);
  const auto noted = [](const Rating& of, MessageId id) {
    return std::any_of(of.notes.begin(), of.notes.end(), [&](const Message& m) { return m.id == id; });
  };
  CHECK(noted(r, "rating.corner-capped"));
  CHECK(noted(r, "rating.brake-capped"));
  CHECK(noted(r, "rating.start-capped"));
  CHECK(noted(r, "rating.beyond-pedal-bound"));
  CHECK_FALSE(noted(r, "rating.saddle-unloaded"));
  legs(job)[0].pedal_force_n = 1500;
  CHECK(noted(rated(job, Method::spectral), "rating.saddle-unloaded"));
}

TEST_CASE("a trike that tips at rest is refused") {
  Job job = one_leg();
  job.design.carriers.payload_centre_mm.y() = 2000;
  CHECK_THROWS_AS(rated(job), Fault);
}

TEST_CASE("verdicts: falls short over not covered over meets") {
  Job job = straight(one_leg());
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 = 1e-12;
  const Rating smooth = rated(job);
  CHECK(smooth.verdict == Verdict::not_covered);  // tube ends on plates have no row for their toes
  bool seen = false;
  for (const WeldRating& w : smooth.welds)
    for (const SiteRating& s : w.sites) {
      CHECK((s.verdict == Verdict::not_covered) == (s.curve.empty() || s.at_least));  // nothing falls short
      if (!s.curve.empty()) continue;
      seen = true;
      CHECK(std::isnan(s.damage));
      CHECK(s.coverage == Coverage::none);
    }
  CHECK(seen);
  CHECK(rated(short_demo()).verdict == Verdict::falls_short);
}

TEST_CASE("a frame with an end in the air never meets, and says so first") {
  // Those welds of the demonstration are left that meet on a smooth road with their roots proven.
  Job job = straight(one_leg());
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 = 1e-12;
  for (joints::Weld& w : job.design.welds) w.root_proven = true;
  const Rating all = rated(job, Method::spectral);
  std::erase_if(job.design.welds, [&](const joints::Weld& w) {
    return !joints::at_tube_node(w) || w.chord.empty() || weld(all, w.id).verdict != Verdict::meets;
  });
  job.design.notches.clear();
  job.design.bolts.clear();
  job.design.steering.left_deg = job.design.steering.right_deg = 10;  // beyond, the platform strikes its lever
  REQUIRE(job.design.welds.size() > 3);
  const Rating sound = rated(job, Method::spectral);
  CHECK(sound.shape.empty());
  CHECK(sound.verdict == Verdict::meets);
  const joints::Weld& w = job.design.welds.front();
  for (frame::Member& m : job.design.frame.members)
    if (m.id == w.member) (w.at_start ? m.start_overhang_mm : m.end_overhang_mm) = -60;
  const Rating short_of = rated(job, Method::spectral);
  REQUIRE_FALSE(short_of.shape.empty());
  CHECK(short_of.shape[0].id == MessageId("shape.end-in-air"));
  CHECK(short_of.verdict == Verdict::not_covered);
}

TEST_CASE("no unproven root of a tube node decides that a weld meets") {
  Job job = straight(one_leg());
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 = 1e-12;
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    job.rules.set = set;
    Job proven = job;
    for (joints::Weld& w : proven.design.welds) w.root_proven = true;
    const Rating open = rated(job, Method::spectral), fused = rated(proven, Method::spectral);
    std::size_t met = 0;
    for (const joints::Weld& w : job.design.welds) {
      if (!joints::at_tube_node(w)) continue;
      INFO(w.id);
      const WeldRating &a = weld(open, w.id), &b = weld(fused, w.id);
      CHECK(a.verdict == Verdict::not_covered);  // nothing falls short on such a road
      CHECK(a.at_most);
      CHECK(a.verdict >= b.verdict);
      if (!std::isnan(a.sites[0].life_km)) CHECK(a.sites[0].life_km <= b.sites[0].life_km * (1 + 1e-9));
      met += b.verdict == Verdict::meets;
    }
    CHECK(met > 10);
    CHECK(open.likelihood.uncovered > fused.likelihood.uncovered);
  }
}

TEST_CASE("few sections of a fused root leave some open, which the chance of a crack counts and the verdict does not") {
  Job job = straight(one_leg());
  const auto proven_by = [&](int macros) {
    for (joints::Weld& w : job.design.welds) {
      w.root_proven = true;
      w.root_macros = macros;
    }
    return rated(job, Method::spectral);
  };
  const Rating none = proven_by(0), four = proven_by(4), many = proven_by(100000);
  bool differs = false;
  for (const WeldRating& w : many.welds) {
    INFO(w.id);
    const WeldRating &by_four = weld(four, w.id), &by_none = weld(none, w.id);
    CHECK(by_four.verdict == w.verdict);
    if (std::isnan(w.crack_probability)) continue;
    CHECK(by_four.governing_site == w.governing_site);
    CHECK(by_four.crack_probability >= w.crack_probability * (1 - 1e-9));
    CHECK(by_none.crack_probability >= by_four.crack_probability * (1 - 1e-9));
    differs = differs || by_four.crack_probability > 1.01 * w.crack_probability;
    for (const SiteRating& check : w.checks) CHECK(check.kind == "root-open");
  }
  CHECK(differs);
  CHECK(four.likelihood.frame.probability >= many.likelihood.frame.probability);
}

TEST_CASE("the standing stress in the explanation is the sum of its parts") {
  const Rating r = rated(one_leg(), Method::spectral);
  for (const WeldRating& w : r.welds) {
    const Evidence& e = w.sites[0].evidence.because[0];
    REQUIRE(e.figure == "standing-stress");
    double sum = 0;
    for (std::size_t i = 1; i + 1 < e.inputs.size(); i += 2) sum += e.inputs[i].value * e.inputs[i + 1].value;
    CHECK(e.value == Approx(sum).margin(1e-9));
  }
}

namespace {

void check_sources(const Evidence& e) {
  const auto& known = published::catalog().bibliography;
  INFO(e.figure << " [" << e.source.key << "]");
  CHECK(std::any_of(known.begin(), known.end(), [&](const auto& r) { return r.key == e.source.key; }));
  for (const Evidence& b : e.because) check_sources(b);
}

}  // namespace

TEST_CASE("every source behind a rated site stands in the bibliography") {
  for (const WeldRating& w : rated(one_leg(), Method::spectral).welds)
    for (const SiteRating& s : w.sites)
      if (!s.curve.empty()) check_sources(s.evidence);
}

TEST_CASE("a rating tells how far it is and stops when asked") {
  Job job = short_demo();
  std::vector<double> shares;
  Progress progress;
  progress.report = [&](double share) { shares.push_back(share); };
  rate(job, published::catalog().data, Method::time, progress);
  REQUIRE(shares.size() == 5);
  CHECK(std::is_sorted(shares.begin(), shares.end()));
  CHECK(shares.back() == Approx(1));
  std::stop_source stop;
  stop.request_stop();
  progress.stop = stop.get_token();
  CHECK_THROWS_AS(rate(job, published::catalog().data, Method::time, progress), RatingStopped);
}

TEST_CASE("jobs that cannot be rated are refused") {
  Job job = one_leg();
  job.design.welds.clear();
  job.design.notches.clear();
  CHECK_THROWS_AS(rated(job), Fault);
  job = one_leg();
  legs(job)[0].road = "none";
  CHECK_THROWS_AS(rated(job), Fault);
}
