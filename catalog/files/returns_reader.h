// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "catalog/files/source.h"
#include "engine/measured/field_calibration.h"
#include "engine/measured/gauges.h"

namespace seamwright::files {

struct ReturnsFile {
  std::vector<measured::Return> returns;
  measured::Prior prior;
  std::vector<Message> assumptions;
};
/// Reads what came back (format "seamwright.returns/1"), from frames of this design. Throws the reader's
/// Faults.
ReturnsFile read_returns(const SourceFile& file, const design::Design& design);

/// Reads gauge readings: a table with the columns gauge (1 = the plan's first), channel (one of the plan's),
/// microstrain. Throws Fault "file.*" with file and line, "gauges.unknown-gauge", "file.unknown-id" (the
/// channel).
std::vector<measured::GaugeReading> read_readings(const SourceFile& file, const measured::GaugePlan& plan);

}  // namespace seamwright::files
