// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/studies/calibrate_study.h"

#include <cmath>

#include "catalog/published/published_data.h"

namespace seamwright::reports {

CalibrationReport calibrated(rating::Job job, const files::ReturnsFile& file,
                             const rating::Progress& progress) {
  const rules::Published& published = published::catalog().data;
  rating::Progress quiet;
  quiet.stop = progress.stop;
  const auto tell = [&](double share) {
    if (progress.report) progress.report(share);
  };
  const measured::FieldModel model = measured::field_model(job, published, file.returns);
  tell(0.3);
  CalibrationReport report{
      measured::calibrate(model.ln_factor, model.observations, file.prior), file.prior, file.returns,
      rating::rate(job, published, rating::Method::spectral, quiet),        {},         file.assumptions};
  tell(0.7);
  // The scatter of loads from vehicle to vehicle stays what the rules say; the returns shift its middle.
  const double scatter = std::sqrt(std::log1p(job.rules.load_scatter * job.rules.load_scatter));
  job.rules.load_factor = report.calibration.posterior_factor.value * std::exp(2 * scatter);
  report.after = rating::rate(job, published, rating::Method::spectral, quiet);
  return report;
}

}  // namespace seamwright::reports
