// SPDX-License-Identifier: GPL-3.0-or-later
// Tests of the whole trike, and what they have in common with those of pieces.
#pragma once

#include "reports/content/test_plan_blocks.h"

namespace seamwright::reports {

/// The frame on a rig and the ride with gauges, each on a page of its own.
void add_frame_tests(Document& document, const TestPlanReport& report);

void add_fact(Facts& facts, MessageId label, Cell value);
Cell cycles_cell(double cycles);
/// "80 000 to 1 100 000"
Cell cycles_span(const study::CycleInterval& interval);
/// An interval in services, as km.
Cell km_span(const study::CycleInterval& interval, double service_km);
/// The test ends at one of these.
Cell stop_cell(double run_out);

}  // namespace seamwright::reports
