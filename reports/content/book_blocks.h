// SPDX-License-Identifier: GPL-3.0-or-later
// The record book says this: a frame's record in the order in which an auditor asks, a recall, gaps, a
// verification.
#pragma once

#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "catalog/book/verify.h"
#include "reports/content/blocks.h"
#include "reports/content/record_lines.h"

namespace seamwright::reports {

/// today: "2026-11-26". The first page, then all entries.
Document trace_document(const book::Book& book, const book::Trace& trace, const std::string& today,
                        RecordView on = RecordView::trace);
/// The first page alone.
Document frame_page(const book::Book& book, const book::Trace& trace, const std::string& today);
/// The welds and repairs among a frame's records, with the columns that their kind has.
Table weld_table(const book::Kind& kind, const std::vector<book::Record>& records);
Document recall_document(const book::Mark& what, const std::vector<book::Carrier>& carriers);
Document gaps_document(const book::FrameState& state);
Document verified_document(const book::Verification& verified);

/// The one answer above a frame's record and its gaps: a reported crack, then what the rating says, then open
/// gaps.
Answer headline(const book::FrameState& state);
/// Answers if a chain and all that follows from it is intact, and if the rules of today let all of it in.
Answer headline(const book::Verification& verified);

}  // namespace seamwright::reports
