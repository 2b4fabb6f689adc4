// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/recalibration.h"

#include <cmath>

namespace seamwright::study {

Recalibration recalibrate(rating::Job job, const rules::Published& published,
                          const std::vector<measured::Return>& returns, const measured::Prior& prior,
                          const rating::Progress& progress) {
  rating::Progress quiet;
  quiet.stop = progress.stop;
  const auto report_share = [&](double share) {
    if (progress.report) progress.report(share);
  };
  const measured::FieldModel model = measured::field_model(job, published, returns);
  report_share(0.3);
  Recalibration r{measured::calibrate(model.ln_factor, model.observations, prior),
                  rating::rate(job, published, rating::Method::spectral, quiet),
                  {}};
  report_share(0.7);
  // The scatter of loads from vehicle to vehicle stays what the rules say; the returns shift its middle.
  job.rules.load_bias *= r.calibration.posterior_factor.value;
  r.after = rating::rate(job, published, rating::Method::spectral, quiet);
  return r;
}

}  // namespace seamwright::study
