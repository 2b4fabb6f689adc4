// SPDX-License-Identifier: GPL-3.0-or-later
// A word of a file or an option becomes the value that it names, for every table of things with a name_of():
// enumerations, rule sets.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace seamwright {

/// The one of `all` that is called so; nothing when none is.
template <typename Named, std::size_t count>
std::optional<Named> find_named(const std::array<Named, count>& all, std::string_view name) {
  for (const Named one : all)
    if (name == name_of(one)) return one;
  return std::nullopt;
}

/// The words for all of them, in their order: the choices of a key, an option or a form.
template <typename Named, std::size_t count>
std::vector<std::string> names_of(const std::array<Named, count>& all) {
  std::vector<std::string> names;
  for (const Named one : all) names.emplace_back(name_of(one));
  return names;
}

}  // namespace seamwright
