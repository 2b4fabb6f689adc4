// SPDX-License-Identifier: GPL-3.0-or-later
// book.cpp, people.cpp and query.cpp share this: the store behind the door.
#pragma once

#include "catalog/book/book.h"
#include "catalog/book/database.h"
#include "catalog/book/transitions.h"

namespace seamwright::book {

struct Book::Inside {
  Database db;
  std::string id;
  Drawings drawings{};
};

Entry entry_of(const Statement& s);  ///< of "SELECT seq, time, author, kind, payload, prev, hash, signature"
std::optional<Entry> last_entry(const Database& db);
std::optional<Person> person_in(const Database& db, const std::string& id);
/// The entry with what it says; one that is replaced from `end` on counts as not replaced.
std::optional<Record> record_in(const Database& db, std::int64_t seq,
                                std::int64_t end = std::numeric_limits<std::int64_t>::max());

/// Puts an entry in.
void write_entry(Database& db, const Entry& e);
/// Brings the derived tables up to an entry.
void derive(Database& db, const Entry& e);
void derive_all(Database& db);

}  // namespace seamwright::book
