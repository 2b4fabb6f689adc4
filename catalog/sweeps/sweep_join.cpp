// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/sweeps/sweep_join.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <queue>
#include <stdexcept>

#include "catalog/files/source.h"
#include "catalog/sweeps/table_lines.h"
#include "engine/evidence/evidence.h"

namespace seamwright::sweeps {

namespace {

constexpr std::streamsize piece_bytes = 1 << 16;
constexpr std::size_t longest_row = 1 << 20;

// The lines of a part. The file is open only while a piece is read.
class PartLines {
 public:
  explicit PartLines(std::string path) : path_(std::move(path)) {}
  const std::string& path() const { return path_; }

  // The next line without its end; false after the last.
  bool next(std::string& line) {
    std::size_t end = 0;
    while ((end = piece_.find('\n', at_)) == std::string::npos && !ended_) read_on();
    if (end == std::string::npos) end = piece_.size();
    if (at_ == piece_.size()) return false;
    line = piece_.substr(at_, end - at_);
    at_ = std::min(end + 1, piece_.size());
    return true;
  }

 private:
  void read_on() {
    piece_.erase(0, at_);
    at_ = 0;
    if (piece_.size() > longest_row)
      throw Fault{Message{"sweep.twice", {text("file", path_), text("row", piece_.substr(0, 40))}}};
    const auto file = files::files_on_disk().stream(path_);
    file->seekg(from_);
    std::string more(static_cast<std::size_t>(piece_bytes), '\0');
    file->read(more.data(), piece_bytes);
    more.resize(static_cast<std::size_t>(file->gcount()));
    ended_ = more.empty();
    from_ += file->gcount();
    piece_ += more;
  }

  std::string path_, piece_;
  std::streamoff from_ = 0;
  std::size_t at_ = 0;
  bool ended_ = false;
};

[[noreturn]] void refuse(const std::string& path, const std::string& row) {
  throw Fault{Message{"sweep.twice", {text("file", path), text("row", row.substr(0, 40))}}};
}

struct Row {
  std::size_t number = 0, part = 0;
  std::string line;
  bool operator>(const Row& other) const { return number > other.number; }
};

// Writes beside the table until it is whole.
class NewTable {
 public:
  explicit NewTable(std::string path) : path_(std::move(path)), file_(path_ + ".joining", std::ios::binary | std::ios::trunc) {}
  ~NewTable() {
    std::error_code gone;
    std::filesystem::remove(path_ + ".joining", gone);
  }
  NewTable(const NewTable&) = delete;
  NewTable& operator=(const NewTable&) = delete;
  void add(const std::string& line) { file_ << line << '\n'; }
  void finish() {
    file_.close();
    std::error_code failed;
    if (file_) std::filesystem::rename(path_ + ".joining", path_, failed);
    if (!file_ || failed) throw std::runtime_error("cannot write " + path_);
  }

 private:
  std::string path_;
  std::ofstream file_;
};

}  // namespace

std::size_t join_parts(const std::vector<std::string>& parts, const std::string& csv) {
  std::vector<PartLines> lines;
  std::priority_queue<Row, std::vector<Row>, std::greater<>> next;
  std::string head, line;
  const auto read_row = [&](std::size_t part, std::size_t after) {
    if (!lines[part].next(line)) return;
    const std::size_t number = variant_number(line);
    if (number <= after) refuse(lines[part].path(), line);
    next.push({number, part, line});
  };
  for (const std::string& path : parts) {
    lines.emplace_back(path);
    if (!lines.back().next(line)) line.clear();
    if (lines.size() > 1 && line != head) throw Fault{Message{"sweep.other-table", {text("file", path)}}};
    head = line;
    read_row(lines.size() - 1, 0);
  }
  NewTable table(csv);
  table.add(head);
  std::size_t rows = 0, last = 0;
  for (; !next.empty(); ++rows) {
    const Row row = next.top();
    next.pop();
    if (row.number == last) refuse(lines[row.part].path(), row.line);
    last = row.number;
    if (last == rows + 1) table.add(row.line);  // a gap is told with the last number
    read_row(row.part, row.number);
  }
  if (last != rows)
    throw Fault{Message{"sweep.gap",
                        {number("rows", static_cast<double>(rows), ""),
                         number("last", static_cast<double>(last), "")}}};
  table.finish();
  return rows;
}

}  // namespace seamwright::sweeps
