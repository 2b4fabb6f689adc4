// SPDX-License-Identifier: GPL-3.0-or-later
// Sets of instructions that a machine may have or not. The loops in which time is spent are compiled for each, in
// files of their own (engine/cycles/loops.cpp, engine/fatigue/damages.cpp), and the best is taken when they run. All
// do the same arithmetic in the same order and round each time, so that their digits are the same.
#pragma once

#include <vector>

namespace seamwright::machine {

/// Levels of the x86-64 psABI (v3: AVX2); baseline runs everywhere. Wider vectors were tried and were no faster.
enum class Instructions { baseline, v3 };
/// Those that this machine has, the best last.
const std::vector<Instructions>& known_instructions();
inline Instructions best_instructions() { return known_instructions().back(); }

}  // namespace seamwright::machine
