// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/difference.h"

#include <map>
#include <sstream>

#include "catalog/files/parse.h"

namespace seamwright::files {

namespace {

using Places = std::map<std::string, std::string>;

void flatten(const toml::node& node, const std::string& place, Places& out);

void flatten_table(const toml::table& table, const std::string& place, Places& out) {
  for (const auto& [key, node] : table)
    flatten(node, place.empty() ? std::string(key.str()) : place + "." + std::string(key.str()), out);
}

void flatten(const toml::node& node, const std::string& place, Places& out) {
  if (const toml::table* table = node.as_table(); table && !table->is_inline())
    return flatten_table(*table, place, out);
  if (node.is_array_of_tables()) {
    std::size_t number = 0;
    for (const toml::node& row : *node.as_array()) {
      const toml::table& table = *row.as_table();
      const std::string id = table["id"].value_or(std::to_string(number++));
      flatten_table(table, place + "[" + id + "]", out);
    }
    return;
  }
  std::ostringstream text;
  text.imbue(std::locale::classic());
  node.visit([&](const auto& value) { text << value; });
  out[place] = text.str();
}

Places places_of(const std::string& path, const std::string& content) {
  Places out;
  flatten_table(parse(path, content), "", out);
  return out;
}

std::vector<Difference> compare_places(const Places& a, const Places& b) {
  std::vector<Difference> all;
  for (const auto& [place, value] : a) {
    const auto other = b.find(place);
    if (other == b.end())
      all.push_back({place, value, ""});
    else if (other->second != value)
      all.push_back({place, value, other->second});
  }
  for (const auto& [place, value] : b)
    if (!a.contains(place)) all.push_back({place, "", value});
  return all;
}

}  // namespace

std::vector<Difference> differences(const std::string& first, const std::string& second) {
  return compare_places(places_of(first, read_text(first)), places_of(second, read_text(second)));
}

std::vector<Difference> differences_of(const std::string& file, const std::string& first,
                                       const std::string& second) {
  return compare_places(places_of(file, first), places_of(file, second));
}

}  // namespace seamwright::files
