// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace seamwright::published {

/// Letters to put in, take out or change to make one word the other.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The known words that begin with `word` and a point, as sides of a mirrored part do ("W01": "W01.L, W01.R");
/// without any the known word with the smallest edit distance to `word`; empty when none is near (more than half its
/// letters differ).
std::string nearest(std::string_view word, const std::vector<std::string>& known);
/// The nearest word; where none is near, the first eight that are known.
std::string nearest_or_some(std::string_view word, const std::vector<std::string>& known);

}  // namespace seamwright::published
