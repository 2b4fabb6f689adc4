// SPDX-License-Identifier: GPL-3.0-or-later
// Questions asked of a job beyond its rating: studies JOB WELD. Which throats the roots need, what a thicker
// tube changes, a few variants, the smallest changes with which a weld meets, what the life hangs on, and a
// deck for a general finite-element program.
#include <cstdio>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/study/comparison.h"
#include "engine/study/frame_deck.h"
#include "engine/study/influence.h"
#include "engine/study/suggest.h"
#include "engine/study/sweep.h"
#include "engine/study/throat_needs.h"

using namespace seamwright;

namespace {

const published::Catalog& catalog = published::catalog();

/// The job with another wall of its spine.
rating::Job with_wall(const std::string& path, double wall_mm) {
  return files::read_job(path, "", catalog, {.design = {{"tube[spine].wall_mm", wall_mm}}, .duty = {}});
}

void compare(const rating::Job& job, const rating::Job& thicker) {
  const study::RatedPair pair = study::rate_pair(job, thicker, catalog.data, rating::Method::spectral, {});
  const study::WeldPair& least = pair.welds.welds.front();
  std::printf("thicker: %s %.6g, %.6g kg more\n", least.weld.c_str(), least.ratio,
              pair.second_kg - pair.first_kg);
}

void vary(const std::string& path) {
  study::SweepOrder sweeping;
  sweeping.job_of = [&](std::size_t number) { return with_wall(path, number == 0 ? 2.5 : 3); };
  double life_km[2];
  sweeping.sink = [&](const study::SweptVariant& variant) { life_km[variant.number] = variant.life_km; };
  study::sweep(study::variants_of_part(2, 1, 1), sweeping, catalog.data, {});
  std::printf("spine of 2.5 mm: %.6g km, of 3 mm: %.6g km\n", life_km[0], life_km[1]);
}

void suggest(const rating::Job& job, const std::string& weld) {
  const std::vector<frame::RoundTube> stock{{30, 2}, {40, 2}, {40, 2.5}};
  for (const study::Suggestion& change :
       study::suggestions(job, catalog.data, stock, weld, rating::Method::spectral, {}))
    std::printf("%s: %g to %g %s, %s\n", change.kind.c_str(), change.from, change.to, change.unit.c_str(),
                change.meets ? "meets" : "does not meet");
}

}  // namespace

int main(int, char** arguments) {
  const std::string path = arguments[1], weld = arguments[2];
  const rating::Job job = files::read_job(path, "", catalog);
  const study::ThroatNeed throat = study::throats_needed(job, catalog.data, {}).front();
  std::printf("throat: %s %s %.6g mm\n", throat.weld.c_str(), throat.site.c_str(), throat.needed_mm);
  compare(job, with_wall(path, 4));
  vary(path);
  suggest(job, weld);

  const study::Influence most = study::influences(job, catalog.data, {}).inputs.front();
  std::printf("most: %s from %g to %g, %.6g times\n", most.input.c_str(), most.low, most.high, most.spread);
  std::printf("deck: %zu characters\n", study::frame_deck(job.design, &job.duty, 2).size());
}
