// SPDX-License-Identifier: GPL-3.0-or-later
// Loads that may come once: the most used place of each static peak case of a job, and when its trike tips:
// once JOB.
#include <cstdio>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/loads/stability.h"
#include "engine/strength/peak_rating.h"
#include "engine/study/duty_stability.h"

using namespace seamwright;

int main(int, char** arguments) {
  const published::Catalog& catalog = published::catalog();
  const rating::Job job = files::read_job(arguments[1], "", catalog);
  for (const strength::PeakRating& peak : strength::rate_peaks(job, catalog.data).cases)
    std::printf("%s %g kg: %s, %.6g MPa\n", peak.load.id.c_str(), peak.load.pose.payload_kg,
                peak.element.c_str(), peak.stress_mpa);

  const loads::Stability stability = study::stability_of(job, 5);
  const loads::StabilityCase& lowest = stability.cases[stability.lowest];
  std::printf("tips from %.6g m/s2 on: steered %g deg, %g kg in the box\n", stability.lowest_m_s2,
              lowest.pose.steering_deg, lowest.pose.payload_kg);
}
