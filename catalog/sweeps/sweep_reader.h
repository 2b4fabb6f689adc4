// SPDX-License-Identifier: GPL-3.0-or-later
// Tables of variants: places in the design or the duty, each with its values, and duties; every combination
// is one variant.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"

namespace seamwright::sweeps {

struct SweepParameter {
  std::string place;  ///< as in patched(): "parameters.wheelbase", "tube[rail].wall_mm"
  bool in_duty = false;
  std::vector<double> values;
};
struct Sweep {
  std::vector<SweepParameter> parameters;
  std::vector<std::string> duties;  ///< paths; the job's own where none is named
  bool time_domain = false;
  std::string sha256;  ///< of the sweep file's text
};

/// Throws Faults with file and line; "sweep.too-many" for more than 1e9 variants.
Sweep read_sweep(const files::SourceFile& file);
std::size_t variants_of(const Sweep& sweep);

/// Variant number i counts the last parameter fastest, the duties slowest.
struct Variant {
  std::vector<double> values;
  std::string duty;  ///< path; "" = the job's own
  files::Changes changes;
};
Variant variant_of(const Sweep& sweep, std::size_t number);

}  // namespace seamwright::sweeps
