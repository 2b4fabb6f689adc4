// SPDX-License-Identifier: GPL-3.0-or-later
// These files set up a server for a book, for its keeper; none holds a password.
#pragma once

#include <string>
#include <vector>

#include "catalog/book/store/postgres_store.h"

namespace seamwright::book {

/// Kept beside the store, of whose tables they speak.
const std::vector<StoreFile>& setup_files();
/// schema.sql, roles.sql, account.sql, certificate.sh, services.conf, in that order.
std::vector<StoreFile> server_setup_files();
/// Writes them to a new folder. Throws Fault "book.exists", "book.read-only".
void write_server_setup(const std::string& folder);

}  // namespace seamwright::book
