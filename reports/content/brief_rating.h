// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The rating as it fits a screen: verdict in a sentence, cautions, the worst welds, why, what helps most, and where the rest stands.
Document brief_document(const rating::Rating& rating);

}  // namespace seamwright::reports
