// SPDX-License-Identifier: GPL-3.0-or-later
// The tables of all parts of a sweep become one.
#pragma once

#include <string>
#include <vector>

namespace seamwright::sweeps {

/// Writes the rows of the parts in the order of their numbers, whole or not at all; returns how many. Each part is
/// read piece by piece, so that neither their size nor their number is bounded by memory or open files. Throws Fault
/// "sweep.other-table" for a part with other columns, "sweep.twice" for a row that is none, stands twice or out of its
/// order, "sweep.gap" when one is missing, and "file.*"; std::runtime_error when the table cannot be written.
std::size_t join_parts(const std::vector<std::string>& parts, const std::string& csv);

}  // namespace seamwright::sweeps
