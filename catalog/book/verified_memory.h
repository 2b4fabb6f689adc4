// SPDX-License-Identifier: GPL-3.0-or-later
// This machine remembers, outside the book, how far it verified one and what its tables said then: so that what is left out of them later
// shows, and an older copy is known. XDG_STATE_HOME or ~/.local/state, then seamwright/books; nothing is remembered where neither is known.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "catalog/book/store/rows.h"

namespace seamwright::book {

class Book;
struct Verification;

struct VerifiedMemory {
  std::int64_t seq = 0;  ///< last entry that was verified
  std::string hash, day;
  std::map<std::string, std::int64_t> last;  ///< by frame: the entry that was last about it
};

/// Nothing where this book was never verified here, or what is remembered cannot be read.
std::optional<VerifiedMemory> remembered(const std::string& book_id);
/// Remembers a verification, if it found no problem; day: "2026-11-26". A memory that cannot be written is none.
void remember(const Book& book, const Verification& verified, const std::string& day);

/// The frames that carried a mark when the book was verified here; nothing where that cannot be read.
std::optional<std::vector<std::string>> remembered_carriers(const std::string& book_id, const Mark& mark);

/// A book as this machine knows it.
enum class Standing {
  unverified,  ///< never verified here
  verified,    ///< goes on from what was verified
  older_copy   ///< ends before what was verified, or has another entry in its place
};

}  // namespace seamwright::book
