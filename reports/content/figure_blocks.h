// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/figures/figures.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// One figure: its values, and the evidence behind them.
Document figure_document(const figures::FigureResult& result, const published::Catalog& catalog);
/// All figures with their parameters and sources.
Document figure_list_document();

}  // namespace seamwright::reports
