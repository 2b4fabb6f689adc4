// SPDX-License-Identifier: GPL-3.0-or-later
// The shop's quality records by ISO 3834 as an index, and the findings of audits.
#pragma once

#include <string>
#include <vector>

#include "catalog/book/book.h"
#include "catalog/book/records/quality_requirements.h"

namespace seamwright::book {

struct QualityRow {
  QualityRequirement of;
  std::string kept, place, reason;  ///< as the shop last stated it; kept "" = not stated
  std::int64_t entries = 0;         ///< of the kinds that hold it
  /// Kept here with entries, or stated to be elsewhere or not to apply, with the place or reason.
  bool is_answered() const;
};
struct AuditFinding {
  std::string id, what, frame, by, on;
  bool acted = false;
  std::string closed_on, closed_by;  ///< "" = open
};
/// A welding coordinator by ISO 14731.
struct Coordinator {
  std::string person, knowledge, on, until;  ///< until "" = no end is stated
  bool acts = true;  ///< admitted, not revoked, and within these days
};
/// All that are named, those who act first. today: "2026-11-26".
std::vector<Coordinator> coordinators_of(const Book& book, const std::string& today);

struct QualityIndex {
  std::string part;  ///< of ISO 3834, "2", "3" or "4"; "" = not stated
  std::vector<QualityRow> rows;
  std::vector<AuditFinding> findings;
  std::vector<Coordinator> coordinators;
  std::vector<std::string> no_examiner;  ///< certificates of welders that name nobody who tested
  bool has_coordinator() const { return !coordinators.empty() && coordinators.front().acts; }
};

/// Reads every entry once.
QualityIndex quality_index(const Book& book, const std::string& today);

}  // namespace seamwright::book
