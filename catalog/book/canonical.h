// SPDX-License-Identifier: GPL-3.0-or-later
// One way to write a JSON value, so that its hash means something: RFC 8785.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

namespace seamwright::book {

using Json = nlohmann::json;

/// Lists and objects inside one another, at most: records need three, and readers and writers of JSON call
/// themselves for every level.
inline constexpr int deepest = 32;

/// The one reader of JSON from outside and from the store; a discarded value for what is no JSON or nested
/// deeper than that. Never throws.
Json read_json(const std::string& text);

/// Keys sorted by UTF-16 code units, numbers as ECMAScript writes them, no blanks. Throws Fault
/// "book.not-text" for bad UTF-8, "book.too-deep", and "book.not-a-number" for a number that is not finite or
/// a whole one beyond 2^53.
std::string canonical(const Json& value);

/// A number as ECMAScript's Number::toString writes it: 333333333.3333333, 1e+30, 0.000001, 1e-7.
std::string number_text(double value);

}  // namespace seamwright::book
