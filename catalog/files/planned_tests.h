// SPDX-License-Identifier: GPL-3.0-or-later
// Tests that confirm a job's rating: pieces of its joints, its rig cases and a ride, planned from its files.
#pragma once

#include <optional>
#include <string>

#include "engine/study/frame_tests.h"
#include "engine/study/test_plan.h"

namespace seamwright::files {

struct PlannedTests {
  study::TestPlan plan;
  bool has_rigs = false;  ///< rig.toml lies beside the design
  std::optional<study::RigTest> rig;
  std::optional<study::RideTest> ride;
};
/// rating: of the same job. Throws what study::test_plan(), read_rigs() and measured::rate_rigs() throw.
PlannedTests planned_tests(const rating::Job& job, const rating::Rating& rating, const std::string& design_path, const study::TestWishes& wishes,
                           rating::Memory& memory);

}  // namespace seamwright::files
