// SPDX-License-Identifier: GPL-3.0-or-later
// The shop's record book: entries that are only ever added, each hashed over the one before and signed by its
// author. Nothing here knows SQL, so that another store can stand behind the same functions. Every function
// throws the Faults of the store: "book.full", "book.busy", "book.read-only", "book.not-a-book", "book.sql".
#pragma once

#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "catalog/book/canonical.h"
#include "catalog/book/keys.h"
#include "catalog/book/kinds.h"

namespace seamwright::book {

struct Entry {
  std::int64_t seq = 0;
  std::string time;    ///< UTC, "2026-11-26T18:00:00Z"; order is seq, never time
  std::string author;  ///< id of a person
  std::string kind;
  Json payload;
  std::string prev, hash, signature;
  std::string written = {};  ///< payload as it stands in the store; empty for what was not read from there
};

/// These bytes are hashed: "seamwright-entry-1\n" and the RFC 8785 form of {book, schema, seq, time, author,
/// kind, payload, prev}.
std::string entry_hash(const std::string& book_id, const Entry& entry);
/// The same with the payload's canonical form at hand.
std::string entry_hash(const std::string& book_id, const Entry& entry, const std::string& canonical_payload);

/// A person of the book, as its entries tell.
struct Person {
  std::string id, stamp, role, public_key;
  std::int64_t from = 0, revoked = 0;  ///< seq; 0 = not revoked
};

/// Largest file that is kept with an entry, bytes.
inline constexpr std::size_t largest_attachment = 32u << 20;

struct Attachment {
  std::string name, bytes;
};

/// An entry that is to be recorded; a file comes into the payload as {sha256, name} under "file".
struct New {
  std::string kind;
  Json payload;
  std::optional<Attachment> file = std::nullopt;
};

/// An entry with what it says in the end and whether a later one replaced it.
struct Record {
  Entry entry;
  std::string kind;  ///< of a correction: the kind that it corrects
  Json content;
  std::int64_t replaces = 0, replaced_by = 0;  ///< seq; 0 = none
  bool malformed = false;                      ///< signed, but not in the shape of its kind: content is empty
  bool current() const { return replaced_by == 0 && kind != "void"; }
  /// A text of the content; empty where there is none.
  std::string word(const char* key) const;
};

struct Draft {
  std::int64_t id = 0;
  std::string person, time, kind;
  Json payload;
};

/// Short hash of drafts as they were shown.
std::string digest_of(const std::vector<Draft>& drafts);

/// A file whose tables are not as this program writes them is opened only to look what is wrong, to copy it,
/// or to make its derived tables anew.
enum class Tables { as_written, as_they_are };

class Book {
 public:
  ~Book();
  Book(Book&&) noexcept;
  /// A new book with its owner as first entry. Throws Fault "book.exists", "book.weak-passphrase" and those
  /// of the file.
  static Book create(const std::string& path, const std::string& owner, const std::string& stamp,
                     const std::string& passphrase, const std::string& time);
  /// Opens a book to add entries; brings a file of an older schema up to date, all or nothing. Throws Fault
  /// "book.strange-table" where a table, index or trigger is not as this program writes it.
  static Book open(const std::string& path, Tables tables = Tables::as_written);
  static Book open_read(const std::string& path, Tables tables = Tables::as_written);  ///< for anyone
  /// The same book as it stood before an entry: record(), find(), current(), carried(), names_of() and
  /// values_of() end there. Shares the store; only to look.
  Book before(std::int64_t seq) const;

  std::string id() const;
  int schema() const;
  /// Names of tables, indices and triggers that are not as this program writes them for the file's schema.
  std::vector<std::string> strange_tables() const;
  std::optional<Entry> last() const;
  std::string head() const;  ///< "12:ab34...": seq and hash of the last entry
  /// Calls take for every entry in order until it says false.
  void each(const std::function<bool(const Entry&)>& take) const;

