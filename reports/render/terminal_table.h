// SPDX-License-Identifier: GPL-3.0-or-later
// Tables in text columns, and what becomes of them where the terminal is narrower.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace seamwright::reports {

/// Rows of cells, the first of them the heads.
struct TextTable {
  std::vector<std::vector<std::string>> rows;
  std::vector<std::vector<bool>> right;  ///< for each cell: stands at the right
};
struct FittedTable {
  std::vector<std::string> lines;
  std::vector<std::string> left_out;  ///< heads of the columns for which there was no room
};

/// Columns two blanks apart. Where a width is given, cells of several words are broken at blanks, the longest first; where that is not
/// enough, columns are left out from the right, but never the first nor the last, which names the verdict. width: 0 = as wide as it comes.
FittedTable fitted_table(const TextTable& table, std::size_t width);

}  // namespace seamwright::reports
