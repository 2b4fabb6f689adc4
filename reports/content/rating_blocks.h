// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Throws Fault "rating.unknown-weld" with the nearest known.
const rating::WeldRating& rated_weld(const rating::Rating& rating, const std::string& weld);

/// A life that may be shorter, and a damage that may be larger, say so; NaN: not covered.
Cell life_cell(double km, bool at_most);
Cell damage_cell(double damage, bool at_least);

/// Tells what findings did to a weld, each once.
std::vector<Message> as_built_notes(const rating::WeldRating& weld);

/// A whole rating: verdict, cautions, all welds worst first, why the worst, legs and states, notes.
Document rating_document(const rating::Rating& rating);

/// The same with the damages of the second method beside the first, weld by weld, and how far they agree.
/// Every site of a weld by both methods, with their ratio. Throws Fault "rating.unknown-weld".
Document both_weld_document(const rating::Rating& time, const rating::Rating& spectral,
                            const std::string& weld);
/// The same job by several rule sets: lives without factors and with them, and why they differ.
Document rules_document(const std::vector<rating::Rating>& ratings);
/// The same job with rigid joints and with the chord's wall giving way: lives side by side, the verdict on
/// the lower.
Document joints_document(const rating::Rating& rigid, const rating::Rating& flexible);
Document both_document(const rating::Rating& time, const rating::Rating& spectral);

/// All sites of one weld. Throws Fault "rating.unknown-weld" with the nearest known.
Document weld_document(const rating::Rating& rating, const std::string& weld_id);

/// The checks beside a weld's rating, the worst of each kind.
Table checks_table(const rating::WeldRating& weld);

}  // namespace seamwright::reports
