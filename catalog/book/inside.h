// SPDX-License-Identifier: GPL-3.0-or-later
// book.cpp, people.cpp, query.cpp and derive.cpp share this: the store behind the door.
#pragma once

#include "catalog/book/book.h"
#include "catalog/book/entry_check.h"
#include "catalog/book/verified_memory.h"
#include "catalog/book/transitions.h"

namespace seamwright::book {

struct Book::Inside {
  std::unique_ptr<Store> store;
  std::string id;
  FrozenDesigns frozen_designs{};
  std::optional<VerifiedMemory> memory{};  ///< of an earlier verification on this machine
  std::unique_ptr<EntryCheck> check{};  ///< null where a book is only looked at to be verified, copied or rebuilt
};

Entry entry_of(EntryRow row);
EntryRow row_of(const Entry& entry);
/// An entry with what it says. What is not in the shape of its kind says nothing that could be relied on: its
/// content stays empty.
Record record_of(Entry entry, std::int64_t replaced_by);

/// Brings the derived tables up to an entry; named: what a correction or a void replaces, null where that is
/// not there.
void derive(Store& store, const Entry& e, const Entry* named);

}  // namespace seamwright::book
