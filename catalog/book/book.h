// SPDX-License-Identifier: GPL-3.0-or-later
// The shop's record book: entries that are only ever added, each hashed over the one before and signed by its
// author. Nothing here knows SQL, so that another store can stand behind the same functions.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "catalog/book/canonical.h"
#include "catalog/book/keys.h"

namespace seamwright::book {

struct Entry {
  std::int64_t seq = 0;
  std::string time;    ///< UTC, "2026-11-26T18:00:00Z"; order is seq, never time
  std::string author;  ///< id of a person
  std::string kind;
  Json payload;
  std::string prev, hash, signature;
};

/// What is hashed: "seamwright-entry-1\n" and the RFC 8785 form of {book, schema, seq, time, author, kind,
/// payload, prev}.
std::string entry_hash(const std::string& book_id, const Entry& entry);

/// Who is in the book, as its entries tell: kinds "person" {id, stamp, role, public_key} and "revoke" {id}.
struct Person {
  std::string id, stamp, role, public_key;
  std::int64_t from = 0, revoked = 0;  ///< seq; 0 = not revoked
};
/// "welder", "engineer", "inspector", "auditor", "owner": whether a role may sign a kind of entry.
bool may_sign(const std::string& role, const std::string& kind);

class Book {
 public:
  ~Book();
  Book(Book&&) noexcept;
  /// A new book with its owner as first entry. Throws Fault "book.exists", "book.weak-passphrase" and those
  /// of the file.
  static Book create(const std::string& path, const std::string& owner, const std::string& stamp,
                     const std::string& passphrase, const std::string& time);
  static Book open(const std::string& path);       ///< to add entries
  static Book open_read(const std::string& path);  ///< for anyone

  std::string id() const;
  std::optional<Entry> last() const;
  /// Calls take for every entry in order until it says false.
  void each(const std::function<bool(const Entry&)>& take) const;
  std::optional<Person> person(const std::string& id) const;
  std::vector<Person> people() const;  ///< by id
  /// Throws Fault "book.unknown-person", "book.wrong-passphrase".
  std::unique_ptr<OpenKey> unlock(const std::string& person, const std::string& passphrase) const;

  /// Adds one signed entry, durable when this returns. Throws Fault "book.role" when the author may not sign
  /// it, "book.unknown-person", "book.revoked", and the file's own; the book is then as it was.
  Entry append(const std::string& author, const OpenKey& key, const std::string& kind, const Json& payload,
               const std::string& time, const std::string& sealed_key = {});
  /// Admits a person: their keys are made and sealed, and an entry names them.
  Entry admit(const std::string& owner, const OpenKey& key, const std::string& id, const std::string& stamp,
              const std::string& role, const std::string& passphrase, const std::string& time);

 private:
  struct Inside;
  explicit Book(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

/// Everything that does not hold, entry by entry; empty where all does. A head is what was once printed:
/// "12:ab34..." (seq and hash, or its first figures).
struct Problem {
  std::int64_t seq = 0;
  std::string what;  ///< message id: "book.gap", "book.broken-chain", "book.altered", "book.bad-signature",
                     ///< "book.no-role", ...
};
struct Verified {
  std::vector<Problem> problems;
  std::int64_t entries = 0,
               backwards = 0;  ///< backwards: entries whose time lies before the one before; told, not wrong
  std::string head;            ///< "12:ab34cd..."
};
Verified verify(const Book& book, const std::string& known_head = {});

}  // namespace seamwright::book
