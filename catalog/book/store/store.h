// SPDX-License-Identifier: GPL-3.0-or-later
// A book stands on a store: entries that are only added, tables that follow from them, files, sealed keys,
// personal details and drafts. A store keeps and finds; it knows nothing of what an entry means. Each
// function that looks something up is one question, however much is asked at once. All throw the Faults of
// their store: "book.full", "book.busy", "book.read-only", "book.not-a-book", "book.sql".
#pragma once

#include <functional>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "catalog/book/store/rows.h"

namespace seamwright::book {

/// A store is opened to begin a book that is not there yet, to add to one, or to look at one.
enum class Access { create, write, read };

/// The store of a book is in one of these shapes.
struct Form {
  int schema = 0;       ///< as the store states it
  bool newer = false;   ///< written by a newer program
  bool older = false;   ///< lacks tables that this program writes
  bool derived = true;  ///< has all tables that follow from the entries; the first books had not
  std::vector<std::string>
      strange{};  ///< names of tables and the like that are not as this program writes them
};

/// No entry is left out.
inline constexpr std::int64_t unbounded = std::numeric_limits<std::int64_t>::max();

class Store {
 public:
  /// An entry that was asked for, and what replaced it before the bound of the question; 0 = nothing.
  struct FoundEntry {
    std::size_t asked = 0;  ///< place among what was asked
    EntryRow entry;
    std::int64_t replaced_by = 0;
  };

  Store() = default;
  virtual ~Store() = default;
  Store(const Store&) = delete;
  Store& operator=(const Store&) = delete;

  // The store itself.
  virtual Form form() const = 0;
  /// Ids that it bears: one, or it is not the store of a book.
  virtual std::vector<std::string> ids() const = 0;
  /// Says what it finds wrong with what it is kept in; empty when nothing.
  virtual std::string damage() const = 0;
  /// A copy by its own means while it is in use. Throws Fault "book.exists"; nothing half-made stays.
  virtual void copy_to(const std::string& where) const = 0;

  // All or nothing: see Transaction. Everything below that changes something is called within one.
  virtual void begin() = 0;
  virtual void commit() = 0;
  virtual void roll_back() noexcept = 0;
  /// Reads from one moment of the book until let_go(), whoever writes; false where that is so already.
  virtual bool hold_still() const { return false; }
  virtual void let_go() const noexcept {}
  virtual void set_id(const std::string& id) = 0;
  /// Brings the tables of an older program up to date; true when what follows from the entries is then to be
  /// derived anew.
  virtual bool bring_up_to_date() = 0;

  // Entries, in the order of seq.
  virtual void add(const EntryRow& entry) = 0;
  virtual std::optional<EntryRow> last() const = 0;
  /// Calls visit for every entry until it says false.
  virtual void each_entry(const std::function<bool(EntryRow)>& visit) const = 0;
  /// Those of these numbers that lie before one, by their place among what was asked.
  virtual std::vector<FoundEntry> entries(std::span<const std::int64_t> seqs, std::int64_t before) const = 0;
  /// Those under each of these marks that lie before one, by the mark's place, then by seq. kinds: of these
  /// alone, as the entry itself is called; of all where none is named.
  virtual std::vector<FoundEntry> marked(std::span<const Mark> marks, std::span<const std::string> kinds,
                                         std::int64_t before) const = 0;

  // Tables that follow from the entries.
  virtual std::optional<Person> person(const std::string& id) const = 0;
  virtual std::vector<Person> people() const = 0;     ///< by id
  virtual void put_person(const Person& person) = 0;  ///< in place of who has that id
  virtual void mark(std::span<const Mark> marks, std::int64_t seq) = 0;
  virtual void carry(std::span<const Mark> carried, const std::string& frame) = 0;
  virtual void drop_carried(const std::string& frame) = 0;
  virtual void replace(std::int64_t seq, std::int64_t by) = 0;  ///< the first to replace it stays
  virtual void clear_derived() = 0;                             ///< makes all of them anew, empty
  /// The last entry under a mark, or that replaces one under it, before an entry; 0 = there is none.
  virtual std::int64_t last_about(const Mark& mark, std::int64_t before) const = 0;
  /// All marks of these names that stand before an entry, each once, by name and value.
  virtual std::vector<Mark> marks(std::span<const std::string> names, std::int64_t before) const = 0;
  /// Finds which of these marks stand before an entry, in the order in which they were asked.
  virtual std::vector<Mark> known_marks(std::span<const Mark> marks, std::int64_t before) const = 0;
  virtual std::vector<std::string> frames_with(
      std::span<const Mark> carried) const = 0;                           ///< each once, sorted
  virtual std::vector<Mark> carried(const std::string& frame) const = 0;  ///< sorted
  virtual void each_mark(const std::function<void(const Mark&, std::int64_t seq)>& visit) const = 0;
  virtual void each_carried(
      const std::function<void(const Mark&, const std::string& frame)>& visit) const = 0;
  virtual void each_replaced(const std::function<void(std::int64_t seq, std::int64_t by)>& visit) const = 0;

  // Files, by their SHA-256.
  virtual void keep_file(const std::string& sha256, const std::string& bytes) = 0;
  virtual std::map<std::string, std::string> files(std::span<const std::string> sha256) const = 0;
  virtual std::set<std::string> kept_files(
      std::span<const std::string> sha256) const = 0;  ///< which are there
  virtual void each_file(
      const std::function<void(const std::string& sha256, const std::string& bytes)>& visit) const = 0;

  // These stand beside the chain: sealed keys, personal details, drafts.
  virtual void seal(const std::string& person, const std::string& sealed) = 0;
  virtual std::optional<std::string> sealed_key(const std::string& person) const = 0;
  virtual void each_sealed_key(
      const std::function<void(const std::string& person, const std::string& sealed)>& visit) const = 0;
  virtual void keep_details(const std::string& person, const std::string& salt,
                            const std::string& details) = 0;
  virtual void erase_details(const std::string& person) = 0;
  /// Makes sure after a transaction: nothing of what was erased is left in any log. False while a reader
  /// holds one.
  virtual bool clear_log() = 0;
  virtual std::optional<std::string> details(const std::string& person) const = 0;
  /// Salt and details, joined.
  virtual void each_salted_details(
      const std::function<void(const std::string& person, const std::string& salted)>& visit) const = 0;
  virtual std::int64_t keep_draft(
      const DraftRow& draft) = 0;  ///< gives its number; that of the row is not asked
  virtual std::vector<DraftRow> drafts(const std::string& person) const = 0;  ///< of all, with ""; by number
  virtual bool drop_draft(std::int64_t id) = 0;  ///< false when there is none; also outside a transaction
};

/// All or nothing: rolled back unless committed. Waits its turn where others write.
class Transaction {
 public:
  explicit Transaction(Store& store) : store_(store) { store_.begin(); }
  ~Transaction() {
    if (open_) store_.roll_back();
  }
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  void commit() {
    store_.commit();
    open_ = false;
  }

 private:
  Store& store_;
  bool open_ = true;
};

/// Holds a store still for who reads much of it.
class Still {
 public:
  explicit Still(const Store& store) : store_(store.hold_still() ? &store : nullptr) {}
  ~Still() {
    if (store_) store_->let_go();
  }
  Still(const Still&) = delete;
  Still& operator=(const Still&) = delete;

 private:
  const Store* store_;
};

}  // namespace seamwright::book
