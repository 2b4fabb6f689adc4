// SPDX-License-Identifier: GPL-3.0-or-later
// A job rated anew with the load factor that frames from the field make likely.
#pragma once

#include "engine/measured/field_calibration.h"

namespace seamwright::study {

struct Recalibration {
  measured::Calibration calibration;
  rating::Rating before, after;
};
/// Frames that came back say this about the loads: the rating before and after, by spectral moments. Throws
/// what measured::field_model(), measured::calibrate() and rating::rate() throw.
Recalibration recalibrate(rating::Job job, const rules::Published& published,
                          const std::vector<measured::Return>& returns, const measured::Prior& prior,
                          const rating::Progress& progress);

}  // namespace seamwright::study
