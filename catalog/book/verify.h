// SPDX-License-Identifier: GPL-3.0-or-later
// Does a book hold: every entry, every signature, every table that follows from them, every file.
#pragma once

#include <functional>
#include <stop_token>

#include "catalog/book/book.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

struct Problem {
  std::int64_t seq = 0;  ///< 0 = the book as a whole
  MessageId what;  ///< message id: "book.gap", "book.broken-chain", "book.altered", "book.bad-signature",
                   ///< "book.no-role", "book.derived-differs", "book.attachment-differs", ...
  std::vector<Argument> with = {};
};
struct ErasedPerson {
  std::string person;
  std::int64_t by = 0;  ///< entry that erased their details
};
struct Verification {
  std::vector<Problem> problems;
  /// Entries that hold and that the rules of today would have refused (broken_rules()): from an older
  /// program, or put in past every program with their author's key.
  std::vector<Problem> refused;
  std::vector<ErasedPerson> erased;
  std::int64_t entries = 0, attachments = 0,
               backwards = 0;  ///< entries whose time lies before that of the one before; told, not wrong
  std::string head;            ///< "12:ab34cd..."
  std::map<std::string, std::int64_t> last_about = {};  ///< by frame: the entry that is last about it
};
/// Everything that does not hold, entry by entry, whatever version the file states. A book to be verified is
/// opened with Tables::as_they_are. A head is what was once printed: "12:ab34..." (seq and
/// hash, or its first 32 figures at least; throws Fault "book.bad-head"). progress gets entries done;
/// stopped early it throws Fault "book.stopped".
Verification verify(const Book& book, const std::string& known_head = {},
                    const std::function<void(std::int64_t)>& progress = {}, std::stop_token stop = {});

/// Two books that were copies of one another go together like this.
struct BookComparison {
  std::int64_t common = 0;  ///< entries that are the same in both, from the first on
  std::int64_t only_one = 0, only_other = 0;
  bool same_book = true;  ///< both have one id
  bool forked() const { return only_one > 0 && only_other > 0; }
};
BookComparison compare_books(const Book& one, const Book& other);

}  // namespace seamwright::book
