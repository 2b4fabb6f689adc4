// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "catalog/files/returns_reader.h"
#include "engine/measured/gauges.h"
#include "engine/study/recalibration.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Tells where to put strain gauges, what to expect, and, with readings, what they say about the loads.
Document gauges_document(const rating::Job& job, const measured::GaugePlan& plan,
                         const std::optional<measured::GaugeResult>& readings);

/// Tells what came back, what it says, and the rating before and after.
Document calibration_document(const study::Recalibration& recalibration, const files::ReturnsFile& file);

}  // namespace seamwright::reports
