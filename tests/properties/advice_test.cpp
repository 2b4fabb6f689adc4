// SPDX-License-Identifier: GPL-3.0-or-later
// The studies advise what single ratings say.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "catalog/published/published_data.h"
#include "engine/design/sides.h"
#include "engine/study/influence.h"
#include "engine/study/suggest.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::study;

TEST_CASE(
    "influence: the ends are single ratings, largest spread first, with the rider's spring and the tracks") {
  const rating::Job job = rating::straight(rating::one_leg());
  const Influences all = influences(job, published::catalog().data, {});
  for (std::size_t i = 1; i < all.inputs.size(); ++i) CHECK(all.inputs[i - 1].spread >= all.inputs[i].spread);
  const auto find = [&](const std::string& name) {
    const auto at = std::find_if(all.inputs.begin(), all.inputs.end(),
                                 [&](const Influence& i) { return i.input == name; });
    REQUIRE(at != all.inputs.end());
    return *at;
  };
  const Influence mass = find("rider-mass");
  rating::Job heavy = job;
  heavy.duty.rider.mass_kg = mass.high;
  const auto least_km = [](const rating::Job& of) {
    double least = std::numeric_limits<double>::infinity();
    for (const rating::WeldRating& w : rating::rated(of, rating::Method::spectral).welds)
      for (const rating::SiteRating& s : w.sites)
        if (!s.curve.empty()) least = std::min(least, s.life_km_predicted);
    return least;
  };
  CHECK(least_km(heavy) == Approx(mass.high_km).epsilon(1e-12));
  CHECK(least_km(job) == Approx(all.life_km).epsilon(1e-12));
  const Influence spring = find("rider-lateral-frequency");
  CHECK(spring.low == 1);
  CHECK(spring.high == 4);
  rating::Job stiff = job;
  stiff.duty.rider.lateral_frequency_hz = 4;
  CHECK(spring.high_km == Approx(least_km(stiff)).epsilon(1e-12));
  CHECK(spring.moved > 1.5);
  const Influence tracks = find("track-coherence");
  CHECK(tracks.words.size() == 4);
  CHECK(tracks.moved > 10);  // from one track for all to tracks of their own
  CHECK(tracks.moved >= tracks.spread);
  CHECK(tracks.by_default);
  CHECK_FALSE(find("rider-mass").by_default);
  CHECK(all.unranged.empty());
  CHECK_FALSE(all.recalled.empty());
}

TEST_CASE("a proof of the root is advised only where the set gives credit for it", "[night]") {
  rating::Job job = rating::straight(rating::one_leg());
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    job.rules.set = set;
    const rating::Rating now = rating::rated(job, rating::Method::spectral);
    for (const char* weld : {"W33", "W43.L"}) {
      const auto all = suggestions(job, published::catalog().data, {}, weld, rating::Method::spectral, {});
      const auto proof =
          std::find_if(all.begin(), all.end(), [](const auto& s) { return s.kind == "proven-root"; });
      REQUIRE(proof != all.end());
      rating::Job proven = job;
      for (joints::Weld& w : proven.design.welds)
        if (w.id == weld || w.id == design::other_side(weld)) w.root_proven = true;
      const rating::Rating then = rating::rated(proven, rating::Method::spectral);
      const auto same = [&](const rating::WeldRating& a, const rating::WeldRating& b) {
        return a.verdict == b.verdict && a.at_most == b.at_most && a.sites.size() == b.sites.size();
      };
      const bool advised = std::isfinite(proof->to);
      CHECK(advised == !same(rating::weld(now, weld), rating::weld(then, weld)));
      CHECK(advised == (std::string(weld) == "W33"));
    }
  }
}
