// SPDX-License-Identifier: GPL-3.0-or-later
// The sites of a weld counted together have the damage of each counted alone, but for rounding.
#include "engine/rating/weld_counter.h"

#include <catch2/catch.hpp>
#include <limits>

#include "engine/cycles/rainflow.h"
#include "engine/loads/random.h"
#include "tests/engine/rating/short_demo.h"

namespace seamwright::rating {

namespace {

constexpr Eigen::Index coordinates = 9, shapes = 2, samples = 5000, rank = 3;
constexpr std::size_t site_count = 11;

Eigen::MatrixXd random_matrix(const std::string& seed, Eigen::Index rows, Eigen::Index columns) {
  loads::NamedRandom random(seed);
  Eigen::MatrixXd m(rows, columns);
  for (double& value : m.reshaped()) value = random.normal();
  return m;
}

double half_compression(double least, double most) { return std::max(most, 0.0) + 0.5 * std::max(-least, 0.0); }

// Eleven sites whose stresses follow from three forces; the last has none of its own.
struct Case {
  fatigue::Curve curve;
  Service service;
  Eigen::MatrixXd rows = random_matrix("basis", coordinates, rank) * random_matrix("sites", rank, site_count);
  Eigen::MatrixXd peaks = random_matrix("peaks", shapes, rank) * random_matrix("sites", rank, site_count);
  Eigen::VectorXd standing = random_matrix("standing", site_count, 1);
  Eigen::MatrixXd history = 20 * random_matrix("history", coordinates, samples);
  Eigen::MatrixXd pulses = random_matrix("pulses", shapes, samples);
  std::vector<Eigen::Index> sites;
  Case() {
    curve.segments = {{3, 12, 1e7}, {5, 15.6, 1e300}};
    rows.col(site_count - 1).setZero();
    peaks.col(site_count - 1).setZero();
    for (std::size_t i = 0; i < site_count; ++i) {
      sites::Site site;
      site.weld = 4;
      site.curve = &curve;
      if (i % 4 == 1) site.mean = half_compression;
      service.sites.push_back(site);
      service.factors.push_back(1 + 0.1 * static_cast<double>(i));
      service.size_factors.push_back(1 + 0.02 * static_cast<double>(i));
      sites.push_back(static_cast<Eigen::Index>(i));
    }
  }
};

SiteCount alone(const Case& c, Eigen::Index site, bool with_shapes) {
  Eigen::VectorXd stress = c.history.transpose() * c.rows.col(site);
  if (with_shapes) stress += c.pulses.transpose() * c.peaks.col(site);
  const auto place = static_cast<std::size_t>(site);
  const fatigue::DamageLaw law(c.curve, c.service.factors[place]), bare(c.curve, c.service.size_factors[place]);
  SiteCount count;
  const auto sink = [&](const cycles::Cycle& cycle) {
    const double least = std::min(cycle.from, cycle.to), most = std::max(cycle.from, cycle.to);
    const double range = c.service.sites[place].mean ? half_compression(least, most) : most - least;
    count.factored += law.damage(range);
    count.unfactored += bare.damage(range);
    count.largest_mpa = std::max(count.largest_mpa, range);
    count.ranges.add(range, 1, law.damage(range));
  };
  cycles::Rainflow flow;
  stress.array() += c.standing[site];
  flow.push(std::span<const double>(&c.standing[site], 1), sink);
  flow.push(std::span<const double>(stress.data(), static_cast<std::size_t>(stress.size())), sink);
  flow.finish(cycles::Residue::repeated, sink);
  return count;
}

double cycles_of(const RangeBins& bins) {
  double sum = 0;
  for (const RangeBins::Bin& b : bins.bins) sum += b.cycles;
  return sum;
}

std::vector<SiteCount> counted(const Case& c, const Eigen::MatrixXd* shapes_too) {
  const WeldRows rows = weld_rows(c.sites, c.rows, shapes_too ? c.peaks : Eigen::MatrixXd(), c.standing);
  CHECK(rows.forces.offsets.size() == 4);  // three forces, and a place filled up
  CHECK(rows.sites.fours() == 3);
  WeldCounter counter(c.service, c.sites);
  Block block;
  constexpr auto most = static_cast<Eigen::Index>(Block::most_samples);
  for (Eigen::Index begin = 0; begin < samples; begin += most) {
    block.fill(c.history.middleCols(begin, std::min(most, samples - begin)), shapes_too, begin, begin == 0);
    counter.count(rows, block);
  }
  return counter.finish(block);
}

void check(bool with_shapes) {
  const Case c;
  REQUIRE(weld_counters(c.service).size() == 1);
  REQUIRE(weld_counters(c.service)[0].sites() == c.sites);
  const std::vector<SiteCount> counts = counted(c, with_shapes ? &c.pulses : nullptr);
  for (const Eigen::Index site : c.sites) {
    INFO("site " << site);
    const SiteCount expected = alone(c, site, with_shapes), &found = counts[static_cast<std::size_t>(site)];
    CHECK(found.factored == Approx(expected.factored).epsilon(1e-11));
    CHECK(found.unfactored == Approx(expected.unfactored).epsilon(1e-11));
    CHECK(found.largest_mpa == Approx(expected.largest_mpa).epsilon(1e-12));
    CHECK(cycles_of(found.ranges) == cycles_of(expected.ranges));
    CHECK((found.factored > 0) == (site != site_count - 1));
  }
}

}  // namespace

TEST_CASE("sites of a weld counted together: as each alone") { check(false); }
TEST_CASE("sites of a weld counted together, with manoeuvres on top: as each alone") { check(true); }

TEST_CASE("a history that is no number, or too large, is refused and never counted") {
  for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), 1e308}) {
    Case c;
    c.history(2, 700) = bad;
    CHECK_THROWS_AS(counted(c, nullptr), Fault);
  }
}

TEST_CASE("a leg of hours holds all its turns and obstacles, in pieces") {
  Job job = straight(one_leg());
  job.design.welds.resize(1);
  job.design.notches.clear();
  job.design.bolts.clear();
  for (loads::Road& road : job.duty.roads) road.gd_n0_m3 = 1e-16;
  legs(job)[0].pedal_force_n = 300;
  legs(job)[0].distance_km = 0.05;
  const double minute = rated(job).welds[0].sites[0].damage;
  REQUIRE(minute > 0);
  loads::Leg& leg = legs(job)[0];
  const double samples_per_km = 3600 / leg.speed_kmh * job.duty.sample_rate_hz;
  leg.distance_km = 0.05 * std::ceil(300000 / samples_per_km / 0.05);  // three pieces
  const double times = leg.distance_km / 0.05;
  CHECK(rated(job).welds[0].sites[0].damage == Approx(times * minute).epsilon(0.01));
}

}  // namespace seamwright::rating
