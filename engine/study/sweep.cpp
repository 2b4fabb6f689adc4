// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/sweep.h"

#include <mutex>

#include "engine/rating/memory.h"
#include "engine/study/variant.h"
#include "engine/machine/parallel.h"

namespace seamwright::study {

namespace {

SweptVariant swept(std::size_t number, const SweepOrder& sweeping, const rules::Published& published, rating::Memory& memory) {
  SweptVariant v;
  v.number = number;
  try {
    const rating::Job job = sweeping.job_of(number);
    const rating::BriefRating r =
        rating::rate_briefly(job, published, sweeping.method, memory);
    const rating::SiteRating& site = r.welds[0].sites[0];
    v.verdict = r.verdict;
    v.governing_weld = r.welds[0].id;
    v.site = site.site;
    v.damage = site.damage;
    v.life_km = site.life_km_predicted;
    v.failure_probability = r.likelihood.frame.probability;
    v.mass_kg = frame_mass_kg(job.design.frame);
  } catch (const Fault& fault) {
    v.impossible = fault.message;
  }
  return v;
}

}  // namespace

std::vector<std::size_t> variants_of_part(std::size_t count, std::size_t part, std::size_t parts) {
  std::vector<std::size_t> numbers;
  for (std::size_t i = part - 1; i < count; i += parts) numbers.push_back(i);
  return numbers;
}

void sweep(const std::vector<std::size_t>& numbers, const SweepOrder& sweeping,
           const rules::Published& published, const rating::Progress& progress) {
  std::size_t done = 0;
  std::mutex lock;
  rating::Memory memory;
  machine::over_tasks(numbers.size(), sweeping.threads, [&](std::size_t i) {
    if (progress.stop.stop_requested()) throw rating::RatingStopped();
    const SweptVariant variant = swept(numbers[i], sweeping, published, memory);
    const std::lock_guard<std::mutex> guard(lock);
    sweeping.sink(variant);
    ++done;
    if (progress.report) progress.report(static_cast<double>(done) / static_cast<double>(numbers.size()));
  });
}

}  // namespace seamwright::study
