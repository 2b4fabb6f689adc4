// SPDX-License-Identifier: GPL-3.0-or-later
// Studies against single ratings and hand values.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "catalog/published/published_data.h"
#include "engine/design/sides.h"
#include "engine/study/comparison.h"
#include "engine/study/recalibration.h"
#include "engine/study/suggest.h"
#include "engine/study/sweep.h"
#include "engine/study/variant.h"
#include "engine/machine/parallel.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::study;
using rating::Method;

namespace {
const rules::Published& data() { return published::catalog().data; }
Argument number_of(std::size_t variant) { return number("variant", static_cast<double>(variant), ""); }
}  // namespace

TEST_CASE("mass of a tee by hand") {
  // 800 mm of 60 x 3 and 300 mm of 30 x 2 in steel of 7850 kg/m3
  const double pi = 3.14159265358979, chord = pi / 4 * (60 * 60 - 54 * 54),
               brace = pi / 4 * (30 * 30 - 26 * 26);
  CHECK(frame_mass_kg(rating::tee().frame) == Approx((800 * chord + 300 * brace) * 7850e-9).epsilon(1e-9));
}

TEST_CASE("tasks run once each, in one thread or many, and pass on their fault") {
  for (const std::size_t threads : {1, 2, 7}) {
    std::vector<int> hits(100, 0);
    machine::over_tasks(hits.size(), threads, [&](std::size_t i) { ++hits[i]; });
    CHECK(std::all_of(hits.begin(), hits.end(), [](int n) { return n == 1; }));
    CHECK_THROWS_AS(machine::over_tasks(10, threads,
                                        [](std::size_t i) {
                                          if (i == 3) throw Fault{Message{"rating.no-welds", {}}};
                                        }),
                    Fault);
  }
  machine::over_tasks(0, 0, [](std::size_t) { FAIL("nothing to do"); });
}

TEST_CASE("a job against itself, and against one with half the roughness") {
  rating::Job job = rating::straight(rating::one_leg());
  const rating::Rating a = rating::rated(job, Method::spectral);
  const Comparison same = compare(a, a);
  for (const WeldPair& w : same.welds)
    if (!std::isnan(w.ratio)) CHECK(w.ratio == 1);
  CHECK(same.only_first.empty());
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 *= 0.5;
  const Comparison better = compare(a, rating::rated(job, Method::spectral));
  for (const WeldPair& w : better.welds)
    if (std::isfinite(w.ratio)) CHECK(w.ratio > 1);
  rating::Rating other = a;
  for (rating::WeldRating& w : other.welds) w.id += "x";
  CHECK_THROWS_AS(compare(a, other), Fault);
}

TEST_CASE("a pair of jobs is rated as each alone, and a fault of the first is told as the first's") {
  const rating::Job job = rating::straight(rating::one_leg());
  rating::Job smooth = job;
  for (loads::Road& road : smooth.duty.roads) road.gd_n0_m3 *= 0.5;
  const RatedPair pair = rate_pair(job, smooth, data(), Method::spectral, {});
  CHECK(pair.first.welds[0].sites[0].damage == rating::rated(job, Method::spectral).welds[0].sites[0].damage);
  CHECK(pair.second.welds[0].sites[0].damage < pair.first.welds[0].sites[0].damage);
  CHECK(pair.first_kg == frame_mass_kg(job.design.frame));
  const rating::Job nothing;
  CHECK_THROWS_AS(rate_pair(nothing, job, data(), Method::spectral, {}), FirstJobFault);
  try {
    rate_pair(job, nothing, data(), Method::spectral, {});
    FAIL("rated a design without welds");
  } catch (const FirstJobFault&) {
    FAIL("the fault of the second told as the first's");
  } catch (const Fault& fault) {
    CHECK(std::string(fault.what()) == "rating.no-welds");
  }
}

TEST_CASE("a job rated anew takes the load factor that the returns make likely") {
  const rating::Job job = rating::straight(rating::one_leg());
  const rating::Rating alone = rating::rated(job, Method::spectral);
  const std::string weld = alone.welds[0].id;
  const double far = 100 * alone.welds[0].sites[0].life_km_predicted;
  const Recalibration r = recalibrate(job, data(), {{false, weld, "", far, 5}}, {}, {});
  CHECK(r.before.welds[0].sites[0].damage == alone.welds[0].sites[0].damage);
  CHECK(r.calibration.posterior_factor.value < 1);  // five came home whole from far beyond the model's life
  CHECK(r.after.rules.load_bias < r.before.rules.load_bias);
  const auto largest = [](const rating::Rating& rated) {
    double most = 0;
    for (const rating::WeldRating& w : rated.welds)
      for (const rating::SiteRating& s : w.sites) most = std::fmax(most, s.damage);
    return most;
  };
  CHECK(largest(r.after) > 0);
  CHECK(largest(r.after) < largest(r.before));
}

