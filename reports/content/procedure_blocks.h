// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/files/inspection_checks.h"
#include "catalog/files/job_checks.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Verdicts in the words of what they judge: a range of qualification, a welder for a weld, an inspected weld.
State range_state(qualification::Answer answer);
State welder_state(qualification::Answer answer);
State judgement_state(inspection::Judgement judgement);
/// Notes that have to be said of the items of a check, each once.
std::vector<Message> notes_of(const qualification::Check& check);
/// Cautions of the trade, where the hand is.
Caution trade_cautions();
/// The verdict on the procedure, with the first reason where it is not within the range.
reports::Answer procedure_answer(const files::ProcedureReport& report);
Document procedure_document(const files::ProcedureReport& report);

Document welders_document(const files::WeldersReport& report);

Document inspection_document(const files::InspectionReport& report);

}  // namespace seamwright::reports
