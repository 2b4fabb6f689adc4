// SPDX-License-Identifier: GPL-3.0-or-later
// A small invented shop for the tests of the book.
#pragma once

#include <sqlite3.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "catalog/book/verify.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

inline const char* const noon = "2026-11-26T12:00:00Z";

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
    s.book.admit("O", *s.owner, id, id, role, secret, noon, details);
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

inline bool finds(const std::string& path, const std::string& what) {
  for (const Problem& p : verify(Book::open_read(path)).problems)
    if (p.what == what) return true;
  return false;
}

template <typename Work>
std::string refusal(Work&& work) {
  try {
    work();
  } catch (const Fault& f) {
    return f.message.id;
  }
  return "";
}

}  // namespace seamwright::book
