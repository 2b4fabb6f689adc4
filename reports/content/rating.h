// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// A whole rating: verdict, cautions, all welds worst first, why the worst, legs and states, notes.
Document rating_document(const rating::Rating& rating);

/// The chain of one weld's governing site from stress to life. Throws Fault "rating.unknown-weld".
Document explain_document(const rating::Rating& rating, const std::string& weld_id);

}  // namespace seamwright::reports
