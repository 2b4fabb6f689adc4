// SPDX-License-Identifier: GPL-3.0-or-later
// Pages on test pieces to weld, and on signatures that are due.
#pragma once

#include "catalog/files/test_piece_plan.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

Document test_piece_document(const files::TestPieceReport& report);

/// The signatures due of a day.
struct DueReport {
  std::string day;
  std::vector<files::DueRow> rows;
};
Document due_document(const DueReport& report);

}  // namespace seamwright::reports
