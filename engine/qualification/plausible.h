// SPDX-License-Identifier: GPL-3.0-or-later
// Finds statements of a procedure and its record that cannot be, as they contradict themselves or a
// definition, and those that lie outside the usual.
#pragma once

#include "engine/procedure/carbon.h"
#include "engine/qualification/stated_procedure.h"

namespace seamwright::qualification {

/// One item for each thing looked at, with the usual range in `covered` and where it comes from. A
/// contradiction (interpass below preheat, an active gas for TIG, a steel outside the definition of its
/// group, a record older than the text it is said to follow) is "no"; what is only unusual (current for the
/// wall, voltage, travel speed, polarity, an unread gas) is "cannot decide": an engineer must look. What is
/// not stated is not looked at: missing_items() names it. record and steel may be null.
Check plausibility(const Sheet& sheet, const Record* record, const procedure::Chemistry* steel);

}  // namespace seamwright::qualification
