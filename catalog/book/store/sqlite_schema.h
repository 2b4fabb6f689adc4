// SPDX-License-Identifier: GPL-3.0-or-later
// The tables of a book, and whether those of a file are these and no others.
#pragma once

#include <string>
#include <vector>

struct sqlite3;

namespace seamwright::book {

/// Schema 1 held entries and people alone; 2 added what the records of a frame need; 3 what makes an entry a placed statement.
inline constexpr int newest_schema = 3;

/// SQL that makes all that schemas `from` to `to` brought.
std::string tables_of(int from, int to);
/// SQL that takes the tables that follow from the entries away and makes them anew, empty.
std::string derived_tables_anew();

/// Tables, indices, triggers and views of a file that are not as this program writes them for the version
/// that the file states: changed, missing or added, by name. Of a newer version only what is known must be as
/// it was. Empty when nothing is strange. Throws Fault "book.sql".
std::vector<std::string> strange_objects(sqlite3* db, int version);

}  // namespace seamwright::book
