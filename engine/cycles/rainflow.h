// SPDX-License-Identifier: GPL-3.0-or-later
// Cycle counting of a streamed signal: turning points, rainflow, residue. Memory holds the residue only.
// Source: ASTM E1049-85 (reapproved 2017), clause 5.4.4 [clause from memory]; four-point rule: Amzallag et
// al., Int. J. Fatigue 16 (1994) 287 [from memory]. Values are compared as they are, without a tolerance, so
// equal ranges close and nothing depends on rounding of differences.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include "engine/cycles/loops.h"

namespace seamwright::cycles {

/// One counted cycle, in the unit of the signal; from and to keep mean, ratio and direction. count is 1 or
/// 0.5.
struct Cycle {
  double from = 0, to = 0;
  double count = 1;
  double range() const { return from < to ? to - from : from - to; }
  double mean() const { return 0.5 * from + 0.5 * to; }
};

/// Samples that somebody has checked are finite and below 2^1023.
enum class Samples { unchecked, checked };

/// Streaming turning points with a hysteresis gate >= 0 in the unit of the signal. Gate 0 keeps every
/// reversal and the first and last point; plateaus count once; a constant signal is one point. A gate > 0
/// takes away exactly the closed rainflow loops of range <= gate (not the naive adjacent pairs), and a signal
/// that never leaves the gate has no point. Points alternate strictly.
class TurningPoints {
 public:
  /// Throws Fault "cycles.bad-gate" for a gate that is negative or not finite.
  explicit TurningPoints(double gate = 0);

  /// Appends the turning points that these samples settle. Throws Fault "cycles.not-a-number" for NaN and
  /// infinities, "cycles.too-large" from 2^1023 (8.99e307) on, where ranges would overflow; both name the
  /// sample's index over the whole stream, from 0. After a Fault the object is of no more use.
  void push(std::span<const double> samples, std::vector<double>& out);
  /// Appends what is left at the end. The next push begins a new signal.
  void finish(std::vector<double>& out);

  /// push() for inner loops: at most `block` samples; writes the settled points to out, which has this room, and
  /// returns how many there are.
  std::size_t settle(std::span<const double> samples, double* out, Samples known = Samples::unchecked);
  static constexpr std::size_t block = 1024, room = block + 4;

  double gate() const { return gate_; }

 private:
  std::size_t start(std::span<const double> samples, double* out);
  std::size_t scan_all(std::span<const double> samples, double* out);
  std::size_t scan_gated(std::span<const double> samples, double* out);

  double gate_;
  double low_ = 0, high_ = 0;  ///< until the signal has moved past the gate
  double candidate_ = 0;       ///< the last extreme, not settled yet
  int direction_ = 0;          ///< +1 rising, -1 falling, 0 before the signal has moved past the gate
  std::size_t count_ = 0;      ///< samples seen
};

/// Ranges that never close become one of these: half cycles (a signal that happens once), or the cycles that
/// close when the signal is repeated (a block of a duty).
enum class Residue { half, repeated };

/// Four-point rainflow over streamed samples: of four successive turning points the inner range is a closed
/// cycle when it is no larger than both neighbours. Splitting the stream into pushes changes no
/// cycle, but the order in which they come and, of equal ranges beside each other, from and to. The
/// residue of a random signal stays short (under 200 points for millions of samples); only a signal whose
/// swings grow or shrink all the time is all residue.
class Rainflow {
 public:
  /// Throws what TurningPoints throws.
  explicit Rainflow(double gate = 0) : turning_(gate) {}

  /// Calls sink(const Cycle&) for each cycle that closes, count 1; nothing is stored. Throws what
  /// TurningPoints::push throws and what sink throws; after that the object is of no more use.
  template <class Sink>
  void push(std::span<const double> samples, Sink&& sink);
  /// The same for inner loops: sink(from, to, count) gets the ends of `count` cycles that have closed, as arrays.
  template <class Sink>
  void push_arrays(std::span<const double> samples, Samples known, Sink&& sink);
  /// Ends the signal: the last cycles that close, then the residue. residue() stays readable; the next push
  /// begins a new signal.
  template <class Sink>
  void finish(Residue residue, Sink&& sink);

