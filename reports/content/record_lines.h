// SPDX-License-Identifier: GPL-3.0-or-later
// A record is told field by field with the labels of its kind: as it is printed, and as it is shown to who
// signs it.
#pragma once

#include "catalog/book/book.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The line of a record stands here: fields may be left out of either.
enum class RecordView { trace, sheet };

/// A record's content in one line: "weld W16, procedure TIG-BRANCH, current 58.5 A". Empty where it is
/// malformed.
Particulars line_of(const book::Record& record, RecordView on = RecordView::trace);
/// The same of a kind at hand.
Particulars line_of(const book::Kind& kind, const book::Json& content, RecordView on);

/// Every field of what is to be signed, one to a line, below its kind; of a correction also those of what
/// holds instead.
Facts lines_of(const book::NewEntry& entry);
/// The same of a kind at hand.
Facts lines_of(const book::Kind& kind, const book::Json& payload);

/// A record says this of one field; a dash where it says nothing.
Cell cell_of(const book::Field& field, const book::Json& content);

/// A value as it was told: texts after one another, a file by its name.
std::string text_of(const book::Json& value);

}  // namespace seamwright::reports