  // People and keys.
  std::optional<Person> person(const std::string& id) const;
  std::vector<Person> people() const;  ///< by id
  /// Throws Fault "book.unknown-person", "book.wrong-passphrase".
  std::unique_ptr<OpenKey> unlock(const std::string& person, const std::string& passphrase) const;
  /// The sealed key of a person, to be opened elsewhere. Throws Fault "book.unknown-person".
  std::string sealed_key(const std::string& person) const;
  /// Admits a person: their keys are made and sealed, and an entry names them. Details (name, address) stand
  /// apart; the entry holds their salted hash.
  Entry admit(const std::string& owner, const Signer& key, const std::string& id, const std::string& stamp,
              const std::string& role, const std::string& passphrase, const std::string& time,
              const Json& details = {});
  /// The same key under another passphrase; no entry, as nothing that is checked changes.
  void change_passphrase(const std::string& person, const OpenKey& key, const std::string& passphrase);
  /// New keys for a person whose passphrase is lost, from this entry on.
  Entry renew_key(const std::string& owner, const Signer& key, const std::string& id,
                  const std::string& passphrase, const std::string& time);
  /// Personal details leave the file; the entry that held their hash stays. Throws Fault "book.log-in-use"
  /// when they are out of the book but a reader keeps its log from being cleared: to be said again.
  Entry erase(const std::string& owner, const Signer& key, const std::string& id, const std::string& time);
  std::optional<Json> details(const std::string& person) const;

  // Adding.
  /// Adds one signed entry, durable when this returns. Throws Fault "book.role" when the author may not sign
  /// it, "book.unknown-person", "book.revoked", those of check_payload(), "book.no-such-entry",
  /// "book.corrected-already", "book.attachment-missing", and those of broken_rules(); the book is then as it
  /// was. What the rules ask and the entry itself are one transaction.
  Entry append(const std::string& author, const Signer& key, const std::string& kind, const Json& payload,
               const std::string& time);
  /// The same with an entry that is made from what the book says once nobody else can write.
  Entry append_made(const std::string& author, const Signer& key, const std::function<New(const Book&)>& make,
                    const std::string& time);
  /// All or nothing. A fault has the place among them as argument "item".
  std::vector<Entry> append_all(const std::string& author, const Signer& key, const std::vector<New>& all,
                                const std::string& time);
  /// Kept unsigned for a person until they sign; checked like an entry. Gives its number.
  std::int64_t keep_draft(const std::string& person, const New& what, const std::string& time);
  std::vector<Draft> drafts(const std::string& person) const;  ///< of all, with ""
  bool drop_draft(std::int64_t id);                            ///< false when there is none
  /// Signs all drafts of a person, in their order, all or nothing. seen: digest_of() what they were shown;
  /// throws Fault "book.drafts-changed" when that is no longer what waits.
  std::vector<Entry> sign_drafts(const std::string& person, const Signer& key, const std::string& seen,
                                 const std::string& time);

  // Looking things up.
  std::optional<Record> record(std::int64_t seq) const;
  std::vector<Record> find(const Mark& mark) const;  ///< by seq
  /// Those of one kind that no later entry replaced.
  std::vector<Record> current(const Mark& mark, const std::string& kind) const;
  /// Names under which a value is known: "frame", "heat", "lot", ...
  std::vector<std::string> names_of(const std::string& value) const;
  std::vector<std::string> values_of(const std::string& name) const;  ///< all marks of a name, sorted
  std::vector<std::string> frames_with(const Mark& carried) const;    ///< serials, sorted
  std::vector<Mark> carried(const std::string& frame) const;
  std::optional<std::string> attachment(const std::string& sha256) const;
  void each_attachment(
      const std::function<void(const std::string& sha256, const std::string& bytes)>& take) const;
  void each_mark(const std::function<void(const Mark&, std::int64_t seq)>& take) const;
  void each_carried(const std::function<void(const Mark&, const std::string& frame)>& take) const;
  void each_replaced(const std::function<void(std::int64_t seq, std::int64_t by)>& take) const;
  void each_sealed_key(
      const std::function<void(const std::string& person, const std::string& sealed)>& take) const;
  void each_salted_details(
      const std::function<void(const std::string& person, const std::string& salted)>& take) const;
  std::int64_t count_ids() const;  ///< rows that name the book: one
  /// Says what SQLite itself finds wrong with the file; empty when nothing.
  std::string damage() const;

  /// Makes the derived tables anew from the entries. Throws Fault "book.strange-table" where another table is
  /// not as this program writes it; the file is then as it was.
  void rebuild();
  /// A copy by the store's own means while the book is in use; to a file that is not there yet.
  void copy_to(const std::string& path) const;

 private:
  struct Inside;
  explicit Book(std::shared_ptr<Inside> inside);
  Entry add(const std::string& author, const Signer& key, const New& what, const std::string& time);
  std::shared_ptr<Inside> inside_;
  std::int64_t end_ = std::numeric_limits<std::int64_t>::max();  ///< entries from here on are not seen
};

}  // namespace seamwright::book
