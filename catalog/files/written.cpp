// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/written.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <map>
#include <optional>

#include "catalog/files/parse.h"
#include "catalog/published/surface_names.h"
#include "engine/cycles/spectral.h"
#include "engine/design/sides.h"
#include "engine/evidence/named_values.h"
#include "engine/evidence/typed.h"
#include "engine/loads/acts.h"
#include "engine/rules/rules.h"

namespace seamwright::files {

namespace {

std::string number_shown(double value) {
  std::array<char, 40> buffer{};
  return {buffer.data(), std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr};
}

std::string value_as_written(const toml::node& node) {
  if (const auto* s = node.as_string()) return s->get();
  if (const auto* b = node.as_boolean()) return std::string(b->get() ? "true" : "false");
  if (node.is_number()) return number_shown(node.value_or(0.0));
  std::string out;
  if (const auto* list = node.as_array())
    for (const toml::node& item : *list) out.append(out.empty() ? "" : "; ").append(value_as_written(item));
  return out;
}

Form form_of(const toml::node& node) {
  if (node.is_number()) return Form::number;
  if (node.is_string()) return Form::text;
  if (node.is_boolean()) return Form::flag;
  return node.is_array() ? Form::list : Form::none;
}

using Cells = std::vector<std::pair<std::string, WrittenValue>>;

// Cells of one row in the order of the text; what an inline table holds is named after a dot.
void add_cells(const toml::table& table, const std::string& place, const std::string& before, Cells& cells) {
  for (const auto& [key, node] : table) {
    const std::string name = before + std::string(key.str());
    const std::string at = place.empty() ? std::string(key.str()) : place + "." + std::string(key.str());
    if (const auto* child = node.as_table()) {
      if (child->is_inline()) add_cells(*child, at, name + ".", cells);
      continue;
    }
    if (node.is_array_of_tables()) continue;
    const auto* list = node.as_array();
    const bool names = list && !list->empty() &&
                       std::all_of(list->begin(), list->end(), [](const auto& i) { return i.is_string(); });
    cells.push_back({name, {at, value_as_written(node), form_of(node), node.source().begin.line, names}});
  }
  std::stable_sort(cells.begin(), cells.end(),
                   [](const auto& a, const auto& b) { return a.second.line < b.second.line; });
}

struct Draft {
  WrittenTable table;
  std::vector<Cells> cells;  ///< per row
};

class Collector {
 public:
  void add_table(const toml::table& table, const std::string& name, const std::string& place, bool many) {
    Draft& draft = find_or_add(name, many);
    draft.table.rows.push_back({place, table["id"].value_or(std::string()), table.source().begin.line, {}});
    draft.cells.emplace_back();
    add_cells(table, place, "", draft.cells.back());
    std::map<toml::source_index, const toml::node*> order;  // children as the text has them
    std::map<const toml::node*, std::string> names;
    for (const auto& [key, node] : table)
      if ((node.is_table() && !node.as_table()->is_inline()) || node.is_array_of_tables()) {
        order[node.is_table() ? node.source().begin.line : node.as_array()->get(0)->source().begin.line] =
            &node;
        names[&node] = std::string(key.str());
      }
    for (const auto& [line, node] : order) child(*node, names[node], name, place);
  }
  std::vector<WrittenTable> finished() {
    std::vector<WrittenTable> all;
    for (Draft& draft : drafts_) {
      WrittenTable& t = draft.table;
      for (const Cells& cells : draft.cells)
        for (const auto& [key, cell] : cells)
          if (std::find(t.keys.begin(), t.keys.end(), key) == t.keys.end()) t.keys.push_back(key);
      for (std::size_t i = 0; i < t.rows.size(); ++i)
        for (const std::string& key : t.keys) {
          const auto it = std::find_if(draft.cells[i].begin(), draft.cells[i].end(),
                                       [&](const auto& c) { return c.first == key; });
          const std::string& row = t.rows[i].place;
          t.rows[i].cells.push_back(
              it != draft.cells[i].end()
                  ? it->second
                  : WrittenValue{row.empty() ? key : row + "." + key, "", Form::none, 0, false});
        }
      all.push_back(std::move(t));
    }
    return all;
  }

