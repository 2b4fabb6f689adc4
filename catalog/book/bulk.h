// SPDX-License-Identifier: GPL-3.0-or-later
// Many records from one file, by CSV (one kind) or TOML (any kinds), to be added all or none.
#pragma once

#include <string>
#include <vector>

#include "catalog/book/book.h"

namespace seamwright::book {

/// CSV: a column for each key of the kind; lists are parted by blanks, flags are true or false, `file` is a
/// path beside the table. TOML: format = "seamwright.records/1" and [[KIND]] tables, taken in the order in
/// which they stand. Throws Faults with file and line: those of the readers and of check_payload(),
/// "book.bad-flag", "book.attachment-too-large".
std::vector<NewEntry> read_records(const std::string& path, const std::string& kind);

/// The CSV alone, by a kind that need not be one of the table.
std::vector<NewEntry> read_table(const std::string& path, const Kind& kind);

/// A file whole, with its name without folder. Throws "file.missing", "book.attachment-too-large".
Attachment read_attachment(const std::string& path);

}  // namespace seamwright::book
