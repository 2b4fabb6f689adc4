// SPDX-License-Identifier: GPL-3.0-or-later
// A job rated as it asks, and by another set of rules: rate_job JOB. What stands behind the life that governs
// is told down to the published formulas.
#include <cstdio>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/evidence/evidence.h"
#include "engine/rating/job.h"
#include "engine/rating/rate.h"
#include "engine/rules/rule_sets.h"
#include "engine/rules/rules.h"

using namespace seamwright;

namespace {

void tell(const Evidence& evidence, int depth) {
  std::printf("%*s%s = %.6g %s [%s, %s]\n", 2 * depth, "", evidence.figure.c_str(), evidence.value,
              evidence.unit.c_str(), evidence.source.key.c_str(), evidence.source.clause.c_str());
  if (depth < 2)
    for (const Evidence& reason : evidence.because) tell(reason, depth + 1);
}

}  // namespace

int main(int, char** arguments) {
  const published::Catalog& catalog = published::catalog();
  rating::Job job = files::read_job(arguments[1], "", catalog);
  const rating::Rating rated = rating::rate(job, catalog.data, rating::Method::spectral, {});
  const rating::WeldRating& worst = rated.welds.front();
  const rating::SiteRating& site = worst.sites.front();
  std::printf("%s: %s, weld %s at %s, predicted life %.6g km, %.6g of the allowed damage\n", rated.design.name.c_str(),
              name_of(rated.verdict), worst.id.c_str(), site.site.c_str(), site.life_km_predicted, site.used());
  std::printf("of 1000 frames with a crack: %.6g\n", 1000 * rated.predicted.cracked.mean);
  tell(site.evidence, 0);

  rules::change_set(job.rules, rules::iiw);
  const rating::Rating other = rating::rate(job, catalog.data, rating::Method::spectral, {});
  std::printf("by %s: %s, weld %s\n", name_of(other.rules.set), name_of(other.verdict),
              other.governing_weld.c_str());
}
