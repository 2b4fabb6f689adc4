// SPDX-License-Identifier: GPL-3.0-or-later
// Editing one value of a TOML text in place: every other byte, comments among them, stays as it is.
#pragma once

#include <string>
#include <variant>
#include <vector>

namespace seamwright::files {

/// The value that a patch writes: numbers come out as the shortest text that reads back the same. A list may
/// mix numbers with texts (expressions over the parameters).
using PatchItem = std::variant<double, std::string>;
using PatchValue = std::variant<double, bool, std::string, std::vector<double>, std::vector<std::string>,
                                std::vector<PatchItem>>;

/// A text as TOML has it, in quotes; control characters escaped.
std::string toml_text(const std::string& value);

/// place: "name", "rider.saddle_node", "weld[W16].throat_mm" (a row by its id) or "node[2].position_mm" (by
/// number from 0). A key that its table lacks is written as the first line below the table's header, in an
/// inline table as its last. file is for messages. Throws Fault "file.syntax" when content is no TOML,
/// "file.no-place" when the place is not there or cannot take a key, "file.bad-patch" for a number that is
/// not finite or a text with control characters.
std::string patched(const std::string& file, const std::string& content, const std::string& place,
                    const PatchValue& value);

/// The text without a key: its line goes, with a comment behind it. Throws what patched() throws, and
/// "file.no-place" for a key that is not there or shares its line.
std::string without_value(const std::string& file, const std::string& content, const std::string& place);

/// The text with a row of an array of tables ("tube[rail]", "trip[round].leg[lane-out]") once more behind
/// itself under another id, with all that belongs to it. Throws what patched() throws.
std::string with_row_copied(const std::string& file, const std::string& content, const std::string& row,
                            const std::string& id);
/// The text without a row and what belongs to it. Throws what patched() throws; "file.no-place" too when the
/// row's lines have another table between them.
std::string without_row(const std::string& file, const std::string& content, const std::string& row);

}  // namespace seamwright::files
