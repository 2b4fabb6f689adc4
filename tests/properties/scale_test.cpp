// SPDX-License-Identifier: GPL-3.0-or-later
// All section forces of every load and at every time times k >= 1, lower classes, thinner throats, roots that
// lose their proof: no place lives longer and no verdict gets better. Falling S-N curves with Miner's rule
// leave no other outcome.
#include <catch2/catch.hpp>

#include "catalog/published/published_data.h"
#include "engine/rules/safety.h"
#include "tests/properties/jobs.h"

using namespace seamwright;
using namespace seamwright::properties;

namespace {

rating::Job demo_by(const rules::RuleSet* set) {
  rating::Job job = read(texts_of(demo_folder));
  set_rules(job, set);
  return job;
}

// Weld by weld and site by site, welds found by their ids; `but`: a kind of place that is not compared.
void none_lives_longer(const rating::Rating& before, const rating::Rating& after, const char* but = "") {
  const auto now = by_id(after);
  REQUIRE(before.welds.size() == after.welds.size());
  for (const rating::WeldRating& w : before.welds) {
    INFO(w.id);
    const rating::WeldRating& other = *now.at(w.id);
    CHECK(no_better(comfort_of(w), comfort_of(other)));
    std::map<std::string, const rating::SiteRating*> sites;
    for (const rating::SiteRating& s : other.sites) sites[s.site] = &s;
    for (const rating::SiteRating& s : w.sites) {
      INFO(s.site);
      if (s.kind == but) continue;
      REQUIRE(sites.count(s.site) == 1);
      CHECK(no_better({s.verdict, s.life_km}, {sites[s.site]->verdict, sites[s.site]->life_km}));
      CHECK(no_better({s.verdict, s.life_km_predicted}, {sites[s.site]->verdict, sites[s.site]->life_km_predicted}));
    }
  }
  CHECK(after.verdict >= before.verdict);
}

}  // namespace

TEST_CASE("forces times k never lengthen a life, by every rule set") {
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    const rating::Job job = demo_by(set);
    const rating::Rating before = quickly(job);
    for (double k : {1.02, 1.5, 4.0}) {
      INFO(k);
      rating::Job more = job;
      more.rules.load_bias = k;
      const rating::Rating after = quickly(more);
      none_lives_longer(before, after);
      CHECK(after.likelihood.frame.probability >= before.likelihood.frame.probability * (1 - 1e-9));
    }
  }
}

TEST_CASE("a lower class never lengthens a life") {
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    const rating::Job job = demo_by(set);
    const rules::Published& data = published::catalog().data;
    const rating::Rating before = rating::rate(job, data, rating::Method::spectral, {});
    rules::Published lower = data;
    std::size_t lowered = 0;
    for (fatigue::Curve& c : lower.curves) {  // every curve by a tenth in stress
      if (c.set != name_of(set)) continue;
      for (fatigue::Segment& s : c.segments) s.log_a += s.slope * std::log10(0.9);
      if (c.cutoff_mpa) *c.cutoff_mpa *= 0.9;
      ++lowered;
    }
    REQUIRE(lowered > 0);
    none_lives_longer(before, rating::rate(job, lower, rating::Method::spectral, {}));
  }
}

TEST_CASE("a thinner throat never lengthens a life") {
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    rating::Job job = demo_by(set);
    rating::Rating before = quickly(job);
    for (double share : {0.9, 0.6, 0.3}) {
      INFO(share);
      rating::Job thin = job;
      for (joints::Weld& w : thin.design.welds) w.throat_mm *= share;
      rating::Rating after = quickly(thin);
      // A smaller fillet makes a shorter attachment, which the tables of details put into a higher class.
      none_lives_longer(before, after, "chord-wall");
      before = std::move(after);
    }
  }
}

TEST_CASE("a root that loses its proof never gains") {
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    rating::Job open = demo_by(set), proven = open;
    for (joints::Weld& w : open.design.welds) w.root_proven = false;
    for (joints::Weld& w : proven.design.welds) w.root_proven = true;
    const rating::Rating before = quickly(proven), after = quickly(open);
    const auto now = by_id(after);
    for (const rating::WeldRating& w : before.welds) {  // their roots are other places: weld by weld
      INFO(w.id);
      CHECK(no_better(comfort_of(w), comfort_of(*now.at(w.id))));
    }
    CHECK(after.verdict >= before.verdict);
  }
}
