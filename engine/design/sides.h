// SPDX-License-Identifier: GPL-3.0-or-later
// Left and right: what a design mirrors carries its side as the ending of its id, ".L" or ".R"; the front
// wheels are "FL" and "FR".
#pragma once

#include <string>
#include <string_view>

namespace seamwright::design {

/// The side that ends an id, ".L" or ".R"; "" where it has none.
std::string_view side_of(std::string_view id);
/// The same id on the other side; as it is where it has none.
std::string other_side(const std::string& id);
/// The id on the left; as it is where it has no side.
std::string left_side(const std::string& id);

}  // namespace seamwright::design
