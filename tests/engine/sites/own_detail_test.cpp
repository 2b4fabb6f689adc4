// SPDX-License-Identifier: GPL-3.0-or-later
// Details of the shop's own, and welds as they were made.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/sites/sites.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::sites;
using namespace seamwright::rating;

namespace {

std::vector<Site> sites_of(const design::Design& d, const rules::RuleSet* set = &rules::dnv) {
  const frame::Frame cut = design::frame_with_cuts(d);
  rules::Rules rules;
  rules.set = set;
  return make_sites(d, cut, frame::assemble(cut, frame::Footing::nothing), rules, published::catalog().data);
}
const Site& first(const std::vector<Site>& sites, const std::string& kind) {
  return *std::find_if(sites.begin(), sites.end(), [&](const Site& s) { return s.kind == kind; });
}
design::OwnDetail detail(const std::string& kind, double min_wall, double max_wall) {
  design::OwnDetail d;
  d.id = "own";
  d.by = "test";
  d.kinds = {kind};
  d.place = "brace-toe";
  d.stress = fatigue::StressKind::hot_spot;
  d.min_wall_mm = min_wall;
  d.max_wall_mm = max_wall;
  d.curve.id = "own";
  d.curve.set = "shop";
  d.curve.stress = d.stress;
  d.curve.segments = {{3, 12.5, std::numeric_limits<double>::infinity()}};
  return d;
}

}  // namespace

TEST_CASE("an own detail rates the tested place and walls, and nothing else") {
  design::Design d = tee();  // brace 30 x 2 on chord 60 x 3
  d.own_details = {detail("tube-tee", 1.5, 2)};
  const auto sites = sites_of(d);
  CHECK(first(sites, "brace-toe").curve->id == "own");
  CHECK(first(sites, "brace-toe").evidence.coverage == Coverage::inside);
  CHECK(first(sites, "chord-toe").curve->id == "T");
  CHECK(first(sites, "chord-toe").evidence.coverage == Coverage::extended);
  for (const auto& [least, most] : {std::pair{2.1, 3.0}, std::pair{1.0, 1.9}}) {
    d.own_details = {detail("tube-tee", least, most)};
    CHECK(first(sites_of(d), "brace-toe").curve->id == "T");
  }
  d.own_details = {detail("tube-tee", 1, 3)};
  d.own_details[0].stress = fatigue::StressKind::nominal;  // the place gives a hot spot
  CHECK(first(sites_of(d), "brace-toe").curve == nullptr);
  d.own_details = {detail("tube-shell", 1, 3)};
  CHECK(first(sites_of(d), "brace-toe").curve->id == "T");
}

TEST_CASE("what no rule covers is rated where the shop tested it") {
  design::Design d = tee();
  d.welds[0].kind = "braze-on";
  d.welds[0].layout = joints::Layout::unwelded;
  CHECK(first(sites_of(d), "weld").curve == nullptr);
  d.own_details = {detail("braze-on", 1, 3)};
  d.own_details[0].stress = fatigue::StressKind::nominal;
  const auto sites = sites_of(d);
  CHECK(sites.size() == 8);
  CHECK(first(sites, "brace-toe").curve->id == "own");
  CHECK(first(sites, "brace-toe").evidence.coverage == Coverage::inside);
}

TEST_CASE("faults that no published rule takes leave the number a bound, on both sides of their limits") {
  design::Design d = tee();
  const auto bound = [](const Site& s) {
    CHECK(s.at_least == (s.evidence.coverage == Coverage::none));
    CHECK(s.curve != nullptr);  // what the faultless weld has stays: nothing drops out
    return s.at_least;
  };
  d.welds[0].undercut_mm = 0.1;  // 0.05 of the brace's wall of 2
  CHECK_FALSE(bound(first(sites_of(d), "brace-toe")));
  d.welds[0].undercut_mm = 0.11;
  CHECK(bound(first(sites_of(d), "brace-toe")));
  CHECK(first(sites_of(d), "brace-toe").evidence.notes.back().id == "as-built.undercut");
  CHECK_FALSE(bound(first(sites_of(d), "chord-toe")));                        // its wall is 3
  CHECK(first(sites_of(d), "root").evidence.coverage == Coverage::extended);  // the root has no undercut
  d.welds[0].undercut_mm = 0.16;
  CHECK(bound(first(sites_of(d), "chord-wall")));  // the wall beside the toe has the same undercut
  d.welds[0].undercut_mm = 0;
  d.welds[0].offset_mm = 0.2;
  CHECK(bound(first(sites_of(d), "brace-toe")));
  d.welds[0].offset_mm = 0;
  d.welds[0].cap_mm = 0.1;  // and no width
  CHECK(bound(first(sites_of(d), "brace-toe")));
  d.welds[0].cap_mm = 0;
  d.welds[0].flaws = {{"2017", 0.5, false}};
  CHECK(bound(first(sites_of(d), "root")));
  design::Design splice = tee();
  splice.welds[0].kind = "tube-splice";
  splice.welds[0].layout = joints::Layout::tube_end;
  splice.welds[0].chord.clear();
  const double straight = first(sites_of(splice, &rules::en1993), "brace-toe").row.norm();
  splice.welds[0].offset_mm = 0.2;
  CHECK(first(sites_of(splice, &rules::en1993), "brace-toe").row.norm() ==
        Approx(straight / 0.76923).epsilon(1e-4));
  splice.welds[0].cap_mm = 1.0;
  splice.welds[0].cap_width_mm = 10;
  CHECK_FALSE(bound(first(sites_of(splice, &rules::en1993), "brace-toe")));
  splice.welds[0].cap_mm = 1.01;
  CHECK(bound(first(sites_of(splice, &rules::en1993), "brace-toe")));
}

