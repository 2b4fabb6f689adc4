// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/cycles/loops.h"

#include <array>
#include <bit>
#include <cstdint>
#include <cstring>
#if defined(__x86_64__) && !defined(__clang__)  // by GCC's pragmas
#include <immintrin.h>
#endif

namespace seamwright::cycles {

namespace {

namespace baseline {

#define SEAMWRIGHT_VECTOR_BYTES 16
#include "engine/cycles/add_up_loop.h"
#undef SEAMWRIGHT_VECTOR_BYTES

// A point is settled when the next different sample turns back. No branch depends on the samples: noise would
// mispredict every other one.
std::size_t settle(const double* samples, std::size_t size, bool& rising_before, double* out) {
  std::size_t settled = 0;
  double last = samples[0];
  unsigned rising = rising_before ? 1U : 0U;
  for (std::size_t t = 1; t < size; ++t) {
    const double value = samples[t];
    const unsigned up = value > last ? 1U : 0U, down = value < last ? 1U : 0U;
    out[settled] = last;
    settled += (up & ~rising & 1U) | (down & rising);
    rising = up | (rising & ~down);
    last = value;
  }
  rising_before = rising != 0;
  return settled;
}

Taken take_inner(const double* points, std::size_t size, std::size_t first, bool taken_before, Taken done, double* left,
                 double* from, double* to) {
  for (std::size_t i = first; i + 2 < size; ++i) {
    const double a = points[i - 1], b = points[i], c = points[i + 1], d = points[i + 2];
    const bool takes = b < c ? (c <= a) & (d < b) : (c >= a) & (d > b);
    from[done.cycles] = b;
    to[done.cycles] = c;
    left[done.left] = b;
    done.cycles += takes ? 1U : 0U;
    done.left += takes || taken_before ? 0U : 1U;
    taken_before = takes;
  }
  if (!taken_before) left[done.left++] = points[size - 2];
  left[done.left++] = points[size - 1];
  return done;
}

}  // namespace baseline

#if defined(__x86_64__) && !defined(__clang__)  // by GCC's pragmas
#pragma GCC push_options
#pragma GCC target("arch=x86-64-v3")
namespace v3 {

#define SEAMWRIGHT_VECTOR_BYTES 32
#include "engine/cycles/add_up_loop.h"
#undef SEAMWRIGHT_VECTOR_BYTES

// Where the doubles of a set stand as pairs of 32 bits, the chosen ones first.
alignas(32) constexpr auto chosen_first = [] {
  std::array<std::array<int, 8>, 16> all{};
  for (int set = 0; set < 16; ++set) {
    std::size_t to = 0;
    for (int i = 0; i < 4; ++i)
      if ((set >> i & 1) != 0) {
        all[static_cast<std::size_t>(set)][to++] = 2 * i;
        all[static_cast<std::size_t>(set)][to++] = 2 * i + 1;
      }
  }
  return all;
}();

inline std::size_t store_chosen(__m256d values, unsigned set, double* out) {
  const __m256i order = _mm256_load_si256(reinterpret_cast<const __m256i*>(chosen_first[set].data()));
  _mm256_storeu_pd(out, _mm256_castsi256_pd(_mm256_permutevar8x32_epi32(_mm256_castpd_si256(values), order)));
  return static_cast<std::size_t>(std::popcount(set));
}

inline unsigned bits(__m256d compared) { return static_cast<unsigned>(_mm256_movemask_pd(compared)); }

// Four differences at a time, the rest and plateaus one by one.
std::size_t settle(const double* samples, std::size_t size, bool& rising_before, double* out) {
  std::size_t settled = 0, t = 1;
  while (t + 4 <= size) {
    const __m256d last = _mm256_loadu_pd(samples + t - 1), value = _mm256_loadu_pd(samples + t);
    const unsigned up = bits(_mm256_cmp_pd(value, last, _CMP_GT_OQ)), down = bits(_mm256_cmp_pd(value, last, _CMP_LT_OQ));
    if ((up | down) != 15) {
      settled += baseline::settle(samples + t - 1, 5, rising_before, out + settled);
    } else {
      settled += store_chosen(last, (up ^ (up << 1 | (rising_before ? 1U : 0U))) & 15, out + settled);
      rising_before = (up & 8) != 0;
    }
    t += 4;
  }
  return settled + baseline::settle(samples + t - 1, size - t + 1, rising_before, out + settled);
}

// One of two neighbours rises and one falls: with every second one turned upside down all rise.
Taken take_inner(const double* points, std::size_t size, double* left, double* from, double* to) {
  const double plus = 0.0, minus = -0.0;
  const __m256d turn = points[1] < points[2] ? _mm256_setr_pd(plus, minus, plus, minus) : _mm256_setr_pd(minus, plus, minus, plus);
  Taken done{0, 1};
  left[0] = points[0];
  bool taken_before = false;
  std::size_t i = 1;
  for (; i + 6 <= size; i += 4) {
    const __m256d before = _mm256_loadu_pd(points + i - 1), b = _mm256_loadu_pd(points + i), c = _mm256_loadu_pd(points + i + 1),
                  after = _mm256_loadu_pd(points + i + 2);
    const __m256d inside = _mm256_cmp_pd(_mm256_xor_pd(c, turn), _mm256_xor_pd(before, turn), _CMP_LE_OQ),
                  below = _mm256_cmp_pd(_mm256_xor_pd(after, turn), _mm256_xor_pd(b, turn), _CMP_LT_OQ);
    const unsigned takes = bits(_mm256_and_pd(inside, below));
    store_chosen(b, takes, from + done.cycles);
    done.cycles += store_chosen(c, takes, to + done.cycles);
    done.left += store_chosen(b, ~(takes | takes << 1 | (taken_before ? 1U : 0U)) & 15, left + done.left);
    taken_before = (takes & 8) != 0;
  }
  return baseline::take_inner(points, size, i, taken_before, done, left, from, to);
}

}  // namespace v3
#pragma GCC pop_options
#endif

}  // namespace

void add_up([[maybe_unused]] Instructions instructions, const Sums& sums, const double* parts, std::size_t stride,
            std::size_t samples, double* out) {
#if defined(__x86_64__) && !defined(__clang__)  // by GCC's pragmas
  if (instructions == Instructions::v3) return v3::add_up(sums, parts, stride, samples, out);
#endif
  baseline::add_up(sums, parts, stride, samples, out);
}

std::size_t settle([[maybe_unused]] Instructions instructions, const double* samples, std::size_t size, bool& rising,
                   double* out) {
#if defined(__x86_64__) && !defined(__clang__)  // by GCC's pragmas
  if (instructions == Instructions::v3) return v3::settle(samples, size, rising, out);
#endif
  return baseline::settle(samples, size, rising, out);
}

Taken take_inner([[maybe_unused]] Instructions instructions, const double* points, std::size_t size, double* left,
                 double* from, double* to) {
  if (size < 4) {
    std::memcpy(left, points, size * sizeof(double));
    return {0, size};
  }
#if defined(__x86_64__) && !defined(__clang__)  // by GCC's pragmas
  if (instructions == Instructions::v3) return v3::take_inner(points, size, left, from, to);
#endif
  left[0] = points[0];
  return baseline::take_inner(points, size, 1, false, {0, 1}, left, from, to);
}

// One integer addition a number carries into the top bit when it is too large, infinite or none: the loop has no branch and
// runs in vectors.
bool all_below(std::span<const double> numbers, double bound) {
  constexpr std::uint64_t magnitude = ~std::uint64_t{0} >> 1;
  const std::uint64_t carry = (std::uint64_t{1} << 63) - std::bit_cast<std::uint64_t>(bound);
  std::uint64_t seen = 0;
  for (const double number : numbers) seen |= (std::bit_cast<std::uint64_t>(number) & magnitude) + carry;
  return (seen >> 63) == 0;
}

}  // namespace seamwright::cycles
