// SPDX-License-Identifier: GPL-3.0-or-later
// One column of numbers of a text table, read as a stream.
#pragma once

#include <functional>
#include <span>
#include <string>

#include "catalog/files/source.h"
#include "catalog/files/text_lines.h"

namespace seamwright::files {

/// Calls sink with the numbers of a column, in blocks, in their order; memory does not grow with the file.
/// The first line that is not blank and does not begin with # names the columns; separator is the first of
/// tab, semicolon, comma that stands in it. A decimal comma is taken where the separator is another. Throws
/// Fault "file.missing", "file.unreadable", "file.empty", "file.long-line", "file.not-text", "file.no-column"
/// (nearest known), "file.bad-cell", each with file and line. Returns the number of values.
std::size_t read_column(const SourceFile& file, const std::string& column,
                        const std::function<void(std::span<const double>)>& sink);

}  // namespace seamwright::files
