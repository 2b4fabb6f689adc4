// SPDX-License-Identifier: GPL-3.0-or-later
// The shop's record book: entries that are only ever added, each hashed over the one before and signed by its
// author. It stands on a store (store/store.h) and knows nothing of what that is kept in. Every function
// throws the Faults of the store: "book.full", "book.busy", "book.read-only", "book.not-a-book", "book.sql".
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "catalog/book/canonical.h"
#include "catalog/book/keys.h"
#include "catalog/book/records/kinds.h"
#include "catalog/book/records/payload.h"
#include "catalog/book/store/store.h"
#include "catalog/book/verified_memory.h"

namespace seamwright::book {

struct Entry {
  std::int64_t seq = 0;
  std::string time;    ///< UTC, "2026-11-26T18:00:00Z"; order is seq, never time
  std::string author;  ///< id of a person
  std::string kind;
  Json payload;
  std::string prev, hash, signature;
  std::string written = {};  ///< payload as it stands in the store; empty for what was not read from there
  int form = 1;              ///< 2: the author signed a statement, which was placed here; 1: as older programs wrote
  std::string seen = {};     ///< of form 2: "seq:hash" of the last entry that the author knew
  std::string links = {};    ///< of form 2: RFC 8785 form of {serial: number of the entry before on that frame}
};

/// The author signs this, in hex. Form 2: SHA-256 of "seamwright-statement-2\n" and the RFC 8785 form of {author, book, kind, payload,
/// schema, seen, time}; it does not know its place. Form 1: the entry's hash.
std::string signed_hash(const std::string& book_id, const Entry& entry, const std::string& canonical_payload);
/// The hash of an entry, which the next one names. Form 2: SHA-256 of "seamwright-entry-2\n" and the RFC 8785 form of {links, prev, seq,
/// signature, statement}. Form 1: of "seamwright-entry-1\n" and {author, book, kind, payload, prev, schema, seq, time}.
std::string entry_hash(const std::string& book_id, const Entry& entry, const std::string& canonical_payload);

/// Largest file that is kept with an entry, bytes.
inline constexpr std::size_t largest_attachment = 32u << 20;

struct Attachment {
  std::string name, bytes;
};

/// This is to be recorded; a file comes into the payload as {sha256, name} under "file".
struct NewEntry {
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
  std::string text_of(const char* key) const;
};

/// The frames that an entry is about: those that it names, and those of the entry that it replaces (null: none). Each entry of form 2
/// names the one before on each of them, so that none can be left out of a frame's record unseen.
std::vector<std::string> frames_about(const Entry& entry, const Entry* named);
/// The links of an entry: for each frame the number that last_about says, 0 = none yet.
std::string links_of(const std::vector<std::string>& frames, const std::function<std::int64_t(const std::string&)>& last_about);

struct Draft {
  std::int64_t id = 0;
  std::string person, time, kind;
  Json payload;
};

/// Short hash of drafts as they were shown.
std::string digest_of(const std::vector<Draft>& drafts);

/// This says if a book is opened whose tables are not as this program writes them: only to look what is wrong, to
/// copy it, or to make its derived tables anew.
enum class Tables { as_written, as_they_are };

class Book;
/// A book beside what this machine verified of it earlier.
Standing standing_of(const Book& book);

class Book {
 public:
  ~Book();
  Book(Book&&) noexcept;
  /// A new book with its owner as first entry, in a store that is new and empty. `where`: see open_store().
  /// Throws Fault "book.exists", "book.weak-passphrase" and those of the store.
  static Book create(const std::string& where, const std::string& owner, const std::string& stamp,
                     const std::string& passphrase, const std::string& time);
  static Book create(const std::function<std::unique_ptr<Store>()>& make, const std::string& owner,
                     const std::string& stamp, const std::string& passphrase, const std::string& time);
  /// Opens a book to add entries; brings a book of an older schema up to date, all or nothing. Throws Fault
  /// "book.strange-table" where a table, index or trigger is not as this program writes it.
  static Book open(const std::string& where, Tables tables = Tables::as_written);
  static Book open_read(const std::string& where, Tables tables = Tables::as_written);  ///< for anyone
  /// The book of a store that was opened already, as it stands.
  explicit Book(std::unique_ptr<Store> store);
  /// The same book as it stood before an entry: record(), find(), current(), carried(), names_of() and
  /// values_of() end there. Shares the store; only to look.
  Book before(std::int64_t seq) const;

  std::string id() const;
  /// Tells in what shape its store is.
  Form form() const;
  std::optional<Entry> last_entry() const;
  /// The entry as it stands in the store, unchecked.
  std::optional<Entry> entry_at(std::int64_t seq) const;
  std::string head() const;  ///< "12:ab34...": seq and hash of the last entry
  /// The memory that this machine has of an earlier verification; null where nothing.
  const VerifiedMemory* memory() const;
  /// Throws Fault "book.not-intact" for an entry that does not hold: for what each entry gives, which is not checked by itself.
  void require_intact(const Entry& entry) const;
  /// Calls visit for every entry in order until it says false.
  void for_each_entry(const std::function<bool(const Entry&)>& visit) const;
  /// The same with the entry that a correction names, or one that makes void, wherever that stands; null for
  /// all others, and where it names none.
  void each_with_named(const std::function<bool(const Entry&, const Record* named)>& visit) const;

