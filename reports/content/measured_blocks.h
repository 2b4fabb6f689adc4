// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "engine/measured/field_calibration.h"
#include "engine/measured/gauges.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Tells where to put strain gauges, what to expect, and, with readings, what they say about the loads.
Document gauges_document(const rating::Job& job, const measured::GaugePlan& plan,
                         const std::optional<measured::GaugeResult>& readings);

struct CalibrationReport {
  measured::Calibration calibration;
  measured::Prior prior;
  std::vector<measured::Return> returns;
  rating::Rating before, after;
  std::vector<Message> assumptions;
};
/// Tells what came back, what it says, and the rating before and after.
Document calibration_document(const CalibrationReport& report);

}  // namespace seamwright::reports
