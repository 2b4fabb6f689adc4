// SPDX-License-Identifier: GPL-3.0-or-later
// The first page of a rating says why it came out so, and what would help most; a table says what is in no life at all.
#pragma once

#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Three sentences why, three actions, the one with the largest effect on the governing life first; nothing without covered
/// places.
std::vector<Block> summary_blocks(const rating::Rating& rating);

/// The governing weld's picture stands on a page beside the facts of the prediction, where its joint has a model.
void show_governing(Document& rating_page, const design::Design& design, const rating::Rating& rating);

/// Every place without a rule or with something left out, and every end that something else holds: why, and what closes it.
std::vector<Block> unrated_blocks(const rating::Rating& rating);

}  // namespace seamwright::reports
