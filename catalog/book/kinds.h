// SPDX-License-Identifier: GPL-3.0-or-later
// What can be recorded: the kinds of entries, their keys, and what is looked up by. One table feeds the check
// of a payload, the derived tables and docs/files.md.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "catalog/book/canonical.h"
#include "catalog/book/store/rows.h"

namespace seamwright::book {

enum class Type { text, number, day, flag, texts, file, entry, object };

/// One key of a payload. Units stand in its name. mark: found under this name; carried: a frame that an entry
/// names carries this (lots, filler, welder ...), so that it can be recalled. Empty = neither.
struct Key {
  const char* name;
  Type type;
  bool needed;
  const char* mark;
  const char* carried;
};

struct Kind {
  const char* name;
  const char*
      signers;  ///< roles besides the owner, by their first letters: w, e, i, a; upper case O: no owner
  std::span<const Key> keys;
};

std::span<const Kind> kinds();
/// Null when there is none of that name.
const Kind* kind_of(std::string_view name);

/// "welder", "engineer", "inspector", "auditor", "owner": whether a role may sign a kind of entry.
bool may_sign(const std::string& role, const std::string& kind);
bool is_role(const std::string& role);

/// Whether an entry of a kind can be corrected or made void; of the others a new one follows.
bool may_be_corrected(const std::string& kind);

/// Longest text in a payload, bytes.
inline constexpr std::size_t longest_text = 1u << 20;

/// Throws Fault "book.unknown-kind", "book.unknown-key" (nearest known), "book.missing-key",
/// "book.wrong-type", "book.bad-day", "book.bad-word" (a decision that is none), "book.too-long". Payloads of
/// corrections are checked as the kind that they correct.
void check_payload(const std::string& kind, const Json& payload);

/// The text under a key; empty where there is none.
std::string word_at(const Json& payload, const char* key);

/// What an entry records in the end: of a correction, the corrected payload as the kind that it corrects.
struct Content {
  std::string kind;
  const Json* payload = nullptr;  ///< into the entry's
  std::int64_t replaces = 0;      ///< seq of the entry that is corrected or void; 0 = none
};
Content content_of(const std::string& kind, const Json& payload);

std::vector<Mark> marks_of(const Content& content);
/// What the frames of an entry carry by it; empty when it names no frame.
std::vector<Mark> carried_by(const Content& content);
/// SHA-256 of the files that an entry names.
std::vector<std::string> files_of(const Content& content);

}  // namespace seamwright::book
