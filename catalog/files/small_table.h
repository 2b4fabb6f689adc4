// SPDX-License-Identifier: GPL-3.0-or-later
// A small text table held whole: readings, tests, measurements. Large recordings are read as streams instead.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "catalog/files/source.h"
#include "catalog/files/text_lines.h"

namespace seamwright::files {

/// One row with its column names and its place, for messages.
class TableRow {
 public:
  TableRow(const Lines& lines, const std::vector<std::string>& header, std::vector<std::string> cells)
      : lines_(lines), header_(header), cells_(std::move(cells)) {}
  bool has(const std::string& column) const;  ///< there is such a column and the cell is not empty
  std::string text_of(const std::string& column) const;
  /// Reads it as typed_number() does. Throws Fault "file.bad-cell" for what is no number, "file.no-column"
  /// when there is no such column.
  double real(const std::string& column) const;
  /// The same within bounds; else Fault "file.cell-range".
  double real(const std::string& column, double least, double most) const;
  std::size_t line() const { return lines_.number(); }
  [[noreturn]] void fail(MessageId id, std::vector<Argument> more) const { lines_.fail(id, std::move(more)); }

 private:
  const Lines& lines_;
  const std::vector<std::string>& header_;
  std::vector<std::string> cells_;
};

/// Calls read_row for every row below the line of names; blank lines and lines with # are passed over.
/// Separator: semicolon where the line of names has one, else comma. Columns: the ones known, of which
/// `needed` must be there, none twice. Throws Fault "file.missing", "file.not-a-file", "file.unreadable",
/// "file.not-text", "file.empty", "file.no-column", "file.unknown-column" (nearest known),
/// "file.doubled-column", "file.long-line", "file.cell-count", "file.too-long" (more than 100 000 rows).
void read_small_table(const SourceFile& file, const std::vector<std::string>& needed,
                      const std::vector<std::string>& others,
                      const std::function<void(const TableRow&)>& read_row);

}  // namespace seamwright::files
