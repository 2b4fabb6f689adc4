// SPDX-License-Identifier: GPL-3.0-or-later
// A rating as it is recorded: what it was made from, its verdict, and the shortest life.
#pragma once

#include <string>

#include "catalog/book/canonical.h"

namespace seamwright::rating {
struct Rating;
}

namespace seamwright::book {

/// program: its name and version.
Json rating_payload(const rating::Rating& rating, const std::string& program);

}  // namespace seamwright::book
