// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/book/production.h"
#include "catalog/book/quality.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Each requirement of ISO 3834 with where its record is kept, and the findings of audits.
Document quality_document(const book::QualityIndex& index);
/// Procedures beside their next production test piece.
Document production_document(const std::vector<book::ProductionDue>& due, const std::string& today);

}  // namespace seamwright::reports
