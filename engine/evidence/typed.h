// SPDX-License-Identifier: GPL-3.0-or-later
// A number as a person types it: one rule for fields, command line, tables and certificates.
#pragma once

#include <optional>
#include <string_view>

namespace seamwright {

/// The number that a person typed. Point and comma are both the decimal sign; thousands are never grouped, so
/// that a text with two signs is no number, and neither is one with a blank inside. An exponent may follow
/// ("1e6"), a sign may lead, blanks around are passed over. Nothing for all else, "inf" and "nan" among it.
/// TOML and JSON files keep the syntax of their own formats.
std::optional<double> typed_number(std::string_view text);

}  // namespace seamwright
