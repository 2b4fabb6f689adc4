// SPDX-License-Identifier: GPL-3.0-or-later
// Findings measured on finished welds are read: one line for each.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/source.h"

namespace seamwright::files {

struct Finding {
  std::string weld;
  std::string site;          ///< "" = the whole weld
  std::string imperfection;  ///< number of ISO 6520-1, or "throat", "leg", "cap-width"
  double value_mm = 0;
  std::string method, inspector, date;  ///< "" = not told
  double line = 0;                      ///< of the file
};

/// Table with the columns weld, site, imperfection, value_mm, method, inspector, date; the first, third and
/// fourth must be there. Throws the Faults of read_small_table() and "measured.bad-imperfection"; value_mm
/// lies within 0 and 1000.
std::vector<Finding> read_measured(const SourceFile& file);

}  // namespace seamwright::files
