// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "reports/content/blocks.h"

namespace seamwright::published {
struct Catalog;
}

namespace seamwright::reports {

/// "curves", "details", "joint-kinds", "references", "roads", "steels", "tubes".
std::vector<std::string> catalog_kinds();
/// The kinds with their number of rows (kind empty), all rows of a kind, or one row. Throws Fault
/// "catalog.unknown-kind", "catalog.unknown-id" with the nearest known.
Document catalog_document(const published::Catalog& catalog, const std::string& kind, const std::string& id);

}  // namespace seamwright::reports
