// SPDX-License-Identifier: GPL-3.0-or-later
// A TOML text stands here table by table, for people who edit it in a form: values as written, with the
// place that patched() takes; and what a person typed, as such a value.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/patch.h"

namespace seamwright::files {

/// A value is one of these: a number or an expression over the parameters, a text, true or false, a list.
enum class Form { none, number, text, flag, list };

struct WrittenValue {
  std::string place;  ///< "tube[rail].wall_mm"; where a new value would go when there is none
  std::string shown;  ///< without quotes; items of a list after "; "
  Form form = Form::none;
  std::size_t line = 0;  ///< 0 = not there
  bool names = false;    ///< a list of texts alone
};

struct WrittenRow {
  std::string place;                ///< "tube[rail]"
  std::string id;                   ///< "" where it has none
  std::size_t line = 0;             ///< of the header
  std::vector<WrittenValue> cells;  ///< one for each key of the table
};

/// A table of the text: one row, or many ([[tube]]). Keys in the order in which they first appear; those of
/// an inline table after a dot ("per_km.bend").
struct WrittenTable {
  std::string name;  ///< "" of the top, "rules", "tube", "trip.leg"
  bool many = false;
  std::vector<std::string> keys;
  std::vector<WrittenRow> rows;
};

/// All tables of a text, the top first. Throws Fault "file.syntax".
std::vector<WrittenTable> written_tables(const std::string& file, const std::string& content);
/// The table of a name, or null.
const WrittenTable* table_named(const std::vector<WrittenTable>& tables, const std::string& name);
/// The cell on a line, or the first of the row whose header stands there; null for none.
const WrittenValue* cell_on_line(const std::vector<WrittenTable>& tables, std::size_t line);

/// Reads what was typed into a field whose value was `before` (with form none: whose neighbours have the form
/// `like`): numbers with a point or a comma, lists with ";" between. A measure (by its unit in the key, or a
/// parameter) that was an expression may become a number. What is no number stays a text, for the reader to
/// judge.
PatchValue typed_value(const WrittenValue& before, Form like, const std::string& typed);

/// Words that the reader takes for a key of a table, such as "air" and "free-corrosion"; empty where it is
/// free. `tables` gives the ids that it may name.
std::vector<std::string> choices(const std::vector<WrittenTable>& tables, const std::string& table,
                                 const std::string& key);

}  // namespace seamwright::files
