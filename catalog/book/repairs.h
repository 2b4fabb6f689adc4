// SPDX-License-Identifier: GPL-3.0-or-later
// Repairs that a frame's nonconformities still ask for.
#pragma once

#include <optional>
#include <string>

#include "catalog/book/book.h"

namespace seamwright::book {

/// The first nonconformity of a weld whose decision is a repair that the book does not have yet; nothing where none is waited for.
std::optional<std::string> asked_repair(const Book& book, const std::string& serial, const std::string& weld);

}  // namespace seamwright::book