TEST_CASE("parts of a sweep share its variants, each in one part") {
  CHECK(variants_of_part(7, 1, 3) == std::vector<std::size_t>{0, 3, 6});
  CHECK(variants_of_part(7, 3, 3) == std::vector<std::size_t>{2, 5});
  CHECK(variants_of_part(2, 3, 3).empty());
}

TEST_CASE("a sweep gives each variant once, goes past the impossible and stops when asked") {
  const rating::Job job = rating::straight(rating::one_leg());
  std::map<std::size_t, SweptVariant> rows;
  SweepOrder sweeping;
  sweeping.job_of = [&](std::size_t number) {
    if (number != 4) throw Fault{Message{"sweep.too-many", {number_of(number)}}};
    return job;
  };
  sweeping.sink = [&](const SweptVariant& v) { CHECK(rows.emplace(v.number, v).second); };
  const std::vector<std::size_t> numbers{1, 4, 7, 10};
  sweep(numbers, sweeping, data(), {});
  REQUIRE(rows.size() == numbers.size());
  for (const auto& [number, row] : rows) {
    CHECK(row.impossible.has_value() == (number != 4));
    if (row.impossible) CHECK(std::get<double>(row.impossible->arguments[0].value) == double(number));
  }
  const rating::Rating alone = rating::rated(job, Method::spectral);
  CHECK(rows[4].governing_weld == alone.governing_weld);
  CHECK(rows[4].damage == alone.welds[0].sites[0].damage);
  CHECK(rows[4].mass_kg == frame_mass_kg(job.design.frame));
  rows.clear();
  std::stop_source stop;
  stop.request_stop();
  rating::Progress asked;
  asked.stop = stop.get_token();
  CHECK_THROWS_AS(sweep(numbers, sweeping, data(), asked), rating::RatingStopped);
  CHECK(rows.empty());
}

TEST_CASE("twins") {
  CHECK(design::other_side("W1.L") == "W1.R");
  CHECK(design::other_side("W1.R") == "W1.L");
  CHECK(design::other_side("W1") == "W1");
  CHECK(design::left_side("W1.R") == "W1.L");
  CHECK(design::side_of("W1").empty());
}

TEST_CASE("suggestions are confirmed by a rating of their own, and none comes for a gusset") {
  const rating::Job job = rating::straight(rating::one_leg());
  const rating::Rating now = rating::rated(job, Method::spectral);
  const auto falls = std::find_if(now.welds.rbegin(), now.welds.rend(), [](const auto& w) {
    return w.verdict == rating::Verdict::falls_short && !w.chord.empty();
  });
  REQUIRE(falls != now.welds.rend());  // the mildest that falls short
  const std::vector<frame::RoundTube> stock{{30, 1.5}, {35, 2}, {45, 2.5}, {60, 3},
                                            {63, 4},   {70, 5}, {80, 6}};
  const auto all = suggestions(job, data(), stock, falls->id, Method::spectral, {});
  CHECK(all.back().kind == "gusset");
  CHECK_FALSE(all.back().covered);
  const auto throat = std::find_if(all.begin(), all.end(), [](const auto& s) { return s.kind == "throat"; });
  REQUIRE(throat != all.end());
  CHECK(throat->mass_kg == 0);
  rating::Job changed = job;
  for (joints::Weld& w : changed.design.welds)
    if (w.id == falls->id || w.id == design::other_side(falls->id)) w.throat_mm = throat->to;
  const rating::Rating again = rating::rated(changed, Method::spectral);
  CHECK(life_km(again.welds, falls->id) == Approx(throat->life_km).epsilon(1e-12));
  CHECK((rating::weld(again, falls->id).verdict == rating::Verdict::meets) == throat->meets);
  for (const Suggestion& s : all)
    if (s.kind.ends_with("wall") && std::isfinite(s.life_km)) CHECK((s.mass_kg > 0) == (s.to > s.from));
  CHECK_THROWS_AS(suggestions(job, data(), stock, "none", Method::spectral, {}), Fault);
}
