// SPDX-License-Identifier: GPL-3.0-or-later
// No body, tube or weld lies beyond these: one table of limits, each with its reason.
#pragma once

#include <span>
#include <string>

#include "engine/evidence/evidence.h"

namespace seamwright {

/// A limit that nature sets, or a standard below which nothing else of it holds. The reason stands in words
/// under "possible.ID"; source "seamwright" with the clause "geometry", "mechanics" or "common practice"
/// where no standard is behind it.
struct PhysicalLimit {
  const char* id;
  const char* quantity;  ///< what is compared
  double least, most;
  const char* unit;
  const char* source;  ///< key of the bibliography
  const char* clause;
  bool from_memory;
};

std::span<const PhysicalLimit> physical_limits();

/// Throws Fault "possible.ID" (id: of what; found, least, most) unless the value is within the limit; a value
/// within 1e-9 of a bound is. Throws std::logic_error for an id that the table does not have.
void check_possible(const char* limit_id, const std::string& of, double value);

}  // namespace seamwright