  /// The same, appended to `closed`.
  void push(std::span<const double> samples, std::vector<Cycle>& closed);
  void finish(Residue residue, std::vector<Cycle>& closed);

  /// Settled turning points not yet closed; after finish() the whole residue.
  const std::vector<double>& residue() const { return stack_; }

 private:
  template <class Sink>
  void reduce(std::span<const double> points, Sink& sink);
  void begin();

  TurningPoints turning_;
  std::vector<double> stack_;
  bool ended_ = false;
};

/// A whole signal at once: full and half cycles by the three-point rule of ASTM E1049 (half cycles where the
/// range holds the start point, and for what is left). Throws what TurningPoints throws.
std::vector<Cycle> count_astm(std::span<const double> samples, double gate = 0);

/// The cycles that close when `residue` is followed by itself; points at the joint that stop being reversals
/// drop out, and so do loops of range <= gate. Throws what TurningPoints throws.
std::vector<Cycle> close_repeated(std::span<const double> residue, double gate = 0);

template <class Sink>
void Rainflow::push(std::span<const double> samples, Sink&& sink) {
  push_arrays(samples, Samples::unchecked, [&sink](const double* from, const double* to, std::size_t count) {
    for (std::size_t k = 0; k < count; ++k) sink(Cycle{from[k], to[k], 1});
  });
}

template <class Sink>
void Rainflow::push_arrays(std::span<const double> samples, Samples known, Sink&& sink) {
  begin();
  const Instructions instructions = machine::best_instructions();
  std::array<double, TurningPoints::room> first, second, from, to;
  while (!samples.empty()) {
    const auto part = samples.first(std::min(samples.size(), TurningPoints::block));
    double *points = first.data(), *left = second.data();
    std::size_t size = turning_.settle(part, points, known);
    // Most cycles close between their neighbours and are taken out without a branch; the rest goes through the stack.
    for (int round = 0; round < 2; ++round) {
      const Taken taken = take_inner(instructions, points, size, left, from.data(), to.data());
      sink(from.data(), to.data(), taken.cycles);
      size = taken.left;
      std::swap(points, left);
    }
    const auto one = [&sink](const Cycle& c) { sink(&c.from, &c.to, 1); };
    reduce(std::span<const double>(points, size), one);
    samples = samples.subspan(part.size());
  }
}

template <class Sink>
void Rainflow::finish(Residue residue, Sink&& sink) {
  begin();
  std::vector<double> last;
  turning_.finish(last);
  reduce(last, sink);
  ended_ = true;
  if (residue == Residue::repeated) {
    for (const Cycle& cycle : close_repeated(stack_, turning_.gate())) sink(cycle);
    return;
  }
  for (std::size_t i = 1; i < stack_.size(); ++i) sink(Cycle{stack_[i - 1], stack_[i], 0.5});
}

template <class Sink>
void Rainflow::reduce(std::span<const double> points, Sink& sink) {
  std::size_t depth = stack_.size();
  stack_.resize(depth + points.size());
  double* const stack = stack_.data();
  for (const double point : points) {
    stack[depth++] = point;
    while (depth >= 4) {
      const double a = stack[depth - 4], b = stack[depth - 3], c = stack[depth - 2];
      // |b-c| <= |a-b| and |b-c| <= |c-d|, without differences: the points alternate.
      const bool closed = b < c ? (c <= a) & (point <= b) : (c >= a) & (point >= b);
      if (!closed) break;
      sink(Cycle{b, c, 1});
      depth -= 2;
      stack[depth - 1] = point;
    }
  }
  stack_.resize(depth);
}

}  // namespace seamwright::cycles
