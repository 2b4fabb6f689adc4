// SPDX-License-Identifier: GPL-3.0-or-later
// Studies against single ratings and hand values.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/design/sides.h"
#include "engine/study/comparison.h"
#include "engine/study/suggest.h"
#include "engine/threads/parallel.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::study;
using rating::Method;

namespace {
const rules::Published& data() { return published::catalog().data; }
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
    threads::over_tasks(hits.size(), threads, [&](std::size_t i) { ++hits[i]; });
    CHECK(std::all_of(hits.begin(), hits.end(), [](int n) { return n == 1; }));
    CHECK_THROWS_AS(threads::over_tasks(10, threads,
                                        [](std::size_t i) {
                                          if (i == 3) throw Fault{Message{"x", {}}};
                                        }),
                    Fault);
  }
  threads::over_tasks(0, 0, [](std::size_t) { FAIL("nothing to do"); });
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
  CHECK(life_km(again, falls->id) == Approx(throat->life_km).epsilon(1e-12));
  CHECK((rating::weld(again, falls->id).verdict == rating::Verdict::meets) == throat->meets);
  for (const Suggestion& s : all)
    if (s.kind.ends_with("wall") && std::isfinite(s.life_km)) CHECK(s.mass_kg > 0);
  CHECK_THROWS_AS(suggestions(job, data(), stock, "none", Method::spectral, {}), Fault);
}
