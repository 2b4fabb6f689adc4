// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace seamwright::book {

inline constexpr std::size_t shortest_passphrase = 12;  ///< bytes

/// Too short, of few different characters, or a common word with figures and repetitions alone: guessed in no time. The rule is one of
/// length with a list of common words (common practice), and no measure of strength.
bool is_weak_passphrase(const std::string& passphrase);

}  // namespace seamwright::book
