// SPDX-License-Identifier: GPL-3.0-or-later
// A shop's stock: stock.csv beside the design.
#pragma once

#include <optional>

#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/study/stock.h"

namespace seamwright::files {

/// A table with item (tube, weld, set-up), steel, diameter_mm, wall_mm and price: of a tube per metre, of welds per millimetre of seam, of a
/// set-up for each size. Prices may be left out. Throws the Faults of read_small_table(), "improve.stock-bad-item", "improve.stock-unknown-steel",
/// "improve.stock-bad-wall", "improve.stock-doubled", "improve.stock-no-tubes", each with file and line.
study::Stock read_stock(const SourceFile& file, const published::Catalog& catalog);

/// The stock.csv beside a design; nothing where there is none.
std::optional<study::Stock> own_stock(const SourceFile& design, const published::Catalog& catalog);

}  // namespace seamwright::files
