// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/sweeps/sweep_journal.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <stdexcept>

#include "engine/evidence/evidence.h"

namespace seamwright::sweeps {

SweepJournal::SweepJournal(const std::string& path, const std::string& identity, bool discard) : path_(path) {
  fd_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
  if (fd_ < 0) throw std::runtime_error("cannot write " + path);
  if (::flock(fd_, LOCK_EX | LOCK_NB) != 0)
    throw std::runtime_error(path + " is being written by another run");
  try {
    load(identity, discard);
  } catch (...) {
    ::close(fd_);
    throw;
  }
}

SweepJournal::~SweepJournal() { ::close(fd_); }

void SweepJournal::add(std::size_t number, const std::string& row) {
  write(std::to_string(number) + "\t" + row);
  rows_[number] = row;
}

void SweepJournal::remove() { ::unlink(path_.c_str()); }

void SweepJournal::write(const std::string& text) {
  std::size_t done = 0;
  while (done < text.size()) {
    const ssize_t wrote = ::write(fd_, text.data() + done, text.size() - done);
    if (wrote <= 0) throw std::runtime_error("cannot write " + path_);
    done += static_cast<std::size_t>(wrote);
  }
}

void SweepJournal::load(const std::string& identity, bool discard) {
  std::string content;
  char block[65536];
  for (ssize_t got = 0; (got = ::read(fd_, block, sizeof block)) > 0;)
    content.append(block, static_cast<std::size_t>(got));
  const std::string first = "seamwright.sweep/1 " + identity + "\n";
  std::size_t end = 0;
  if (content.starts_with(first)) {
    end = first.size();
    for (std::size_t at = end, line = 0; (line = content.find('\n', at)) != std::string::npos;
         at = end = line + 1) {
      std::size_t number = 0;
      const auto tab = content.find('\t', at);
      const auto parsed = std::from_chars(content.data() + at, content.data() + line, number);
      if (tab == std::string::npos || tab > line || parsed.ptr != content.data() + tab) break;
      rows_[number] = content.substr(tab + 1, line - tab);
    }
  }
  // Whatever is there is somebody's work, but for a first line without rows or torn.
  const std::string_view form = "seamwright.sweep/1 ";
  const auto lines = std::count(content.begin(), content.end(), '\n');
  const bool nothing = form.starts_with(content) || (content.starts_with(form) && lines <= 1 && content.find('\t') == std::string::npos);
  if (end == 0 && !nothing && !discard)
    throw Fault{Message{"sweep.other-journal",
                        {number("count", static_cast<double>(content.starts_with(form) ? lines - 1 : lines), ""), text("file", path_),
                         sentence_argument("remedy", "remedy.discard")}}};
  if (::ftruncate(fd_, static_cast<off_t>(end)) != 0 || ::lseek(fd_, 0, SEEK_END) < 0)
    throw std::runtime_error("cannot write " + path_);
  if (end == 0) write(first);
}

}  // namespace seamwright::sweeps
