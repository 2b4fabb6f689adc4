// SPDX-License-Identifier: GPL-3.0-or-later
// Tests of the whole trike beside those of its joints: a frame on a rig, and a ride with gauges.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/study/test_statistics.h"

namespace seamwright::measured {
struct RigResult;
}
namespace seamwright::rating {
struct Job;
struct Rating;
}  // namespace seamwright::rating

namespace seamwright::study {

/// A rig case for the weld that governs the service. Cycles are medians of the mean curve at the case's own forces, without
/// the scatter of loads, use and Miner sum: what is left is the frame's and the joint's model and the curve.
struct RigTest {
  std::string rig_case, weld, site;
  double force_factor = 1;     ///< on the case's forces, so that the median is the number asked for
  double cycles_as_is = 0;     ///< median at its own forces
  double cycles = 0;           ///< median with the factor
  CycleInterval one{};         ///< 80 %, of one frame
  double run_out = 0;
  double equal_cycles = 0;     ///< of the case as it is: they do the service's damage at the site
  bool other_first = false;    ///< the case damages another weld more
  std::string first_weld, first_site;
  double first_share = 0;      ///< damage at the weld that governs over that at the first: 1 is best
};
/// The case that damages the governing weld most beside what it damages most; none where no case reaches it.
std::optional<RigTest> rig_test(const rating::Rating& rating, const std::vector<measured::RigResult>& rigs, double cycles);

/// A ride with gauges on the leg that brings most of the damage that nobody measured.
struct RideOutcome {
  double load_factor = 1;  ///< measured over predicted
  double life = 0;         ///< median of the weld, services
  CycleInterval life_interval{};  ///< 80 %, with the scatter of loads as it was
};
struct RideTest {
  std::string weld, member, leg, source, road;
  double payload_kg = 0, speed_kmh = 0, distance_km = 0;
  double largest_share = 0, unmeasured = 0;
  CycleInterval expected{};   ///< 80 % of the factor on loads that the ride will show, by the scatter that all frames share
  double life_low = 0, life_high = 0;
  std::vector<RideOutcome> outcomes;
};
/// None where the rating has no such question, or its largest part is no leg's.
std::optional<RideTest> ride_test(const rating::Job& job, const rating::Rating& rating);

}  // namespace seamwright::study
