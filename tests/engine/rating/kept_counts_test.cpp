// SPDX-License-Identifier: GPL-3.0-or-later
// Counts that are kept are not made again, and are never taken for those of another service.
#include "engine/rating/kept_counts.h"

#include <catch2/catch.hpp>
#include <functional>
#include <map>

#include "engine/design/weld_geometry.h"
#include "tests/engine/rating/short_demo.h"

namespace seamwright::rating {

namespace {

struct InMemory : CountStore {
  std::map<std::string, std::string, std::less<>> all;
  int found = 0;
  std::optional<std::string> find(std::string_view inputs) override {
    const auto it = all.find(inputs);
    if (it == all.end()) return {};
    ++found;
    return it->second;
  }
  void keep(std::string_view inputs, std::string_view bytes) override { all[std::string(inputs)] = bytes; }
};

Job small() {
  Job job = one_leg();
  job.design.welds.resize(2);
  job.design.notches.clear();
  job.design.bolts.clear();
  return job;
}

Rating rated(const Job& job, InMemory& kept) {
  return rate(job, published::catalog().data, Method::time, {}, {}, {&kept});
}

void check_same(const Rating& a, const Rating& b) {
  REQUIRE(a.welds.size() == b.welds.size());
  for (std::size_t w = 0; w < a.welds.size(); ++w)
    for (std::size_t s = 0; s < a.welds[w].sites.size(); ++s) {
      const SiteRating &one = a.welds[w].sites[s], &other = b.welds[w].sites[s];
      CHECK(one.site == other.site);
      CHECK((one.damage == other.damage || (std::isnan(one.damage) && std::isnan(other.damage))));
      CHECK(one.largest_range_mpa == other.largest_range_mpa);
    }
}

std::string inputs(const Job& job) {
  const frame::Frame cut = design::frame_with_cuts(job.design);
  return inputs_of(prepare(job, cut, sites_of(job, cut, published::catalog().data), 1.2));
}

}  // namespace

TEST_CASE("a job rated again is not counted again and says the same") {
  const Job job = small();
  InMemory kept;
  const Rating first = rated(job, kept);
  CHECK(kept.found == 0);
  REQUIRE(kept.all.size() == 1);
  const Rating again = rated(job, kept);
  CHECK(kept.found == 1);
  check_same(first, again);
  CHECK(first.welds[0].sites[0].damage > 0);
}

TEST_CASE("counts that are damaged are counted anew") {
  const Job job = small();
  InMemory kept;
  const Rating first = rated(job, kept);
  const std::string whole = kept.all.begin()->second;
  for (const std::string& bytes : {std::string(), whole.substr(0, whole.size() / 2), whole + "x", std::string(whole.size(), '\0')}) {
    kept.all.begin()->second = bytes;
    check_same(first, rated(job, kept));
    CHECK(kept.all.begin()->second == whole);
  }
}

TEST_CASE("whatever changes a count changes what it is kept by") {
  const Job job = small();
  const std::string before = inputs(job);
  CHECK(inputs(job) == before);
  const std::vector<std::pair<const char*, std::function<void(Job&)>>> changes{
      {"seed", [](Job& j) { j.duty.seeds = {"other"}; }},
      {"one more seed", [](Job& j) { j.duty.seeds.push_back("more"); }},
      {"batches", [](Job& j) { j.duty.most_batches = 2; }},
      {"confidence", [](Job& j) { j.duty.confidence = 0.2; }},
      {"rate", [](Job& j) { j.duty.sample_rate_hz = 210; }},
      {"highest frequency", [](Job& j) { j.duty.highest_frequency_hz = 55; }},
      {"damping", [](Job& j) { j.duty.structural_damping += 0.001; }},
      {"distance", [](Job& j) { legs(j)[0].distance_km *= 1.01; }},
      {"speed", [](Job& j) { legs(j)[0].speed_kmh *= 1.01; }},
      {"leg's name", [](Job& j) { legs(j)[0].id += "x"; }},
      {"road", [](Job& j) { for (loads::Road& r : j.duty.roads) r.gd_n0_m3 *= 1.01; }},
      {"coherence", [](Job& j) { for (loads::Road& r : j.duty.roads) r.coherence = loads::Coherence::none; }},
      {"fit", [](Job& j) { for (loads::Road& r : j.duty.roads) r.coherence = loads::Coherence::fitted, r.fit = {1, 1, 1}; }},
      {"pedals", [](Job& j) { legs(j)[0].pedal_force_n += 1; }},
      {"turns", [](Job& j) { legs(j)[0].turns_per_km *= 2; }},
      {"payload", [](Job& j) { legs(j)[0].pose.payload_kg += 1; }},
      {"manoeuvre", [](Job& j) { set_manoeuvre(j, "stop", 2.5, 40); }},
      {"obstacle", [](Job& j) { legs(j)[0].rates.push_back({"drop-kerb-up", 40}); }},
      {"trips", [](Job& j) { j.duty.trips[0].trips_per_year *= 2; }},
      {"wall", [](Job& j) { for (frame::Tube& t : j.design.frame.tubes) if (auto* r = std::get_if<frame::RoundTube>(&t.section)) r->wall_mm += 0.1; }},
      {"tyre", [](Job& j) { j.design.frame.wheels[0].radial_n_mm *= 1.01; }},
      {"rules", [](Job& j) { rules::change_set(j.rules, rules::iiw); }},
      {"weld", [](Job& j) { j.design.welds.resize(1); }}};
  for (const auto& [name, change] : changes) {
    Job other = job;
    change(other);
    INFO(name);
    CHECK(inputs(other) != before);
  }
}

}  // namespace seamwright::rating
