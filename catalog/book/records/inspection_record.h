// SPDX-License-Identifier: GPL-3.0-or-later
// An inspection of a weld, and what an inspector leaves to the engineer, as they are recorded.
#pragma once

#include <optional>
#include <string>

#include "catalog/book/book.h"
#include "catalog/book/records/weld_record.h"

namespace seamwright::book {

/// Seen at a weld by one method. What was not told is "" or nothing. As long as something needed is missing the record can be shown; the book
/// refuses it.
struct Inspection {
  std::string frame, weld, method, day;
  bool accepted = false;
  std::string imperfection{};         ///< ISO 6520-1, or "throat"
  std::optional<double> value_mm{};
  std::string tool{}, note{};
};
NewEntry inspection_record(const Inspection& inspection, std::optional<Attachment> file = std::nullopt);

/// The engineer is to decide on a weld: a nonconformity whose id follows from frame, weld and the time ("2026-11-26T12:00:00Z"), so that each has
/// one of its own.
NewEntry left_to_engineer(const std::string& frame, const std::string& weld, const std::string& time, const std::string& what,
                          std::optional<Attachment> file = std::nullopt);

/// A record of any kind from values by names of fields. Throws the Faults of check_payload().
NewEntry record_of_values(const Kind& kind, const Values& values, std::optional<Attachment> file = std::nullopt);

}  // namespace seamwright::book
