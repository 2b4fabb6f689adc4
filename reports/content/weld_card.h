// SPDX-License-Identifier: GPL-3.0-or-later
// A rating boiled down to what one looks at first: all welds by the life that they have used, and one weld's
// card.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// One weld beside the others. `used` is its damage over the damage that the rules allow, NaN when not
/// covered.
struct Strip {
  std::string id, member, chord, site;
  rating::Verdict verdict = rating::Verdict::meets;
  bool extended = false;  ///< its coverage: confirm by test
  double used = 0, life_km = 0;
  bool at_most = false;  ///< its life is a bound: something of the weld is not in it
};
/// Most used first, then those that are not covered.
std::vector<Strip> strips_of(const rating::Rating& rating);

/// Places on a logarithmic scale of life used: 0 at its lower end and below, 1 at its upper end and above,
/// 0 for NaN. One scale for strips and drawings.
inline constexpr double least_used = 1e-4, most_used = 1e2;
double place_of_used(double used);

struct Share {
  Message label;
  double share = 0;  ///< 0..1
};

/// Straight pieces of an S-N curve as (cycles, range) and what this weld meets in the whole service: ranges
/// that do the damage, bare of factors.
struct SnPlot {
  std::string curve;
  std::vector<std::pair<double, double>> line;
  struct Bar {
    double from_mpa = 0, to_mpa = 0, cycles = 0, share = 0;
  };
  std::vector<Bar> bars;
  Source source;
  bool from_memory = false;
};

struct WeldCard {
  std::string id, kind, member, chord, joint, procedure;
  State verdict;
  bool extended = false, at_most = false;  ///< its coverage; whether its life is a bound
  rating::SiteRating site;                 ///< the governing one
  fatigue::Prediction predicted;           ///< in services
  rating::LoadPath path;
  double service_km = 0, used = 0;
  std::vector<Share> by_leg, by_cause;  ///< largest first
  SnPlot plot;
  Table sites;
  Reasons reasons;
};
/// Throws Fault "rating.unknown-weld". The job gives the shop's own curves and the weld's procedure.
WeldCard weld_card(const rating::Job& job, const rating::Rating& rating, const std::string& weld);

}  // namespace seamwright::reports
