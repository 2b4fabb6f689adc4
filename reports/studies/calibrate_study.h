// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/files/returns_reader.h"
#include "reports/content/measured_blocks.h"

namespace seamwright::reports {

/// Frames that came back say this about the loads: the rating before and after. Throws what the field's
/// model and rating::rate() throw.
CalibrationReport calibrated(rating::Job job, const files::ReturnsFile& file,
                             const rating::Progress& progress);

}  // namespace seamwright::reports
