// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "reports/content/blocks.h"
#include "reports/text/text.h"

namespace seamwright::reports {

/// Says as plain text what a cell says; verdicts with their shape before the word.
std::string plain_text(const Cell& cell, Language language);
/// Shape of a state: readable without colour.
std::string shape_of(const State& state);
/// Control characters as escapes like ESC; bidirectional overrides too.
std::string visible(const std::string& text);
/// Escapes for HTML and SVG: & < > and both quotes as entities.
std::string escaped(const std::string& text);
/// A table's column is one of numbers: what stands first in it, dashes and empty cells left out, is one.
bool holds_numbers(const Table& table, std::size_t column);
/// Columns on a terminal (code points).
std::size_t columns_of(const std::string& text);

}  // namespace seamwright::reports
