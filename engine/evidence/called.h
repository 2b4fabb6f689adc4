// SPDX-License-Identifier: GPL-3.0-or-later
// From a word of a file or an option to the value that it names, for every enumeration with a name_of().
#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace seamwright {

/// The one of `all` that is called so; nothing when none is.
template <typename Named, std::size_t count>
std::optional<Named> called(const std::array<Named, count>& all, std::string_view name) {
  for (const Named one : all)
    if (name == name_of(one)) return one;
  return std::nullopt;
}

}  // namespace seamwright
