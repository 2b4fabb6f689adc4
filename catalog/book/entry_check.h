// SPDX-License-Identifier: GPL-3.0-or-later
// An entry is held against its hash, its signature and the role of its author at that place, before anybody sees it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "catalog/book/book.h"

namespace seamwright::book {

class EntryCheck {
 public:
  EntryCheck(const Store& store, std::string book_id) : store_(store), book_id_(std::move(book_id)) {}
  /// Nothing where it holds, else why not: "book.altered", "book.unknown-author", "book.revoked-author", "book.no-role",
  /// "book.bad-signature". The entries that admit its author are checked first. Whether it stands in the chain, only verify() tells.
  std::optional<MessageId> fault_of(const Entry& entry);

 private:
  /// A person before an entry; nobody: role "".
  struct Standing {
    std::string public_key, role;
    bool revoked = false;
  };
  Standing standing_before(const std::string& person, std::int64_t seq);
  /// The entries on a person, in their order.
  const std::vector<Entry>& told_of(const std::string& person, std::int64_t up_to);
  std::optional<MessageId> author_fault(const Entry& entry, const std::string& payload);

  const Store& store_;
  std::string book_id_;
  std::int64_t known_to_ = 0;                           ///< last entry when people were looked up
  std::map<std::string, std::vector<Entry>> people_;    ///< entries on each, in their order
  std::map<std::int64_t, std::string> held_;  ///< hash and signature of each entry whose author was found right
};

}  // namespace seamwright::book
