// SPDX-License-Identifier: GPL-3.0-or-later
// A store keeps these of a book: plain rows of texts and numbers.
#pragma once

#include <compare>
#include <cstdint>
#include <string>

namespace seamwright::book {

/// An entry as it stands in the store: payload in the form in which it was signed.
struct EntryRow {
  std::int64_t seq = 0;
  std::string time, author, kind, payload, prev, hash, signature;
  int form = 1;             ///< 2: its author signed a statement, which was placed afterwards
  std::string seen, links;  ///< of form 2: the head that its author knew; JSON of where its frames stood last
};

/// A name and a value to be found by: {"heat", "H-7734"}.
struct Mark {
  std::string name, value;
  auto operator<=>(const Mark&) const = default;
};

/// A person of the book, as its entries tell.
struct Person {
  std::string id, stamp, role, public_key;
  std::int64_t from = 0, revoked = 0;  ///< seq; 0 = not revoked
};

/// A draft waits for a signature: payload in canonical form.
struct DraftRow {
  std::int64_t id = 0;
  std::string person, time, kind, payload;
};

}  // namespace seamwright::book
