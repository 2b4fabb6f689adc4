// SPDX-License-Identifier: GPL-3.0-or-later
// Hardness of the heat-affected zone as a procedure's record measured it, and as formulas foretell it.
#pragma once

#include "engine/qualification/stated_procedure.h"

namespace seamwright::qualification {

/// Judges hardness against the limit of the groups of both parts (ISO 15614-1, Table 3; the lower). What was
/// measured decides: above the limit is outside. Without values nothing is decided, whatever the formulas
/// foretell and whatever the record claims; nor without a foretold value, because then nobody knows how far
/// the procedure's lowest heat and thickest wall lie from the test piece. Group 1.1 up to 275 MPa on both
/// sides is not asked for it [from memory]. foretold_hv10: nothing where the chemistry, a heat or a wall is
/// not stated.
Item hardness_item(const Sheet& sheet, const Record* record, const std::optional<double>& foretold_hv10);

}  // namespace seamwright::qualification
