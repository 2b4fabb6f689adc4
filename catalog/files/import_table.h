// SPDX-License-Identifier: GPL-3.0-or-later
// Nodes or members of a design from a table.
#pragma once

#include <string>

#include "catalog/files/source.h"

namespace seamwright::files {

/// The design's text with the rows of a table put in: nodes (id, x_mm, y_mm, z_mm) or members (id, tube,
/// nodes: their ids with spaces between), each perhaps with mirror (true, false). A row whose id is there
/// already takes the table's values and keeps the rest; others come behind the last of their kind. `file` is
/// for messages. Throws the Faults of read_small_table() and patched(), "import.bad-row"
/// (line).
struct Imported {
  std::string text, kind;  ///< kind: "node" or "member"
  std::size_t added = 0, changed = 0;
};
Imported import_table(const std::string& file, const std::string& content, const SourceFile& rows);

}  // namespace seamwright::files
