// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace seamwright::published {

/// The known word with the smallest edit distance to `word`; empty when none is near (more than half its
/// letters differ).
std::string nearest(std::string_view word, const std::vector<std::string>& known);

}  // namespace seamwright::published
