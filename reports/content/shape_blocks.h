// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/models/shape_report.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The frame as solids: what is wrong first, then masses, parts and welds.
Document shape_document(const models::ShapeReport& report);
/// "as planned", "ring in place of the fillet", ...
Message rung_message(shape::Rung rung);

}  // namespace seamwright::reports
