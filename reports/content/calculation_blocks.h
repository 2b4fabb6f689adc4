// SPDX-License-Identifier: GPL-3.0-or-later
// A weld's rating as an engineer's calculation: formula, values put in, result, source, from the stress to the verdict.
#pragma once

#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Steps of the governing site, where its stress comes from and which loads do the damage, checks beside it; two pages at most. The whole
/// chain stands in JSON. Throws Fault "rating.unknown-weld".
Document calculation_document(const rating::Rating& rating, const std::string& weld);

}  // namespace seamwright::reports
