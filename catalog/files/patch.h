// SPDX-License-Identifier: GPL-3.0-or-later
// Editing one value of a TOML text in place: every other byte, comments among them, stays as it is.
#pragma once

#include <string>
#include <variant>
#include <vector>

namespace seamwright::files {

/// The value that a patch writes: numbers come out as the shortest text that reads back the same.
using PatchValue = std::variant<double, bool, std::string, std::vector<double>, std::vector<std::string>>;

/// place: "name", "rider.saddle_node", "weld[W16].throat_mm" (a row by its id) or "node[2].position_mm" (by
/// number from 0). A key that its table lacks is written as the first line below the table's header. file is
/// for messages. Throws Fault "file.syntax" when content is no TOML, "file.no-place" when the place is not
/// there or cannot take a key, "file.bad-patch" for a number that is not finite or a text with control
/// characters.
std::string patched(const std::string& file, const std::string& content, const std::string& place,
                    const PatchValue& value);

}  // namespace seamwright::files
