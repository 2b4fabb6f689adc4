// SPDX-License-Identifier: GPL-3.0-or-later
// An attacker can write the file and has no key: games with its tables, its version, its keys.
#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "catalog/book/copies.h"
#include "catalog/book/records.h"
#include "catalog/book/store/sqlite_schema.h"
#include "catalog/book/verified_memory.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

struct Attacked {
  Folder folder;
  std::string saved = folder.path + "/saved";
  Attacked() {
    Shop s = open_shop(folder.book());
    s.book.append_all("I", *s.inspector,
                      {{"lot", {{"id", "L1"}, {"heat", "H1"}}, Attachment{"c.txt", "3.1"}}}, noon);
    s.book.append("E", *s.engineer, "frame", {{"serial", "F1"}, {"design", "D"}, {"revision", "1"}}, noon);
    s.book.append("W", *s.welder, "weld", {{"frame", "F1"}, {"weld", "W1"}, {"lots", {"L1"}}}, noon);
    s.book.copy_to(saved);
  }
  /// A fresh copy of the book, changed.
  std::string changed(const std::string& sql) const {
    const std::string path = folder.path + "/changed";
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path + end);
    Book::open_read(saved).copy_to(path);
    tamper(path, sql);
    return path;
  }
};

bool tells(const std::string& path, MessageId what, const std::string& name) {
  const Verification v = verify(Book::open_read(path, Tables::as_they_are));
  return std::any_of(v.problems.begin(), v.problems.end(), [&](const Problem& p) {
    return p.what == what && !p.with.empty() && p.with[0].value == std::variant<double, std::string>(name);
  });
}

// A table that says the same to who reads it row by row, and nothing to who asks for a value.
constexpr const char* keyless =
    "ALTER TABLE carried RENAME TO old; CREATE TABLE carried(name, value, frame); INSERT INTO carried SELECT "
    "name, "
    "CAST(value AS BLOB), frame FROM old; DROP TABLE old; CREATE INDEX carried_frame ON carried(frame)";

}  // namespace

TEST_CASE("a version that the file only claims hides nothing") {
  const Attacked a;
  const auto claims = [&](const std::string& sql, MessageId what) {
    const std::string path = a.changed(sql + "; PRAGMA user_version = 1");
    INFO(sql);
    CHECK(tells(path, "book.strange-object", "mark"));
    CHECK(finds(path, what));
    CHECK(refusal([&] { Book::open_read(path); }) == "book.strange-table");
    CHECK(refusal([&] { Book::open(path); }) == "book.strange-table");
    CHECK(refusal([&] { copy_verified(path, a.folder.path + "/copy"); }) == "book.copy-fails");
  };
  claims("SELECT 1", "book.strange-object");
  claims("DELETE FROM carried", "book.derived-differs");
  claims("DELETE FROM mark", "book.derived-differs");
  claims("UPDATE attachment SET bytes = X'00'", "book.attachment-differs");
  claims("UPDATE personal SET details = '{}'", "book.details-differ");
  for (const char* version : {"0", "-1"})
    CHECK(finds(a.changed(std::string("PRAGMA user_version = ") + version), "book.strange-object"));
  // A book without the tables of schema 2 that says 1 has lost its files, and says so.
  const std::string bare = a.changed(
      "DROP TABLE replaced; DROP TABLE carried; DROP TABLE mark; DROP TABLE draft; DROP TABLE personal; DROP "
      "TABLE "
      "attachment; PRAGMA user_version = 1");
  CHECK(finds(bare, "book.attachment-lost"));
  CHECK(finds(bare, "book.details-differ"));
  // A newer program's right to add is no licence for what is known.
  CHECK(tells(a.changed(std::string(keyless) + "; PRAGMA user_version = 99"), "book.strange-object",
              "carried"));
  CHECK(
      refusal([&] { Book::open_read(a.changed("CREATE TABLE more(a); PRAGMA user_version = " + std::to_string(newest_schema + 1))); }).empty());
}

TEST_CASE("every table, index and trigger is the one that this program writes") {
  const Attacked a;
  const auto strange = [&](const std::string& sql, const std::string& name) {
    const std::string path = a.changed(sql);
    INFO(sql);
    CHECK(tells(path, "book.strange-object", name));
    CHECK(refusal([&] {
            recall(Book::open_read(path), {"lot", "L1"}, "2026-11-26");
          }) == "book.strange-table");
  };
  strange(keyless, "carried");
  strange("DROP INDEX carried_frame", "carried_frame");
  strange("CREATE INDEX entry_kind ON entry(kind)", "entry_kind");
  strange("CREATE TRIGGER t AFTER INSERT ON entry BEGIN DELETE FROM carried; END", "t");
  strange("CREATE VIEW v AS SELECT 1", "v");
  strange("CREATE TABLE more(a)", "more");
  strange("ALTER TABLE entry ADD COLUMN more TEXT", "entry");
  strange("DROP TABLE draft", "draft");
  strange(
      "PRAGMA writable_schema = ON; UPDATE sqlite_schema SET sql = replace(sql, 'value TEXT NOT NULL', "
      "'value "
      "TEXT NOT NULL COLLATE NOCASE') WHERE name = 'mark'",
      "mark");
  CHECK(tells(a.changed("INSERT INTO book VALUES('second')"), "book.strange-object", "book"));
  CHECK(verify(Book::open_read(a.changed("SELECT 1"))).problems.empty());
}

