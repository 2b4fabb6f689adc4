// SPDX-License-Identifier: GPL-3.0-or-later
// A file system for SQLite that fails when it is told to, over the usual one.
#pragma once

#include <string>

namespace seamwright::book {

/// Every book is opened through it while it lives. Counts what changes a file (write, sync, truncate, new
/// file), and fails from or at the one that is chosen.
class FaultyStore {
 public:
  enum class Kind { full, io };
  FaultyStore();
  ~FaultyStore();
  FaultyStore(const FaultyStore&) = delete;
  FaultyStore& operator=(const FaultyStore&) = delete;
  /// The n-th call from now on fails, counted from 1; with `on` all after it too. 0: none.
  void fail_at(int n, bool on, Kind kind);
  int calls() const;  ///< since fail_at()
  bool has_failed() const;
};

}  // namespace seamwright::book
