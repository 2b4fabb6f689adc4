// SPDX-License-Identifier: GPL-3.0-or-later
// The rows of a table of variants that are done, beside the table until it is whole: a run that was stopped
// goes on from there.
#pragma once

#include <map>
#include <string>

namespace seamwright::sweeps {

/// Rows stand in the file as "number TAB row"; a torn last line is done again. Only one process may write it,
/// and one thread at a time.
class SweepJournal {
 public:
  /// `identity` says of which sweep. Throws Fault "sweep.other-journal" when rows of another one stand there, unless
  /// they are to be discarded; std::runtime_error when the file cannot be written or another run writes it.
  SweepJournal(const std::string& path, const std::string& identity, bool discard = false);
  ~SweepJournal();
  SweepJournal(const SweepJournal&) = delete;
  SweepJournal& operator=(const SweepJournal&) = delete;

  const std::map<std::size_t, std::string>& rows() const { return rows_; }
  /// The row ends its line. Throws std::runtime_error when the file cannot be written.
  void add(std::size_t number, const std::string& row);
  /// Takes the file away, once the table is written.
  void remove();

 private:
  void write(const std::string& text);
  void load(const std::string& identity, bool discard);

  std::string path_;
  int fd_ = -1;
  std::map<std::size_t, std::string> rows_;
};

}  // namespace seamwright::sweeps
