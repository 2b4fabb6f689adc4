// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/design/sides.h"

namespace seamwright::design {

std::string_view side_of(std::string_view id) {
  return id.ends_with(".L") || id.ends_with(".R") ? id.substr(id.size() - 2) : std::string_view{};
}

std::string other_side(const std::string& id) {
  if (id == "FL") return std::string("FR");
  if (id == "FR") return std::string("FL");
  const std::string_view side = side_of(id);
  if (side.empty()) return id;
  return id.substr(0, id.size() - 1).append(side == ".L" ? "R" : "L");
}

std::string left_side(const std::string& id) {
  return side_of(id) == ".R" || id == "FR" ? other_side(id) : id;
}

}  // namespace seamwright::design
