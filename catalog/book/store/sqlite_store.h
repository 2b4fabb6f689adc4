// SPDX-License-Identifier: GPL-3.0-or-later
// A book in one SQLite file. This header and those beside it of that name are for stores.cpp alone.
#pragma once

#include <memory>
#include <string>

#include "catalog/book/store/store.h"

namespace seamwright::book {

std::unique_ptr<Store> open_sqlite(const std::string& path, Access access);
bool is_sqlite_file(const std::string& path);
/// The file with its log.
void remove_sqlite(const std::string& path);

}  // namespace seamwright::book