TEST_CASE("a smaller throat lives shorter") {
  Job job = straight(one_leg());
  const Rating drawn = rated(job, Method::spectral);
  for (joints::Weld& w : job.design.welds)
    if (w.id == "W33") w.throat_mm *= 0.8;
  const Rating built = rated(job, Method::spectral);
  double before = 0, after = 0;
  for (const SiteRating& s : weld(drawn, "W33").sites)
    if (s.kind == "root") before = std::max(before, s.damage);
  for (const SiteRating& s : weld(built, "W33").sites)
    if (s.kind == "root") after = std::max(after, s.damage);
  CHECK(after > before * std::pow(1 / 0.8, 3) * 0.99);
  CHECK(after < before * std::pow(1 / 0.8, 5) * 1.01);
}

TEST_CASE("the frame's chance of a crack lies between its bounds and grows with the load") {
  Job job = straight(one_leg());
  const Rating r = rated(job, Method::spectral);
  const auto& l = r.likelihood;
  CHECK(l.places > 30);
  CHECK(l.frame.lower <= l.frame.probability);
  CHECK(l.frame.probability <= l.frame.upper + 1e-12);
  CHECK(l.target_index == 3.8);
  CHECK(l.target_probability == Approx(7.235e-5).epsilon(1e-3));
  double most = 0;
  for (const WeldRating& w : r.welds)
    most = std::max(most, std::isnan(w.crack_probability) ? 0 : w.crack_probability);
  CHECK(most == Approx(l.frame.lower).epsilon(1e-9));
  // A weld whose first site is not covered counts with its most damaged covered one.
  for (const WeldRating& w : r.welds) {
    const bool damaged = std::any_of(w.sites.begin(), w.sites.end(), [](const SiteRating& s) {
      return !s.curve.empty() && s.damage_unfactored > 0;
    });
    CHECK(damaged == !std::isnan(w.crack_probability));
  }
  Job faulty = job;
  for (joints::Weld& w : faulty.design.welds)
    w.undercut_mm = w.id == "W10.L" ? 5 : 0;  // its toes leave coverage
  const Rating holed = rated(faulty, Method::spectral);
  CHECK(weld(holed, "W10.L").at_most);
  CHECK(weld(holed, "W10.L").crack_probability == weld(r, "W10.L").crack_probability);
  for (loads::Leg& leg : legs(job)) leg.speed_kmh *= 0.5;
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 *= 0.02;
  const Rating calm = rated(job, Method::spectral);
  CHECK(calm.likelihood.frame.probability < l.frame.probability);
}

TEST_CASE("with joints rigid and giving way the worse counts at every site") {
  Job job = straight(one_leg());
  const Rating rigid = rated(job, Method::spectral);
  job.design.flexible_joints = true;
  const Rating soft = rated(job, Method::spectral);
  job.design.flexible_joints = false;
  job.rules.bracket_joints = true;
  const Rating both = rated(job, Method::spectral);
  std::size_t softer = 0;
  for (const WeldRating& w : both.welds)
    for (const SiteRating& s : w.sites) {
      if (s.curve.empty() || !(site(weld(rigid, w.id), s.site).damage > 0)) continue;
      const double a = site(weld(rigid, w.id), s.site).damage, b = site(weld(soft, w.id), s.site).damage;
      CHECK(s.damage == Approx(std::max(a, b)).epsilon(1e-9));
      softer += b > a ? 1 : 0;
    }
  CHECK(softer > 10);
  // Counted histories carry the same factor.
  const Rating counted = rated(job);
  job.rules.bracket_joints = false;
  const Rating plain = rated(job);
  for (const WeldRating& w : counted.welds) {
    const SiteRating& s = w.sites[0];
    if (s.curve.empty() || !(s.damage > 0)) continue;
    const double factor = site(weld(both, w.id), s.site).damage / site(weld(rigid, w.id), s.site).damage;
    CHECK(s.damage == Approx(factor * site(weld(plain, w.id), s.site).damage).epsilon(1e-9));
  }
}
