// SPDX-License-Identifier: GPL-3.0-or-later
// A rating predicts a life, holds it against targets, and says what its scatter is made of.
#pragma once

#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The frame's predicted life with its interval, cracked frames of 1000 and the first weld in one sentence.
Message answer_of(const rating::Rating& rating);

/// "590 km to 1300 km"; lives in services.
Cell life_interval(const fatigue::PredictedLife& life, double service_km);
/// So many of 1000 frames crack.
Cell cracked_cell(const fatigue::CrackedShare& cracked);

/// A sentence on what carries when the weld has cracked through.
Message path_sentence(const rating::LoadPath& path);

/// A sentence on how long a crack through the wall takes around the brace; only where growth is known.
Message growth_sentence(const rating::WeldRating& weld);

/// The limit states against their targets; nothing without covered places.
std::vector<Block> limit_state_blocks(const rating::Rating& rating);
/// Facts of the prediction and the limit states; nothing without covered places.
std::vector<Block> prediction_blocks(const rating::Rating& rating);
/// The numbers came about so: medians, load paths, looks, the rider's bounds; nothing without covered places.
std::vector<Block> prediction_notes(const rating::Rating& rating);
/// Design or load model: what of the damage rests on loads that nobody measured; nothing without covered places.
std::vector<Block> load_question_blocks(const rating::Rating& rating);
/// Each source of scatter once, for the governing place; nothing without covered places.
std::vector<Block> budget_blocks(const rating::Rating& rating);

}  // namespace seamwright::reports
