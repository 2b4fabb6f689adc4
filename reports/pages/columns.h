// SPDX-License-Identifier: GPL-3.0-or-later
// Columns of a table get their widths on a page.
#pragma once

#include <QPaintDevice>
#include <vector>

#include "reports/content/blocks.h"
#include "reports/text/text.h"

namespace seamwright::reports {

struct Columns {
  double points = 8;                ///< size of the type: smaller where the longest words ask for it
  std::vector<double> left, width;  ///< dots
  std::vector<bool> right;          ///< columns of numbers
};
/// Words are not broken where that can be helped; what is left over goes to the columns with long text.
Columns columns_of(const Table& table, Language language, double width, QPaintDevice* device);

}  // namespace seamwright::reports
