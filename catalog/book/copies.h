// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of a book that prove themselves, and one frame's records as a folder that a stranger can check.
#pragma once

#include <string>

#include "catalog/book/verify.h"

namespace seamwright::book {

/// A copy of a book in use, verified, under a name that is free; taken away again when it does not hold.
/// Serves to back up and to restore. Throws Fault "book.exists", "book.copy-fails".
Verification copy_verified(const std::string& from, const std::string& to);

/// Writes proof.json (the entries of a frame and of what stands behind it, with those that admitted their
/// authors), check.py, and the attached files, into a folder that is not there yet. Gives its entries. Throws
/// Fault "book.unknown-frame", "book.exists", "book.read-only".
std::size_t write_proof(const Book& book, const std::string& serial, const std::string& folder);

}  // namespace seamwright::book
