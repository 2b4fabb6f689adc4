// SPDX-License-Identifier: GPL-3.0-or-later
// A book may be kept in one of these stores. `where` is what a person names: the path of a file, or
// "postgres:SERVICE", a section of the connection service file, so that neither host nor password stands on a command line.
#pragma once

#include <memory>
#include <string>

#include "catalog/book/store/store.h"

namespace seamwright::book {

/// Opens the store of that place, whatever kind it is; a new one goes again unless something is committed to
/// it. Throws Fault "book.exists", "book.missing", "book.not-a-book", "book.newer".
std::unique_ptr<Store> open_store(const std::string& where, Access access);

/// True when a place is the path of a file.
bool is_path(const std::string& where);

/// True when what is there looks like the store of a book, without opening it.
bool is_book(const std::string& where);

/// Takes a store away with all that belongs to it; nothing where there is none.
void remove_store(const std::string& where);

}  // namespace seamwright::book
