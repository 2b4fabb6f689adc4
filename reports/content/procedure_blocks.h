// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/files/inspection_checks.h"
#include "catalog/files/job_checks.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Notes that have to be said of the items of a check, each once.
std::vector<Message> notes_of(const qualification::Check& check);
/// Cautions of the trade, where the hand is.
Caution trade_cautions();
/// Fit, or the first reason why not.
reports::Answer procedure_answer(const files::ProcedureReport& report);
Document procedure_document(const files::ProcedureReport& report);

Document welders_document(const files::WeldersReport& report);

Document inspection_document(const files::InspectionReport& report);

}  // namespace seamwright::reports
