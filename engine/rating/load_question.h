// SPDX-License-Identifier: GPL-3.0-or-later
// Design or load model? How much of the governing damage rests on loads that nobody measured, and which of them to
// measure first.
#pragma once

#include "engine/rating/rate.h"

namespace seamwright::rating {

/// The first weld answers, whose place is given. Roads with a recorded profile count as measured; roads by class, manoeuvres,
/// obstacles, pedalling and loading do not.
LoadQuestion load_question_of(const Job& job, const Rating& rating, const fatigue::Place& place);

}  // namespace seamwright::rating
