// SPDX-License-Identifier: GPL-3.0-or-later
// Rules for size on both sides of their reference: EN 1993-1-9, 7.2.2 and IIW 2008 [from memory]; values
// evaluated apart. And credit for compression, only where it was asked for and the set gives it.
#include <algorithm>
#include <catch2/catch.hpp>

#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/sites/sites.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::sites;
using namespace seamwright::rating;

namespace {

std::vector<Site> sites_of(const design::Design& d, const rules::Rules& rules) {
  const frame::Frame cut = design::frame_with_cuts(d);
  return make_sites(d, cut, frame::assemble(cut, frame::Footing::nothing), rules, published::catalog().data);
}
rules::Rules by(const rules::RuleSet* set) {
  rules::Rules rules;
  rules.set = set;
  return rules;
}
const Site& first(const std::vector<Site>& sites, const std::string& kind) {
  return *std::find_if(sites.begin(), sites.end(), [&](const Site& s) { return s.kind == kind; });
}
design::Design bolted(double diameter) {
  design::Design d = tee();
  design::BoltCircle b;
  b.id = "BC";
  b.member = "b";
  b.thread = {diameter, 3};
  b.count = 4;
  b.circle_mm = 200;
  b.ultimate_mpa = 800;
  d.bolts = {b};
  return d;
}
design::Design thick(double wall) {
  design::Design d = tee();
  d.frame.tubes = {{"chord", frame::RoundTube{600, wall}, "steel"},
                   {"brace", frame::RoundTube{300, wall / 2}, "steel"}};
  d.frame.nodes[3].position_mm = {400, 0, 900};
  return d;
}

}  // namespace

TEST_CASE("bolts above 30 mm lose strength under EN 1993-1-9") {
  CHECK(first(sites_of(bolted(30), by(&rules::en1993)), "bolt").size_factor == 1);
  CHECK(1 / first(sites_of(bolted(36), by(&rules::en1993)), "bolt").size_factor ==
        Approx(0.95544).epsilon(1e-4));
  CHECK(1 / first(sites_of(bolted(48), by(&rules::en1993)), "bolt").size_factor ==
        Approx(0.88914).epsilon(1e-4));
}

TEST_CASE("walls above 25 mm lose strength under the IIW, thin walls gain nothing") {
  CHECK(first(sites_of(tee(), by(&rules::iiw)), "chord-toe").size_factor == 1);
  CHECK(first(sites_of(thick(25), by(&rules::iiw)), "chord-toe").size_factor == 1);
  CHECK(1 / first(sites_of(thick(40), by(&rules::iiw)), "chord-toe").size_factor ==
        Approx(0.86849).epsilon(1e-4));
}

TEST_CASE("credit for compression goes to what is relieved or not welded, where the set gives it") {
  design::Design d = tee();
  for (const rules::RuleSet* set : rules::rule_sets)
    for (const bool asked : {false, true})
      for (const bool relieved : {false, true}) {
        rules::Rules rules = by(set);
        rules.mean_stress_credit = asked;
        d.welds[0].stress_relieved = relieved;
        const auto mean = first(sites_of(d, rules), "chord-toe").mean;
        const bool given = asked && relieved && set != &rules::dnv;
        CHECK((mean != nullptr) == given);
        CHECK(first(sites_of(d, rules), set == &rules::dnv ? "root" : "root-shear").mean == nullptr);
      }
}

TEST_CASE("with the credit a relieved weld in compression lives longer, in the time domain") {
  Job job = straight(one_leg());
  job.rules = by(&rules::en1993);
  job.rules.consequence = rules::Consequence::people;
  job.rules.strategy = rules::Strategy::safe_life;
  for (joints::Weld& w : job.design.welds) w.stress_relieved = true;
  const Rating without = rated(job);
  job.rules.mean_stress_credit = true;
  const Rating with = rated(job);
  double least = 1, most = 0;
  for (const WeldRating& w : without.welds)
    for (const SiteRating& s : w.sites) {
      if (!(s.damage > 1e-6)) continue;
      const double ratio = site(weld(with, w.id), s.site).damage / s.damage;
      least = std::min(least, ratio);
      most = std::max(most, ratio);
    }
  CHECK(most <= 1 + 1e-12);
  CHECK(least < 0.9);
}
