// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/planned_tests.h"

#include <filesystem>

#include "catalog/files/rig_reader.h"
#include "catalog/published/published_data.h"

namespace seamwright::files {

PlannedTests planned_tests(const rating::Job& job, const rating::Rating& rating, const std::string& design_path, const study::TestWishes& wishes,
                           rating::Memory& memory) {
  const published::Catalog& catalog = published::catalog();
  const std::filesystem::path rigs = std::filesystem::path(design_path).replace_filename("rig").replace_extension("toml");
  PlannedTests out;
  out.plan = study::test_plan(job, catalog.data, rating, wishes, memory);
  std::error_code ignored;
  out.has_rigs = std::filesystem::exists(rigs, ignored);
  if (out.has_rigs) out.rig = study::rig_test(rating, measured::rate_rigs(job, catalog.data, read_rigs(rigs.string(), job, catalog), rating), wishes.cycles);
  out.ride = study::ride_test(job, rating);
  return out;
}

}  // namespace seamwright::files
