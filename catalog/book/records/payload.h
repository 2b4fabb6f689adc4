// SPDX-License-Identifier: GPL-3.0-or-later
// Payloads held against the table of kinds: whether they are in the shape of their kind, and what they are
// found by.
#pragma once

#include <string>
#include <vector>

#include "catalog/book/canonical.h"
#include "catalog/book/records/kinds.h"
#include "catalog/book/store/rows.h"

namespace seamwright::book {

/// Longest text in a payload, bytes.
inline constexpr std::size_t longest_text = 1u << 20;

/// Throws Fault "book.unknown-kind", "book.unknown-key" (nearest known), "book.missing-key",
/// "book.wrong-type", "book.bad-day", "book.bad-word" (a decision that is none), "book.too-long". Payloads of
/// corrections are checked as the kind that they correct.
void check_payload(const std::string& kind, const Json& payload);
/// The same by a kind at hand, which need not be one of the table.
void check_payload(const Kind& kind, const Json& payload);

/// The text of a field; empty where there is none.
std::string word_at(const Json& payload, const char* field);

/// An entry records this in the end: of a correction, the corrected payload as the kind that it corrects.
struct Content {
  std::string kind;
  const Json* payload = nullptr;  ///< into the entry's
  std::int64_t replaces = 0;      ///< seq of the entry that is corrected or void; 0 = none
};
Content content_of(const std::string& kind, const Json& payload);

/// All names of marks, in the order of the table.
std::vector<std::string> mark_names();
std::vector<Mark> marks_of(const Content& content);
/// The frames of an entry carry these marks by it; empty when it names no frame.
std::vector<Mark> carried_by(const Content& content);
/// SHA-256 of the files that an entry names.
std::vector<std::string> files_of(const Content& content);

}  // namespace seamwright::book
