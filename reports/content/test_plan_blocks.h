// SPDX-License-Identifier: GPL-3.0-or-later
// Tests that confirm a rating: pieces of joints, a frame on a rig, a ride with gauges, each with its load, its predicted
// result and what the result changes.
#pragma once

#include "catalog/files/planned_tests.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

struct TestPlanReport {
  std::string design;     ///< name and revision
  std::string job;        ///< as commands name it
  double service_km = 0;  ///< lives stand in services
  files::PlannedTests tests;
};

Document test_plan_document(const TestPlanReport& report);

/// The command makes the results of a weld's test a detail of the job.
std::string fit_command(const study::WeldTest& test, const std::string& job);

}  // namespace seamwright::reports
