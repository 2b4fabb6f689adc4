// SPDX-License-Identifier: GPL-3.0-or-later
// Tables in text columns, and what becomes of them where the terminal is narrower.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace seamwright::reports {

struct TextCell {
  std::string text;
  bool right = false;  ///< stands at the right
  bool whole = false;  ///< is never broken, as a number with its unit and a verdict
};
struct TextTable {
  std::vector<std::vector<TextCell>> rows;  ///< the first of them the heads
  std::vector<std::size_t> first_to_go{};  ///< columns in the order in which they are left out; then from the right
};
struct FittedTable {
  std::vector<std::string> lines;
  std::vector<std::string> left_out;  ///< heads of the columns for which there was no room
};

/// Columns two blanks apart. Where a width is given, cells of several words are broken at blanks, the longest first; where that is not
/// enough, columns are left out, but never the first nor the last, which names the verdict. width: 0 = as wide as it comes.
FittedTable fitted_table(const TextTable& table, std::size_t width);

}  // namespace seamwright::reports
