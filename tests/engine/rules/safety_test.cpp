// SPDX-License-Identifier: GPL-3.0-or-later
// One job by every rule set.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/loads/stability.h"
#include "engine/rating/manoeuvre_caps.h"
#include "engine/rating/parts.h"
#include "engine/rules/safety.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rules;
using namespace seamwright::rating;

namespace {

Job job_by(const rules::RuleSet* set) {
  Job job = one_leg();
  job.rules.set = set;
  return job;
}

}  // namespace

TEST_CASE("each set rates with its own curves, factors and limit, and is held to one target") {
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    const Rating r = rated(job_by(set), Method::spectral);
    std::size_t covered = 0, roots = 0;
    for (const WeldRating& w : r.welds)
      for (const SiteRating& s : w.sites) {
        if (s.curve.empty()) continue;
        ++covered;
        const auto& curves = published::catalog().data.curves;
        CHECK(std::any_of(curves.begin(), curves.end(),
                          [&](const auto& c) { return c.set == name_of(set) && c.id == s.curve; }));
        CHECK((s.verdict == Verdict::falls_short) == (s.damage_unfactored > s.allowed_damage));
        CHECK((s.damage_unfactored == 0 || s.allowed_damage > 0));
        CHECK((s.verdict == Verdict::meets) == (s.damage_unfactored <= s.allowed_damage && !s.at_least));
        CHECK(s.life_years == Approx(r.service_years * r.rules.damage_limit / s.damage));
        roots += s.kind == "root-shear";
      }
    CHECK(covered > 1000);
    CHECK((roots > 0) == (set != &rules::dnv));
  }
}

TEST_CASE("more stress never lengthens a life, at any site and by any set") {
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    Job job = job_by(set);
    job.rules.load_factor = 1;
    const Rating bare = rated(job, Method::spectral);
    job.rules.load_factor = 1.25;
    const Rating more = rated(job, Method::spectral);
    for (const WeldRating& w : bare.welds) {
      const WeldRating& worse = weld(more, w.id);
      INFO(w.id);
      CHECK(worse.verdict >= w.verdict);
      CHECK(worse.sites.size() == w.sites.size());
      for (const SiteRating& s : w.sites)
        if (!s.curve.empty()) CHECK(site(worse, s.site).damage >= s.damage * (1 - 1e-12));
    }
  }
}

TEST_CASE("the order of the welds changes nothing") {
  Job job = straight(one_leg());
  const Rating before = rated(job, Method::spectral);
  std::reverse(job.design.welds.begin(), job.design.welds.end());
  const Rating after = rated(job, Method::spectral);
  CHECK(after.verdict == before.verdict);
  for (const WeldRating& w : before.welds) {
    const WeldRating& same = weld(after, w.id);
    CHECK(same.verdict == w.verdict);
    CHECK(same.sites.size() == w.sites.size());
    if (!w.sites[0].curve.empty()) CHECK(same.sites[0].damage == Approx(w.sites[0].damage).epsilon(1e-9));
  }
}

TEST_CASE("toes of tubes on plates are covered by EN and IIW, not by DNV") {
  const auto covered = [](const rules::RuleSet* set) {
    const Rating r = rated(job_by(set), Method::spectral);
    const WeldRating& w = weld(r, "W43.L");
    return std::any_of(w.sites.begin(), w.sites.end(),
                       [](const SiteRating& s) { return s.kind == "brace-toe" && !s.curve.empty(); });
  };
  CHECK_FALSE(covered(&rules::dnv));
  CHECK(covered(&rules::en1993));
  CHECK(covered(&rules::iiw));
}

TEST_CASE("partial factors act on stress, limits on damage") {
  Job job = job_by(&rules::en1993);
  job.rules.load_factor = 1;
  job.rules.partial_factor = 1;
  const Rating bare = rated(job, Method::spectral);
  job.rules.partial_factor = 1.3;
  const Rating factored = rated(job, Method::spectral);
  const SiteRating &a = site(weld(bare, "W41"), "chord-toe@180"),
                   &b = site(weld(factored, "W41"), "chord-toe@180");
  CHECK(b.damage > std::pow(1.3, 3) * a.damage * (1 - 1e-9));
  CHECK(b.damage_unfactored == Approx(a.damage_unfactored).epsilon(1e-12));
  job.rules.damage_limit = 0.5;
  job.rules.damage_limit_by = "a test";
  const Rating limited = rated(job, Method::spectral);
  CHECK(site(weld(limited, "W41"), "chord-toe@180").life_km == Approx(0.5 * b.life_km).epsilon(1e-9));
  CHECK(std::any_of(limited.notes.begin(), limited.notes.end(),
                    [](const Message& m) { return m.id == "rating.damage-limit-by"; }));
}

TEST_CASE("shear along a throat adds its damage by EN, and squares by the IIW") {
  Job job = job_by(&rules::en1993);
  const Rating en = rated(job, Method::spectral);
  job.rules.set = &rules::iiw;
  const Rating iiw = rated(job, Method::spectral);
  std::size_t joined = 0;
  for (const WeldRating& w : en.welds)
    for (const SiteRating& s : w.sites) {
      if (s.kind != "root" || s.curve.empty()) continue;
      const std::string shear = "root-shear" + s.site.substr(4);
      CHECK(s.damage >= site(w, shear).damage);
      const SiteRating &across = site(weld(iiw, w.id), s.site), &along = site(weld(iiw, w.id), shear);
      if (along.largest_range_mpa < 0.15 * across.largest_range_mpa) continue;
      // Both are uses of strength: the root's own, and what the squares ask for.
      const double use = std::pow(across.damage / 0.2, 2.0 / 3);
      CHECK(use >= std::pow(along.damage / 0.2, 2.0 / 5) * (1 - 1e-9));
      ++joined;
    }
  CHECK(joined > 10);
}

