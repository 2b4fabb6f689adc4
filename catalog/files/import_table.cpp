// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/import_table.h"

#include <array>
#include <sstream>
#include <utility>
#include <vector>

#include "catalog/files/patch.h"
#include "catalog/files/small_table.h"
#include "catalog/files/written.h"

namespace seamwright::files {

namespace {

using Values = std::vector<std::pair<std::string, PatchValue>>;

constexpr std::array axes{"x_mm", "y_mm", "z_mm"};

Values values_of(const TableRow& row, bool nodes) {
  Values values;
  if (nodes) {
    std::vector<double> at;
    for (const char* axis : axes) {
      if (!row.has(axis)) row.fail("import.bad-row", {text("column", axis)});
      at.push_back(row.real(axis));
    }
    values.emplace_back("position_mm", at);
  } else {
    std::vector<std::string> chain;
    std::istringstream listed(row.text_of("nodes"));
    for (std::string word; listed >> word;) chain.push_back(word);
    if (chain.size() < 2) row.fail("import.bad-row", {text("column", "nodes")});
    values.emplace_back("tube", row.text_of("tube"));
    values.emplace_back("nodes", chain);
  }
  if (row.has("mirror")) {
    const std::string word = row.text_of("mirror");
    if (word != "true" && word != "false") row.fail("import.bad-row", {text("column", "mirror")});
    values.emplace_back("mirror", word == "true");
  }
  return values;
}

// Adds the row behind the last of its kind, or at the end.
std::string with_row_added(const std::string& file, const std::string& content, const std::string& kind,
                           const std::string& id, const Values& values) {
  std::string row = "[[" + kind + "]]\nid = \"\"\n";
  row = patched(file, row, kind + "[0].id", id);
  const std::vector<WrittenTable> tables = written_tables(file, content);
  const WrittenTable* table = table_named(tables, kind);
  std::string out = content;
  if (table && !table->rows.empty() && !table->rows.back().id.empty()) {
    out = with_row_copied(file, out, table->rows.back().place, id);
    const std::string place = kind + "[" + id + "]";
    for (const WrittenValue& cell : table->rows.back().cells)  // nothing of the neighbour stays
      if (cell.form != Form::none && cell.place.substr(cell.place.rfind('.') + 1) != "id")
        out = without_value(file, out, place + cell.place.substr(table->rows.back().place.size()));
  } else {
    if (!out.empty() && out.back() != '\n') out.push_back('\n');
    out.append("\n").append(row);
  }
  for (auto value = values.rbegin(); value != values.rend(); ++value)
    out = patched(file, out, kind + "[" + id + "]." + value->first, value->second);
  return out;
}

}  // namespace

Imported import_table(const std::string& file, const std::string& content, const SourceFile& rows) {
  const std::string head = read_text(rows);
  const bool nodes = head.find("x_mm") != std::string::npos;
  Imported out{content, nodes ? "node" : "member", 0, 0};
  const std::vector<std::string> needed = nodes ? std::vector<std::string>{"id", "x_mm", "y_mm", "z_mm"}
                                                : std::vector<std::string>{"id", "tube", "nodes"};
  read_small_table(rows, needed, {"mirror"}, [&](const TableRow& row) {
    const std::string id = row.text_of("id");
    if (id.empty()) row.fail("import.bad-row", {text("column", "id")});
    const Values values = values_of(row, nodes);
    const std::vector<WrittenTable> tables = written_tables(file, out.text);
    const WrittenTable* table = table_named(tables, out.kind);
    bool there = false;
    for (std::size_t i = 0; table && i < table->rows.size(); ++i) there = there || table->rows[i].id == id;
    if (there) {
      for (const auto& [key, value] : values)
        out.text = patched(file, out.text, out.kind + "[" + id + "]." + key, value);
      ++out.changed;
    } else {
      out.text = with_row_added(file, out.text, out.kind, id, values);
      ++out.added;
    }
  });
  return out;
}

}  // namespace seamwright::files
