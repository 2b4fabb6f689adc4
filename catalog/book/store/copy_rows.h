// SPDX-License-Identifier: GPL-3.0-or-later
// A book from a store of one kind into an empty one of another, row by row as it stands.
#pragma once

#include "catalog/book/store/store.h"

namespace seamwright::book {

/// All or nothing, as the book stood at one moment.
void copy_rows(const Store& from, Store& to);

}  // namespace seamwright::book