 private:
  Draft& find_or_add(const std::string& name, bool many) {
    for (Draft& d : drafts_)
      if (d.table.name == name) return d;
    drafts_.push_back({{name, many, {}, {}}, {}});
    return drafts_.back();
  }
  void child(const toml::node& node, const std::string& key, const std::string& name,
             const std::string& place) {
    const std::string inner = name.empty() ? key : name + "." + key,
                      at = place.empty() ? key : place + "." + key;
    if (const auto* table = node.as_table()) return add_table(*table, inner, at, false);
    std::size_t number = 0;
    for (const toml::node& row : *node.as_array()) {
      const toml::table& table = *row.as_table();
      const std::string id = table["id"].value_or(std::to_string(number++));
      add_table(table, inner, at + "[" + id + "]", true);
    }
  }
  std::vector<Draft> drafts_;
};

bool is_measure(const std::string& place) {
  if (place.starts_with("parameters.")) return true;
  constexpr std::array units{"_mm",  "_kg", "_n", "_nmm", "_mpa", "_kmh", "_m_s2",   "_hz",
                             "_deg", "_m2", "_m", "_m3",  "_kpa", "_s_m", "_percent"};
  return std::any_of(units.begin(), units.end(), [&](const char* unit) { return place.ends_with(unit); });
}

std::string trimmed(const std::string& text) {
  const std::size_t from = text.find_first_not_of(" \t"), to = text.find_last_not_of(" \t");
  return from == std::string::npos ? std::string() : text.substr(from, to - from + 1);
}

std::vector<std::string> items_of(const std::string& typed) {
  std::vector<std::string> items;
  std::size_t at = 0;
  while (at <= typed.size()) {
    const std::size_t end = std::min(typed.find(';', at), typed.size());
    if (const std::string item = trimmed(typed.substr(at, end - at)); !item.empty()) items.push_back(item);
    at = end + 1;
  }
  return items;
}

std::vector<std::string> ids_of(const std::vector<WrittenTable>& tables, const char* name) {
  std::vector<std::string> ids;
  const WrittenTable* table = table_named(tables, name);
  if (!table) return ids;
  const auto mirror = std::find(table->keys.begin(), table->keys.end(), "mirror") - table->keys.begin();
  for (const WrittenRow& row : table->rows) {
    ids.push_back(row.id);
    const auto at = static_cast<std::size_t>(mirror);
    if (at < row.cells.size() && row.cells[at].shown == "true") ids.push_back(design::other_side(row.id));
  }
  return ids;
}

}  // namespace

std::vector<WrittenTable> written_tables(const std::string& file, const std::string& content) {
  const toml::table root = parse(file, content);
  Collector all;
  all.add_table(root, "", "", false);
  return all.finished();
}

const WrittenTable* table_named(const std::vector<WrittenTable>& tables, const std::string& name) {
  const auto it = std::find_if(tables.begin(), tables.end(), [&](const auto& t) { return t.name == name; });
  return it == tables.end() ? nullptr : &*it;
}

const WrittenValue* cell_on_line(const std::vector<WrittenTable>& tables, std::size_t line) {
  for (const WrittenTable& table : tables)
    for (const WrittenRow& row : table.rows) {
      for (const WrittenValue& cell : row.cells)
        if (cell.line == line && line > 0) return &cell;
      if (row.line == line && !row.cells.empty() && !row.place.empty()) return &row.cells.front();
    }
  return nullptr;
}

PatchValue typed_value(const WrittenValue& before, Form like, const std::string& typed) {
  const Form form = before.form == Form::none ? like : before.form;
  const std::string text = trimmed(typed);
  if (form == Form::flag && (text == "true" || text == "false")) return text == "true";
  if (form == Form::list) {
    std::vector<PatchItem> items;
    for (const std::string& item : items_of(typed)) {
      const auto value = before.names && !is_measure(before.place) ? std::nullopt : typed_number(item);
      items.push_back(value ? PatchItem(*value) : PatchItem(item));
    }
    return items;
  }
  if (form == Form::number || form == Form::none || is_measure(before.place))
    if (const auto value = typed_number(text)) return *value;
  return text;
}

std::vector<std::string> choices(const std::vector<WrittenTable>& tables, const std::string& table,
                                 const std::string& key) {
  static const std::map<std::string, std::vector<std::string>> words{
      {"rules.set", names_of(rules::rule_sets)},
      {"rules.consequence", names_of(rules::consequences)},
      {"rules.strategy", names_of(rules::strategies)},
      {"rules.look_by", names_of(fatigue::detections)},
      {"rules.environment_outside", names_of(rules::environments)},
      {"rules.environment_inside", names_of(rules::environments)},
      {"rules.range_model", names_of(cycles::range_models)},
      {"road.class", {"A", "B", "C", "D", "E", "F", "G", "H"}},
      {"road.surface", published::surface_names()},
      {"road.coherence", {"isotropic", "full", "fitted", "none"}},
      {"manoeuvre.act", names_of(loads::acts)},
      {"manoeuvre.side", {"both", "left", "right"}},
      {"obstacle.shape", {"kerb-up", "kerb-down", "pothole", "round-hump", "sine-hump", "flat-hump", "bar"}},
      {"obstacle.wheels", {"both", "left", "right"}},
      {"drive.motor", {"none", "hub", "mid"}},
      {"tube.shape", {"round", "rectangular", "flat-oval", "bar", "plate"}},
  };
  if (const auto it = words.find(table + "." + key); it != words.end()) return it->second;
  if (key == "tube") return ids_of(tables, "tube");
  if (key == "joint") return ids_of(tables, "joint");
  if (key == "chord" || key == "member") return ids_of(tables, "member");
  if (key == "node" || key.ends_with("_node")) return ids_of(tables, "node");
  if (key == "road") return ids_of(tables, "road");
  return {};
}

}  // namespace seamwright::files
