// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/compared_jobs.h"

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/rating/job.h"

namespace seamwright::files {

namespace {

std::string name_and_revision(const design::Design& design) {
  return design.identity.name + " " + design.identity.revision;
}

study::RatedPair rated_pair(const ComparedJob& first, const ComparedJob& second, rating::Method method,
                            const rating::Progress& progress) {
  try {
    return study::rate_pair(first.job, second.job, published::catalog().data, method, progress);
  } catch (const study::FirstJobFault& fault) {
    throw with_place_in(fault, first.design_path, first.design_text);  // not in the other's file
  }
}

}  // namespace

ComparedJobs compare_jobs(const ComparedJob& first, const ComparedJob& second, rating::Method method,
                          const rating::Progress& progress) {
  study::RatedPair rated = rated_pair(first, second, method, progress);
  return {name_and_revision(first.job.design), name_and_revision(second.job.design), std::move(rated),
          differences_of(second.design_path, first.design_text, second.design_text)};
}

}  // namespace seamwright::files
