// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cstring>

#include "engine/fatigue/curve.h"

namespace seamwright::fatigue {

namespace {

namespace baseline {
#define SEAMWRIGHT_VECTOR_BYTES 16
#include "engine/fatigue/damages_loop.h"
#undef SEAMWRIGHT_VECTOR_BYTES
}  // namespace baseline

#if defined(__x86_64__) && !defined(__clang__)  // by GCC's pragmas
#pragma GCC push_options
#pragma GCC target("arch=x86-64-v3")
namespace v3 {
#define SEAMWRIGHT_VECTOR_BYTES 32
#include "engine/fatigue/damages_loop.h"
#undef SEAMWRIGHT_VECTOR_BYTES
}  // namespace v3
#pragma GCC pop_options
#endif

std::size_t whole_vectors([[maybe_unused]] machine::Instructions instructions, const std::vector<DamageLaw::Piece>& pieces,
                          double cutoff_mpa, const double* ranges, std::size_t size, double* out) {
  const auto is_whole = [](const DamageLaw::Piece& p) { return p.whole_slope > 0; };
  if (!std::all_of(pieces.begin(), pieces.end(), is_whole)) return 0;
#if defined(__x86_64__) && !defined(__clang__)  // by GCC's pragmas
  if (instructions == machine::Instructions::v3) return v3::damages(pieces, cutoff_mpa, ranges, size, out);
#endif
  return baseline::damages(pieces, cutoff_mpa, ranges, size, out);
}

}  // namespace

void DamageLaw::damages(std::span<const double> ranges, double* out, machine::Instructions instructions) const {
  for (std::size_t i = whole_vectors(instructions, pieces_, cutoff_mpa_, ranges.data(), ranges.size(), out); i < ranges.size(); ++i)
    out[i] = damage(ranges[i]);
}

}  // namespace seamwright::fatigue
