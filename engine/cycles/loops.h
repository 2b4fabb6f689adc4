// SPDX-License-Identifier: GPL-3.0-or-later
// The loops in which counting spends its time, compiled for each set of instructions.
#pragma once

#include <cstddef>
#include <span>

#include "engine/machine/instructions.h"

namespace seamwright::cycles {

using machine::Instructions;

/// Rows of numbers end at a multiple of this, so that loops need no rest.
inline constexpr std::size_t row_step = 8;
constexpr std::size_t padded(std::size_t samples) { return (samples + row_step - 1) / row_step * row_step; }

/// Weights of four sums over the same parts: weights[4 k + i] is that of part k in sum i.
inline constexpr std::size_t sums_together = 4;
struct Sums {
  const double* offset = nullptr;  ///< of each of the four
  const double* weights = nullptr;
  std::size_t parts = 0;
};
/// out[i][t] = offset[i] + sum over k of weights[4 k + i] parts[k][t] for `samples` columns; rows of both are `stride`
/// apart and padded.
void add_up(Instructions instructions, const Sums& sums, const double* parts, std::size_t stride, std::size_t samples,
            double* out);

/// Turning points of samples[1..] as TurningPoints finds them without a gate: writes each settled point to out,
/// which has room for `size` and four more, and returns how many there are. samples[0] is the last sample before;
/// `rising` is its direction, and becomes the last one's.
std::size_t settle(Instructions instructions, const double* samples, std::size_t size, bool& rising, double* out);

/// Takes cycles out of alternating turning points: of four in a row the inner two, where their range is no larger
/// than that before and smaller than that after. Writes their ends to from and to, the other points to left (all
/// with room for `size` and four more). What is left counts as the whole did: the four-point rule gives the same
/// cycles in whatever order they are taken out.
struct Taken {
  std::size_t cycles = 0, left = 0;
};
Taken take_inner(Instructions instructions, const double* points, std::size_t size, double* left, double* from,
                 double* to);

/// True when every number is finite and its size below the bound, a power of two.
bool all_below(std::span<const double> numbers, double bound);

}  // namespace seamwright::cycles
