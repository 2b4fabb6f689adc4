// SPDX-License-Identifier: GPL-3.0-or-later
// Lines and cells of text tables, as a stream.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "catalog/files/source.h"
#include "engine/evidence/evidence.h"

namespace seamwright::files {

/// Longest line taken, bytes.
inline constexpr std::size_t longest_line = 1u << 20;

/// Trims blanks around it, and the quotes around the whole.
std::string_view trimmed(std::string_view text);
std::vector<std::string> cells(std::string_view line, char separator);

class Lines {
 public:
  /// Throws Fault "file.missing", "file.unreadable".
  explicit Lines(const SourceFile& file);
  /// A line without its end; false at the end of the file. A line is never held beyond the longest allowed:
  /// Fault "file.long-line".
  bool next(std::string& line);
  std::size_t number() const { return number_; }  ///< of the line read last, from 1
  /// Checks that the line read last has as many cells as the table has columns: an unquoted decimal comma
  /// between commas makes two cells of one and shifts the rest. One empty cell more at the end is nothing;
  /// fewer are refused where the separator is a comma. Throws Fault "file.cell-count".
  void check_count(std::string_view line, char separator, std::size_t columns) const;
  /// A Fault with file and line.
  [[noreturn]] void fail(MessageId id, std::vector<Argument> more) const;

 private:
  std::string path_;
  std::unique_ptr<std::istream> stream_;
  std::vector<char> buffer_ = std::vector<char>(1u << 16);
  std::size_t at_ = 0, filled_ = 0, number_ = 0;
};

}  // namespace seamwright::files
