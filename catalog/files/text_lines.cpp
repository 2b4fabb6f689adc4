// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/text_lines.h"

#include <algorithm>

namespace seamwright::files {

std::string_view trimmed(std::string_view s) {
  constexpr std::string_view blank = " \t\r";
  const std::size_t first = s.find_first_not_of(blank);
  if (first == std::string_view::npos) return {};
  s = s.substr(first, s.find_last_not_of(blank) - first + 1);
  if (s.size() >= 2 && s.front() == '"' && s.back() == '"') s = s.substr(1, s.size() - 2);
  return s;
}

std::vector<std::string> cells(std::string_view line, char separator) {
  std::vector<std::string> found;
  for (;;) {
    const std::size_t at = line.find(separator);
    found.emplace_back(trimmed(line.substr(0, at)));
    if (at == std::string_view::npos) return found;
    line.remove_prefix(at + 1);
  }
}

Lines::Lines(const SourceFile& file) : path_(file.name) {
  try {
    stream_ = file.files->stream(file.name);
  } catch (const Fault& fault) {
    fail(fault.message.id, {});  // with its line, as all that is said of a table
  }
}

bool Lines::next(std::string& line) {
  line.clear();
  ++number_;
  for (;;) {
    if (at_ == filled_) {
      stream_->read(buffer_.data(), static_cast<std::streamsize>(buffer_.size()));
      filled_ = static_cast<std::size_t>(stream_->gcount());
      at_ = 0;
      if (filled_ == 0) return !line.empty();
    }
    const auto from = buffer_.begin() + static_cast<std::ptrdiff_t>(at_),
               to = buffer_.begin() + static_cast<std::ptrdiff_t>(filled_);
    const auto end = std::find(from, to, '\n');
    line.append(from, end);
    at_ += static_cast<std::size_t>(end - from);
    if (line.size() > longest_line)
      fail("file.long-line", {seamwright::number("most", static_cast<double>(longest_line >> 20), "MiB")});
    if (end == to) continue;
    ++at_;
    return true;
  }
}

void Lines::check_count(std::string_view line, char separator, std::size_t columns) const {
  while (!line.empty() && (line.back() == '\r' || line.back() == ' ')) line.remove_suffix(1);
  std::size_t found = 1 + static_cast<std::size_t>(std::count(line.begin(), line.end(), separator));
  if (found == columns + 1 && line.ends_with(separator)) --found;
  if (found > columns || (separator == ',' && found < columns))
    fail("file.cell-count", {seamwright::number("found", static_cast<double>(found), ""),
                             seamwright::number("expected", static_cast<double>(columns), "")});
}

void Lines::fail(MessageId id, std::vector<Argument> more) const {
  more.insert(more.begin(),
              {text("file", path_), seamwright::number("line", static_cast<double>(number_), "")});
  throw Fault{Message{id, std::move(more)}};
}

}  // namespace seamwright::files