TEST_CASE("derived tables made anew show again what the entries say") {
  const Attacked a;
  for (const std::string& sql : {std::string(keyless), std::string("DROP TABLE mark"),
                                 std::string("DELETE FROM carried; PRAGMA user_version = 1")}) {
    const std::string path = a.changed(sql);
    Book::open(path, Tables::as_they_are).rebuild();
    CHECK(recall(Book::open_read(path), {"lot", "L1"}, "2026-11-26").size() == 1);
    CHECK(verify(Book::open_read(path)).problems.empty());
  }
  // A table that holds more than follows from the entries is not made up.
  const std::string lost = a.changed("DROP TABLE attachment");
  CHECK(refusal([&] { Book::open(lost, Tables::as_they_are).rebuild(); }) == "book.strange-table");
}

TEST_CASE("a sealed key in another's place shows without any passphrase") {
  const Attacked a;
  const auto differs = [&](const std::string& sql, MessageId what) {
    INFO(sql);
    CHECK(finds(a.changed(sql), what));
  };
  differs(
      "UPDATE sealed_key SET sealed = (SELECT sealed FROM sealed_key WHERE person = 'O') WHERE person = 'W'",
      "book.sealed-key-differs");
  differs("UPDATE sealed_key SET sealed = 'ff' || substr(sealed, 3) WHERE person = 'W'",
          "book.sealed-key-differs");
  differs("UPDATE sealed_key SET sealed = '' WHERE person = 'W'", "book.sealed-key-differs");
  differs("INSERT INTO sealed_key SELECT 'X', sealed FROM sealed_key WHERE person = 'O'",
          "book.sealed-key-differs");
  differs("DELETE FROM sealed_key WHERE person = 'W'", "book.sealed-key-lost");
  differs("INSERT INTO personal VALUES('X', 'a', '{}')", "book.details-differ");
  // Sealed by an older program: told, opens, and is proven once the passphrase changes.
  const std::string path =
      a.changed("UPDATE sealed_key SET sealed = substr(sealed, 1, 240) WHERE person = 'W'");
  CHECK(refused(path, "rule.unproven-key", 0));
  Book b = Book::open(path);
  b.change_passphrase("W", *b.unlock("W", "one for all of them"), "another for all");
  CHECK_FALSE(refused(path, "rule.unproven-key", 0));
  CHECK(verify(b).problems.empty());
}

TEST_CASE("what this machine verified once it does not forget: a last entry left out, a frame left out, an older copy") {
  const Attacked a;
  const std::string state = a.folder.path + "/state";
  const char* const before = std::getenv("XDG_STATE_HOME");
  const std::string kept = before ? before : "";
  ::setenv("XDG_STATE_HOME", state.c_str(), 1);
  {
    const Book saved = Book::open_read(a.saved, Tables::as_they_are);
    CHECK(standing_of(saved) == Standing::unverified);
    remember(saved, verify(saved), today);
  }
  CHECK(standing_of(Book::open_read(a.saved)) == Standing::verified);
  const auto traced = [](const std::string& path) { return refusal([&] { (void)trace(Book::open_read(path), "F1"); }); };
  const auto recalled = [](const std::string& path) { return refusal([&] { (void)recall(Book::open_read(path), {"heat", "H1"}, today); }); };
  CHECK(traced(a.saved).empty());
  CHECK(recalled(a.saved).empty());
  // The weld is the last entry on its frame: no link leads to it.
  CHECK(traced(a.changed("DELETE FROM mark WHERE name = 'frame' AND seq = (SELECT max(seq) FROM entry)")) == "book.left-out");
  CHECK(recalled(a.changed("DELETE FROM carried WHERE name = 'lot'")) == "recall.left-out");
  const std::string older = a.changed(
      "DELETE FROM mark WHERE seq = 7; DELETE FROM carried; DELETE FROM statement WHERE seq = 7; DELETE FROM entry WHERE seq = 7");
  CHECK(standing_of(Book::open_read(older)) == Standing::older_copy);
  CHECK(finds(older, "book.older-copy"));
  CHECK(refusal([&] {
          Book b = Book::open(older);
          b.append("O", *b.unlock("O", "one for all of them"), "note", {{"text", "n"}}, noon);
        }) == "book.older-copy-closed");
  // A book that goes on from there is known as such; a frame that has since lost what it carried is no fault.
  Book grows = Book::open(a.saved);
  const auto welder = grows.unlock("W", "one for all of them");
  grows.append("W", *welder, "void", {{"of", 7}, {"reason", "r"}}, noon);
  CHECK(standing_of(grows) == Standing::verified);
  CHECK(traced(a.saved).empty());
  CHECK(recalled(a.saved).empty());
  // A memory that cannot be read is none.
  for (const auto& file : std::filesystem::recursive_directory_iterator(state))
    if (file.is_regular_file()) std::filesystem::resize_file(file.path(), 9);
  CHECK(standing_of(Book::open_read(a.saved)) == Standing::unverified);
  if (before)
    ::setenv("XDG_STATE_HOME", kept.c_str(), 1);
  else
    ::unsetenv("XDG_STATE_HOME");
}
