// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/field_labels.h"

#include <algorithm>
#include <array>
#include <utility>

#include "catalog/files/job_reader.h"
#include "reports/text/text.h"

namespace seamwright::reports {

namespace {

// Longer endings first.
constexpr std::array<std::pair<const char*, const char*>, 23> units{
    {{"_kg_m2", "kg m2"},   {"_n_s_m", "N s/m"}, {"_per_year", "1/year"},
     {"_per_deg", "1/deg"}, {"_per_km", "1/km"}, {"_n_mm", "N/mm"},
     {"_n_m", "N m"},       {"_nmm", "N mm"},    {"_n0_m3", "m3"},
     {"_cycles_m", "1/m"},  {"_m_s2", "m/s2"},   {"_percent", "%"},
     {"_kmh", "km/h"},      {"_mpa", "MPa"},     {"_kpa", "kPa"},
     {"_deg", "deg"},       {"_mm", "mm"},       {"_kg", "kg"},
     {"_km", "km"},         {"_hz", "Hz"},       {"_kw", "kW"},
     {"_n", "N"},           {"_m", "m"}}};

Message own_name(const std::string& name) { return {"field.own", {text("name", name)}}; }

}  // namespace

Field field_of(const std::string& table, const std::string& key) {
  if (table == "parameters") return {own_name(key), ""};
  if (const std::size_t dot = key.find('.'); dot != std::string::npos)
    return {own_name(key.substr(dot + 1)), key.starts_with("per_km.") ? "1/km" : ""};
  if (key == "years") return {{"field.years", {}}, "years"};
  if (key == "m_s2") return {{"field.acceleration", {}}, "m/s2"};
  std::string name = key;
  Field field;
  for (const auto& [ending, unit] : units)
    if (name.ends_with(ending)) {
      name.erase(name.size() - std::string_view(ending).size());
      field.unit = std::string(unit);
      break;
    }
  std::replace(name.begin(), name.end(), '_', '-');
  const auto id = find_message_id("field." + name);
  field.label = id ? Message{*id, {}} : own_name(key);
  return field;
}

std::vector<Message> about_field(const std::string& file, const std::string& table, const std::string& key) {
  const Field field = field_of(table, key);
  std::vector<Message> all;
  if (field.label.id == MessageId("field.own"))
    all.push_back({table == "parameters" ? MessageId("field.about-parameter") : "field.about-own", {}});
  else
    all.push_back({composed_id("about.", field.label.id.text() + std::string_view("field.").size()), {}});
  const auto& taken = files::number_bounds();
  std::string path(file);
  if (!table.empty()) path.append(".").append(table);
  const auto it = taken.find(path.append(".").append(key));
  constexpr double without_end = 1e9;
  if (it == taken.end()) return all;
  const auto [least, most] = it->second;
  if (most < without_end)
    all.push_back({"field.takes", {number("least", least, field.unit), number("most", most, field.unit)}});
  else if (least > -without_end)
    all.push_back({least > 0 ? MessageId("field.takes-positive") : "field.takes-from-zero", {}});
  return all;
}

Message table_title(const std::string& table) {
  std::string name(table.empty() ? "top" : table.c_str());
  std::replace(name.begin(), name.end(), '.', '-');
  const auto id = find_message_id("table." + name);
  return id ? Message{*id, {}} : own_name(table);
}

}  // namespace seamwright::reports
