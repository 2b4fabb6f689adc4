// SPDX-License-Identifier: GPL-3.0-or-later
// A small invented shop for the tests of the book.
#pragma once

#include <sqlite3.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "catalog/book/demo_book.h"
#include "catalog/book/records/names.h"
#include "catalog/book/store/stores.h"
#include "catalog/book/verify.h"
#include "engine/evidence/evidence.h"
#include "tests/catalog/book/fixed_bytes.h"

namespace seamwright::book {

inline const char* const noon = "2026-11-26T12:00:00Z";
inline const char* const today = "2026-11-26";

struct Folder {
  std::string path;
  Folder() {
    char name[] = "/tmp/seamwright-book-XXXXXX";
    path = ::mkdtemp(name);
  }
  ~Folder() { std::filesystem::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string book() const { return path + "/shop.book"; }
};

/// A copy of the demonstration's book. Writing it rates a whole frame, so all tests share one, kept beside
/// their program and made anew after every build, with fixed keys and salts.
inline void copy_demo(const std::string& path) {
  namespace fs = std::filesystem;
  const fs::path program = fs::read_symlink("/proc/self/exe"), kept = program.string() + ".demo";
  if (!fs::exists(kept) || fs::last_write_time(kept) < fs::last_write_time(program)) {
    const Folder f;
    const FixedBytes fixed;
    const std::string fresh = kept.string() + std::to_string(::getpid());
    write_demo(f.book(), "test");
    Book::open(f.book()).copy_to(fresh);  // one file, whatever the store keeps beside it
    fs::rename(fresh, kept);
  }
  fs::copy_file(kept, path);
}

/// Owner O, engineer E, inspector I, welder W; one passphrase.
struct Shop {
  Book book;
  std::unique_ptr<OpenKey> owner, engineer, inspector, welder;
};
inline Shop open_shop(const std::string& path) {
  const std::string secret = "one for all of them";
  Shop s{Book::create(path, "O", "OW", secret, noon), nullptr, nullptr, nullptr, nullptr};
  s.owner = s.book.unlock("O", secret);
  const auto admit = [&](const char* id, const char* role, const Json& details) {
    s.book.admit_person("O", *s.owner, id, id, role, secret, noon, details);
    return s.book.unlock(id, secret);
  };
  s.engineer = admit("E", "engineer", {});
  s.inspector = admit("I", "inspector", {});
  s.welder = admit("W", "welder", {{"name", "planted-marker-of-a-name"}});
  return s;
}

/// SQL from outside, without our settings.
inline void tamper(const std::string& path, const std::string& sql) {
  sqlite3* db = nullptr;
  REQUIRE(sqlite3_open(path.c_str(), &db) == SQLITE_OK);
  char* error = nullptr;
  const int code = sqlite3_exec(db, sql.c_str(), nullptr, nullptr, &error);
  INFO((error ? error : ""));
  CHECK(code == SQLITE_OK);
  sqlite3_free(error);
  sqlite3_close(db);
}

inline bool finds(const std::string& path, MessageId what) {
  for (const Problem& p : verify(Book::open_read(path, Tables::as_they_are)).problems)
    if (p.what == what) return true;
  return false;
}

/// True when verify tells that the rules of today would have refused an entry, by that rule.
inline bool refused(const std::string& path, MessageId rule, std::int64_t seq) {
  for (const Problem& p : verify(Book::open_read(path, Tables::as_they_are)).refused)
    if (p.what == rule && p.seq == seq) return true;
  return false;
}

/// The last entry about a frame, by the tables of the book.
inline std::int64_t last_about(const std::string& path, const std::string& frame) {
  return open_store(path, Access::read)->last_about({mark::frame, frame}, unbounded);
}

/// An entry as another program with a person's key would put it in, past our own checks; derived tables
/// follow. payload: as it is to stand there, JSON or not. Gives its number.
inline std::int64_t force(const std::string& path, const std::string& author, const Signer& key,
                          const std::string& kind, const std::string& payload,
                          const std::string& time = noon) {
  const Book b = Book::open_read(path, Tables::as_they_are);
  const Entry last = *b.last_entry();
  Entry e{last.seq + 1, time, author, kind, {}, last.hash, "", ""};
  e.form = 2;
  e.seen = std::to_string(last.seq) + ":" + last.hash;
  e.payload = read_json(payload);
  const Content content = content_of(kind, e.payload);
  const auto named = content.replaces > 0 ? Book::open_read(path, Tables::as_they_are).record(content.replaces) : std::nullopt;
  e.links = links_of(frames_about(e, named ? &named->entry : nullptr), [&](const std::string& frame) { return last_about(path, frame); });
  e.signature = key.sign(signed_hash(b.id(), e, payload));
  e.hash = entry_hash(b.id(), e, payload);
  {
    const auto store = open_store(path, Access::write);
    Transaction t(*store);
    EntryRow row{e.seq, e.time, e.author, e.kind, payload, e.prev, e.hash, e.signature, e.form, e.seen, e.links};
    store->add(row);
    t.commit();
  }
  Book::open(path, Tables::as_they_are).rebuild();
  return e.seq;
}
inline std::int64_t force(const std::string& path, const std::string& author, const Signer& key,
                          const std::string& kind, const Json& payload, const std::string& time = noon) {
  return force(path, author, key, kind, canonical(payload), time);
}

template <typename Work>
std::string refusal(Work&& work) {
  try {
    work();
  } catch (const Fault& f) {
    return f.what();
  }
  return "";
}

}  // namespace seamwright::book
