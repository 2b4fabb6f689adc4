// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "engine/rating/calibrate.h"
#include "engine/rating/gauges.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Where to put strain gauges, what to expect, and, with readings, what they say about the loads.
Document gauges_document(const rating::Job& job, const rating::GaugePlan& plan,
                         const std::optional<rating::GaugeResult>& readings);

struct CalibrationReport {
  rating::Calibration calibration;
  rating::Prior prior;
  std::vector<rating::Return> returns;
  rating::Rating before, after;
  std::vector<Message> assumptions;
};
/// What came back, what it says, and the rating before and after.
Document calibration_document(const CalibrationReport& report);

}  // namespace seamwright::reports
