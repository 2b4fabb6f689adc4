// SPDX-License-Identifier: GPL-3.0-or-later
// A text file of the user's: its bytes, and the place of each value, so that errors can point and edits can patch.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace seamwright::files {

/// 1-based line and column of a value in a file.
struct Place {
  std::string file;
  std::size_t line = 0, column = 0;
};

/// Largest file read, bytes (a design is some 20 kB).
inline constexpr std::size_t largest_file = 16u << 20;

/// Reads a text file whole. Throws Fault "file.missing", "file.unreadable", "file.too-large", "file.not-text" (NUL bytes or
/// bad UTF-8, with line), "file.empty".
std::string read_text(const std::string& path);

/// Replaces the value at a dotted path ("node.3.position.0", arrays by index, or "rules.seeds") by a new literal; all other bytes stay.
/// Returns the new text. Throws Fault when the path does not exist or the result no longer parses.
std::string patch(std::string_view toml_text, std::string_view path, std::string_view literal);

}  // namespace seamwright::files
