// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/duty_stability.h"

#include <set>

#include "engine/design/weld_geometry.h"

namespace seamwright::study {

loads::Stability stability_of(const rating::Job& job, std::size_t angles) {
  std::set<loads::Pose> loadings{loads::Pose{}};
  for (const loads::Leg* leg : loads::all_legs(job.duty)) {
    loads::Pose loading = leg->pose;
    loading.steering_deg = 0;
    loadings.insert(loading);
  }
  return loads::stability(design::frame_with_cuts(job.design), job.design.carriers, job.duty.rider,
                          job.design.steering, {loadings.begin(), loadings.end()}, angles);
}

}  // namespace seamwright::study
