// SPDX-License-Identifier: GPL-3.0-or-later
// A book on a PostgreSQL server; `where` is "postgres:SERVICE". For stores.cpp alone.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "catalog/book/store/store.h"

namespace seamwright::book {

struct StoreFile {
  std::string name, text;
};
/// postgres_schema.sql, which makes the tables; postgres_objects.sql, which asks what there is; postgres_objects.txt, what there should be.
const std::vector<StoreFile>& postgres_files();

std::unique_ptr<Store> open_postgres(const std::string& where, Access access);
bool is_postgres(const std::string& where);
/// Empties a book that was made a moment ago, by the account that owns its tables.
void remove_postgres(const std::string& where);

}  // namespace seamwright::book
