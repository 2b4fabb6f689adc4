// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_names.h"

#include <algorithm>
#include <cmath>

#include "engine/design/sides.h"

namespace seamwright::reports {

namespace {

constexpr double same_place_mm = 0.45;  // dots are 0.9 mm wide

}  // namespace

double name_width_mm(const std::string& id) {
  double sum = 0;
  for (const char c : id)
    sum += c == 'W' || c == 'M'                                                   ? 0.95
           : c == '.' || c == '-' || c == 'i' || c == 'l' || c == ',' || c == ' ' ? 0.34
           : c >= 'A' && c <= 'Z'                                                 ? 0.68
                                                                                  : 0.58;
  return sum * name_type_mm;
}

std::string joint_name(const std::vector<std::string>& ids) {
  std::string name;
  for (const std::string& id : ids) {
    const std::string side(design::side_of(id)), stem = id.substr(0, id.size() - side.size());
    const auto has = [&](const std::string& other) {
      return std::find(ids.begin(), ids.end(), other) != ids.end();
    };
    const bool both = !side.empty() && has(stem + ".L") && has(stem + ".R");
    if (both && side == ".R") continue;
    if (!name.empty()) name.append(", ");
    name.append(both ? stem : id);
  }
  return name;
}

std::vector<NamedPlace> named_places(const std::vector<FlagPlace>& flags) {
  std::vector<NamedPlace> places;
  for (std::size_t i = 0; i < flags.size(); ++i) {
    const auto near = std::find_if(places.begin(), places.end(), [&](const NamedPlace& p) {
      return std::hypot(p.at.x - flags[i].at.x, p.at.y - flags[i].at.y) < same_place_mm;
    });
    if (near != places.end())
      near->flags.push_back(i);
    else
      places.push_back({flags[i].at, "", {i}});
  }
  for (NamedPlace& p : places) {
    std::vector<std::string> ids;
    for (const std::size_t i : p.flags) ids.push_back(flags[i].id);
    std::sort(ids.begin(), ids.end());
    p.name = joint_name(ids);
  }
  return places;
}

Border names_border(const std::vector<NamedPlace>& places, double width_mm, double height_mm) {
  constexpr double rim = 0.6, beside = 1.6, high = 3.2;
  double widest = 4;
  for (const NamedPlace& p : places) widest = std::max(widest, name_width_mm(p.name));
  Border b;
  b.label_wide_mm = widest + beside;
  b.label_high_mm = high;
  b.outer = {rim, rim, width_mm - rim, height_mm - rim};
  b.inner = {rim + b.label_wide_mm, rim + b.label_high_mm, width_mm - rim - b.label_wide_mm,
             height_mm - rim - b.label_high_mm};
  b.kept_free = {{0, height_mm - 9, 45, height_mm}, {width_mm - 20, height_mm - 20, width_mm, height_mm}};
  return b;
}

}  // namespace seamwright::reports
