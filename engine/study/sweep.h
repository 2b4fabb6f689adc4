// SPDX-License-Identifier: GPL-3.0-or-later
// Variants of a job rated over all cores, in parts; a run that was stopped is given what is left of it.
#pragma once

#include "engine/rating/rate.h"

namespace seamwright::study {

/// More variants than this are not begun without a question.
inline constexpr std::size_t ask_above = 10000;

/// One variant's rating, boiled down to its worst site.
struct SweptVariant {
  std::size_t number = 0;             ///< from 0
  std::optional<Message> impossible;  ///< why there is no rating; the rest is then empty
  rating::Verdict verdict = rating::Verdict::meets;
  std::string governing_weld, site;
  double damage = 0, life_km = 0, failure_probability = 0, mass_kg = 0;
};

/// Numbers of the variants of one part of `parts`: every parts-th of `count` from the part-th on, part
/// from 1.
std::vector<std::size_t> variants_of_part(std::size_t count, std::size_t part, std::size_t parts);

struct SweepOrder {
  rating::Method method = rating::Method::spectral;
  std::size_t threads = 0;                                ///< 0 = one per processor
  std::function<rating::Job(std::size_t number)> job_of;  ///< called from several threads at once
  std::function<void(const SweptVariant& variant)> sink;  ///< as each is done, in no order, one at a time
};
/// Rates the variants of these numbers. A Fault of one makes it impossible and ends nothing; any other
/// exception ends the sweep, rating::RatingStopped among them, and what the sink was given stays done.
void sweep(const std::vector<std::size_t>& numbers, const SweepOrder& sweeping,
           const rules::Published& published, const rating::Progress& progress);

}  // namespace seamwright::study
