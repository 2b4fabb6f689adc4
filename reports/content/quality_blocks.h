// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/book/quality.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Each requirement of ISO 3834 with where its record is kept, and the findings of audits.
Document quality_document(const book::QualityIndex& index);

}  // namespace seamwright::reports
