// SPDX-License-Identifier: GPL-3.0-or-later
// The ids that have a sentence, and the search among them, for the compiler and for the program that runs.
#pragma once

#include <cstddef>

#include "engine/evidence/message_ids.h"

namespace seamwright {

/// Byte by byte: negative, 0 or positive. By hand, since a library's comparison takes the compiler three times as long, in every file.
constexpr int compare_ids(const char* a, const char* b) {
  for (; *a != '\0' && *a == *b; ++a) ++b;
  return *a < *b ? -1 : *a > *b ? 1 : 0;
}

/// The id as it stands in the list; null when no sentence has it.
constexpr const char* listed_id(const char* id) {
  std::size_t first = 0, last = sizeof message_ids / sizeof *message_ids;
  while (first < last) {
    const std::size_t middle = (first + last) / 2;
    const int side = compare_ids(message_ids[middle], id);
    if (side == 0) return message_ids[middle];
    (side < 0 ? first : last) = side < 0 ? middle + 1 : middle;
  }
  return nullptr;
}

}  // namespace seamwright
