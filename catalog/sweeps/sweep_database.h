// SPDX-License-Identifier: GPL-3.0-or-later
// A table of variants as an SQLite file, to be asked.
#pragma once

#include <string>

namespace seamwright::sweeps {

/// The same name with the ending .sqlite in place of .csv, or behind it.
std::string database_of(const std::string& csv);

/// Throws std::runtime_error when something else than a table of variants stands where the database will: ask before the
/// work, not after it.
void check_place(const std::string& csv);

/// Writes database_of(csv) anew from the table: `variants` with the table's columns, numbers as numbers and empty
/// cells as NULL. Whole or not at all, read piece by piece. Throws
/// std::runtime_error when it cannot be written, or would replace something else.
void write_database(const std::string& csv);

}  // namespace seamwright::sweeps