TEST_CASE("free corrosion is rated where the set has a curve for it, else not covered") {
  Job job = job_by(&rules::dnv);
  job.rules.environment_outside = Environment::free_corrosion;
  const Rating wet = rated(job, Method::spectral);
  for (const WeldRating& w : wet.welds)
    for (const SiteRating& s : w.sites) {
      if (s.kind == "chord-toe") CHECK(s.curve.empty());  // no curve T in free corrosion was to be had
      if (s.kind == "root") CHECK_FALSE(s.curve.empty());
    }
}

TEST_CASE("a weld may say how its brace's force is balanced") {
  // Stays on the seat tube. The share changes what the axial force does; bending stays as it is, so the sum
  // may rise or fall.
  Job job = straight(one_leg());
  const auto set = [&](double x, double k) {
    for (joints::Weld& w : job.design.welds)
      if (w.id == "W38.L") {
        w.shares_given = true;
        w.x_share = x;
        w.k_share = k;
        w.partner = "W38.R";
        w.gap_mm = 10;
      }
    return site(weld(rated(job, Method::spectral), "W38.L"), "chord-toe@90").largest_range_mpa;
  };
  const double y = set(0, 0), x = set(1, 0), k = set(0, 1);
  CHECK(x != y);
  CHECK(k != y);
}

TEST_CASE("the IIW joins throat stresses by the sum of squares of their use, to at most a half") {
  const Job job = job_by(&rules::iiw);
  const Safety safety = safety_of(job.rules);
  const frame::Frame cut = design::frame_with_cuts(job.design);
  const Service service = prepare(job, cut, sites_of(job, cut, published::catalog().data),
                                  safety.load_factor * safety.partial_factor);
  const Eigen::VectorXd damage =
      damage_in_parts(service, job.range_model).factored.colwise().sum().transpose() * job.duty.years;
  const Rating r = rated(job, Method::spectral);
  std::size_t joined = 0;
  for (std::size_t i = 0; i < service.sites.size(); ++i) {
    const sites::Site& s = service.sites[i];
    if (s.beside == std::string::npos || !s.curve) continue;
    const WeldRating& w = weld(r, design::subject_of(job.design, s.weld).id);
    const SiteRating &root = site(w, name_of(s)), &shear = site(w, name_of(service.sites[s.beside]));
    if (shear.largest_range_mpa < 0.15 * root.largest_range_mpa) continue;
    const double across = damage[static_cast<Eigen::Index>(i)],
                 along = damage[static_cast<Eigen::Index>(s.beside)];
    const double use = std::pow(across / 0.2, 2.0 / 3) + std::pow(along / 0.2, 2.0 / 5);
    CHECK(root.damage == Approx(std::max(across, 0.2 * std::pow(use / 0.5, 1.5))).epsilon(1e-9));
    ++joined;
  }
  CHECK(joined > 10);
}

TEST_CASE("on a cross fall the corner away from the slope is capped later, the other sooner") {
  Job job = one_leg();
  loads::Leg& leg = legs(job)[0];
  leg.cross_fall_percent = 6;  // falls to the right: turning left tips sooner
  const frame::Frame cut = design::frame_with_cuts(job.design);
  const auto c =
      loads::stability_case(cut, job.design.carriers, job.duty.rider, job.design.steering, leg.pose);
  loads::Manoeuvre bend;
  bend.id = "bend";
  bend.level = 9;
  std::vector<Message> notes;
  TipLimits limits(job.design, cut, job.duty.rider);
  const double fall = 9.80665 * std::sin(std::atan(0.06));
  CHECK(cross_fall_m_s2(leg) == Approx(fall));
  bend.side = loads::Side::left;
  CHECK(capped_manoeuvre(bend, leg, job.duty.drive, limits, notes).level ==
        Approx(c.left.acceleration_m_s2 - fall));
  bend.side = loads::Side::right;
  CHECK(capped_manoeuvre(bend, leg, job.duty.drive, limits, notes).level ==
        Approx(c.right.acceleration_m_s2 + fall));
  CHECK(notes.size() == 2);
}

TEST_CASE("a corner without speed is the stress of turning the front") {
  Job job = straight(short_demo());
  legs(job).resize(2);
  legs(job)[1] = legs(job)[0];
  legs(job)[1].id = "turned";
  legs(job)[1].pose.steering_deg = 20;
  for (loads::Manoeuvre& m : job.duty.manoeuvres)
    if (m.id == "bend") {
      m.steering_deg = 20;
      m.side = loads::Side::left;
    }
  // Stresses are linear in the loads where shares are given; found from the forces they are sorted load by
  // load.
  for (joints::Weld& w : job.design.welds) w.shares_given = true;
  set_manoeuvre(job, "bend", 1e-9, 20);
  const frame::Frame cut = design::frame_with_cuts(job.design);
  const Service service = prepare(job, cut, sites_of(job, cut, published::catalog().data), 1);
  const RatedLeg& ahead = service.trips[0][0];
  const Eigen::VectorXd turning = service.trips[0][1].standing - ahead.standing;
  REQUIRE(ahead.trains.size() == 1);
  CHECK(turning.norm() > 1);
  CHECK((ahead.trains[0].peaks.row(0).transpose() - turning).norm() < 1e-6 * turning.norm());
}
