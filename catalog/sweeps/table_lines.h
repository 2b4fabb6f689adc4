// SPDX-License-Identifier: GPL-3.0-or-later
// Lines of a table of variants: cells between commas, in quotes where they hold one.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace seamwright::sweeps {

std::string csv_cell(const std::string& cell);
/// The cells of a line without its end.
std::vector<std::string> cells_of(std::string_view line);
/// Number of the variant that a row begins with, from 1; 0 when it begins with none.
std::size_t variant_number(std::string_view row);

}  // namespace seamwright::sweeps
