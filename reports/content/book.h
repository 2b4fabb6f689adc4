// SPDX-License-Identifier: GPL-3.0-or-later
// What the record book says: a frame's record in the order in which an auditor asks, a recall, gaps, a
// verification.
#pragma once

#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "catalog/book/verify.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

Document trace_document(const book::Book& book, const book::Trace& trace);
Document recall_document(const book::Mark& what, const std::vector<book::Carrier>& carriers);
Document gaps_document(const std::string& serial, const std::vector<book::Gap>& gaps);
Document verified_document(const book::Verified& verified);

/// A record's content in one line: "weld W16, procedure TIG-BRANCH, amperes 58.5".
std::string line_of(const book::Record& record);

}  // namespace seamwright::reports
