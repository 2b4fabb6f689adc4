// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/stores.h"

#include <algorithm>
#include <iterator>

#include "catalog/book/store/postgres_store.h"
#include "catalog/book/store/sqlite_store.h"

namespace seamwright::book {

namespace {

struct StoreKind {
  const char* begins;                       // how the name of such a place begins
  bool (*holds)(const std::string& where);  // whether one is there
  std::unique_ptr<Store> (*open)(const std::string& where, Access access);
  void (*remove)(const std::string& where);
};
// The first that fits counts; a plain path comes last.
constexpr StoreKind kinds_of_stores[] = {
    {"postgres:", is_postgres, open_postgres, remove_postgres},
    {"", is_sqlite_file, open_sqlite, remove_sqlite},
};

const StoreKind& kind_of_store(const std::string& where) {
  return *std::find_if(std::begin(kinds_of_stores), std::end(kinds_of_stores),
                       [&](const StoreKind& kind) { return where.starts_with(kind.begins); });
}

}  // namespace

std::unique_ptr<Store> open_store(const std::string& where, Access access) {
  return kind_of_store(where).open(where, access);
}

bool is_path(const std::string& where) { return kind_of_store(where).begins[0] == '\0'; }

bool is_book(const std::string& where) { return kind_of_store(where).holds(where); }

void remove_store(const std::string& where) { kind_of_store(where).remove(where); }

}  // namespace seamwright::book
