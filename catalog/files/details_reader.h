// SPDX-License-Identifier: GPL-3.0-or-later
// Details of the shop's own, from its tests: details/*.toml beside the design.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/fatigue/fit.h"
#include "engine/design/design.h"

namespace seamwright::files {

/// All details of the folder in the order of file names; none when it is not there. Every error is a Fault
/// with file and line.
std::vector<design::OwnDetail> read_own_details(const SourceFile& folder, const published::Catalog& catalog);

/// Rig tests: a table with stress_range_mpa, cycles and outcome (failed, runout). Throws the Faults of
/// read_small_table() and "fit.bad-outcome".
std::vector<fatigue::Test> read_tests(const SourceFile& file);

/// A fitted curve is written down as this.
struct OwnDetailRow {
  std::string id, kind, place, stress, by;
  double min_wall_mm = 0, max_wall_mm = 0;
};
/// The text of such a file, which reads back to the same numbers. Throws Fault "file.unknown-id" (kind,
/// place), "fit.no-wall".
std::string own_detail_text(const fatigue::Fit& fit, const fatigue::FitOptions& how, const OwnDetailRow& what,
                            const std::string& tests_sha256, const published::Catalog& catalog);

}  // namespace seamwright::files
