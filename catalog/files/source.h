// SPDX-License-Identifier: GPL-3.0-or-later
// A text file of the user's: its bytes.
#pragma once

#include <cstddef>
#include <string>

namespace seamwright::files {

/// Largest file read, bytes (a design is some 20 kB).
inline constexpr std::size_t largest_file = 16u << 20;

/// Reads a text file whole. Throws Fault "file.missing", "file.unreadable", "file.too-large", "file.not-text"
/// (NUL bytes or bad UTF-8, with line), "file.empty".
std::string read_text(const std::string& path);

/// Whole or not at all: a new file beside it, synced, then renamed. Throws std::runtime_error.
void write_text(const std::string& path, const std::string& content);

}  // namespace seamwright::files