  // People and keys.
  std::optional<Person> person(const std::string& id) const;
  std::vector<Person> people() const;  ///< by id
  /// Throws Fault "book.unknown-person", "book.wrong-passphrase".
  std::unique_ptr<OpenKey> unlock(const std::string& person, const std::string& passphrase) const;
  /// The sealed key of a person, to be opened elsewhere. Throws Fault "book.unknown-person".
  std::string sealed_key(const std::string& person) const;
  /// Admits a person: their keys are made and sealed, and an entry names them. Details (name, address) stand
  /// apart; the entry holds their salted hash.
  Entry admit_person(const std::string& owner, const Signer& key, const std::string& id,
                     const std::string& stamp, const std::string& role, const std::string& passphrase,
                     const std::string& time, const Json& details = {});
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
  Entry append_made(const std::string& author, const Signer& key,
                    const std::function<NewEntry(const Book&)>& make, const std::string& time);
  /// All or nothing. A fault has the place among them as argument "item".
  std::vector<Entry> append_all(const std::string& author, const Signer& key,
                                const std::vector<NewEntry>& all, const std::string& time);
  /// Kept unsigned for a person until they sign; checked like an entry. Gives its number.
  std::int64_t keep_draft(const std::string& person, const NewEntry& what, const std::string& time);
  std::vector<Draft> drafts(const std::string& person) const;  ///< of all, with ""
  bool drop_draft(std::int64_t id);                            ///< false when there is none
  /// Signs all drafts of a person, in their order, all or nothing. seen: digest_of() what they were shown;
  /// throws Fault "book.drafts-changed" when that is no longer what waits.
  std::vector<Entry> sign_drafts(const std::string& person, const Signer& key, const std::string& seen,
                                 const std::string& time);

  // Looking things up: each is one question to the store, however much is asked at once. Unless the book was opened as it is
  // (Tables::as_they_are), every entry is held against its hash, its signature and its author's role, and the entries on a frame against
  // their links, before any of it is given: Fault "book.not-intact" (seq, why), "book.left-out" (frame, seq).
  std::optional<Record> record(std::int64_t seq) const;
  std::vector<Record> records(const std::vector<std::int64_t>& seqs) const;  ///< in that order
  std::vector<Record> find(const Mark& mark) const;                          ///< by seq
  /// Those of each mark, in the order of the marks.
  std::vector<std::vector<Record>> find_all(const std::vector<Mark>& marks) const;
  /// Those of some kinds that no later entry replaced.
  std::vector<Record> current(const Mark& mark, const std::string& kind) const;
  std::vector<std::vector<Record>> current_all(const std::vector<Mark>& marks,
                                               const std::vector<std::string>& kinds) const;
  /// Names under which a value is known: "frame", "heat", "lot", ...
  std::vector<std::string> names_of(const std::string& value) const;
  std::vector<std::string> values_of(const std::string& name) const;  ///< all marks of a name, sorted
  std::vector<Mark> marks() const;  ///< all, by name as the kinds bring them, then by value
  /// Serials, sorted, of the frames that carry any of these.
  std::vector<std::string> frames_with(const std::vector<Mark>& carried) const;
  std::vector<Mark> carried(const std::string& frame) const;
  std::optional<std::string> attachment(const std::string& sha256) const;
  /// Those that are there, by their SHA-256.
  std::map<std::string, std::string> attachments(const std::vector<std::string>& sha256) const;
  void each_attachment(
      const std::function<void(const std::string& sha256, const std::string& bytes)>& visit) const;
  void each_mark(const std::function<void(const Mark&, std::int64_t seq)>& visit) const;
  void each_carried(const std::function<void(const Mark&, const std::string& frame)>& visit) const;
  void each_replaced(const std::function<void(std::int64_t seq, std::int64_t by)>& visit) const;
  void each_sealed_key(
      const std::function<void(const std::string& person, const std::string& sealed)>& visit) const;
  void each_salted_details(
      const std::function<void(const std::string& person, const std::string& salted)>& visit) const;
  std::size_t count_ids() const;  ///< how often the store names a book: once
  /// Says what the store itself finds wrong; empty when nothing.
  std::string damage() const;

  /// Everything is read from one moment of the book as long as this lives.
  Still still() const;

  /// Makes the derived tables anew from the entries. Throws Fault "book.strange-table" where another table is
  /// not as this program writes it; the book is then as it was.
  void rebuild();
  /// A copy by the store's own means while the book is in use; to where there is none yet.
  void copy_to(const std::string& where) const;

 private:
  struct Inside;
  explicit Book(std::shared_ptr<Inside> inside);
  /// The derived tables of all entries, into empty ones.
  void derive_all();
  Entry add(const std::string& author, const Signer& key, const NewEntry& what, const std::string& time);
  Record record_from(Store::FoundEntry found) const;
  void require_carriers(const std::vector<Mark>& carried, const std::vector<std::string>& now) const;
  void require_none_left_out(const std::string& frame, const std::vector<Record>& all) const;
  std::shared_ptr<Inside> inside_;
  std::int64_t end_ = unbounded;  ///< entries from here on are not seen
};

}  // namespace seamwright::book
