// SPDX-License-Identifier: GPL-3.0-or-later
// Each kind of entry that can be recorded is described with its fields, once. From this table come the check
// of a payload, what entries are found by, the form in the window, the columns of CSV and TOML, the lines of
// trace and sheets, and the table of kinds in docs/files.md.
#pragma once

#include <limits>
#include <span>
#include <string>
#include <string_view>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

enum class Type { text, number, day, flag, texts, file, entry, object };

/// One field of a payload. Everything but its name, label and type may be left out.
struct Field {
  const char* name;   ///< in payload, CSV and TOML: one of records/names.h, its unit in it
  MessageId label;    ///< what it is called
  Type type = Type::text;
  bool needed = false;
  const char* mark = "";  ///< entries are found by it under this name
  const char* carried =
      "";                 ///< a frame that the entry names carries it under this name, to be recalled by it
  const char* unit = "";  ///< of a number, to be read with it
  double least = -std::numeric_limits<double>::infinity();  ///< of a number, in its unit
  double most = std::numeric_limits<double>::infinity();
  std::span<const char* const> words = {};  ///< of a text: it is one of these
  bool ahead = false;                       ///< of a day: it may lie ahead of the entry
  bool revised = false;                     ///< found and carried also with the record's revision behind it
  bool trace = true;                        ///< told in the line of the record where a frame is traced
  bool sheet = true;                        ///< the same on the sheet of a frame
  MessageId column = {};     ///< its heading in the table of such records; "" = none of its columns
  MessageId control = {};    ///< its control in the window's form; "" = not asked there
  const char* remark = "";   ///< in docs/files.md, where its name and type do not say enough
};

struct Kind {
  const char* name;
  MessageId label;    ///< what it is called
  MessageId section;  ///< the part of a frame's record that tells it line by line; "" = none
  /// Roles besides the owner, by their first letters: w, e, i, a; upper case O: no owner.
  const char* signers;
  std::span<const Field> fields;
};

/// Kinds stand in the order in which docs/files.md tells them.
std::span<const Kind> kinds();
/// Null when there is none of that name.
const Kind* kind_of(std::string_view name);
/// The same, or Fault "book.unknown-kind" with the nearest known.
const Kind& kind_named(const std::string& name);
/// Null when the kind has none of that name.
const Field* field_of(const Kind& kind, std::string_view name);

/// "welder", "engineer", "inspector", "auditor", "owner": whether a role may sign a kind of entry.
bool may_sign(const std::string& role, const std::string& kind);
bool is_role(const std::string& role);

/// True when an entry of a kind can be corrected or made void; of the others a new one follows.
bool may_be_corrected(const std::string& kind);

}  // namespace seamwright::book
