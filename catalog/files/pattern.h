// SPDX-License-Identifier: GPL-3.0-or-later
// The questions of a new job: the measures of its frame, and its service in plain words. Each takes a range in which the frame is
// sound, whatever was answered before it.
#pragma once

#include <array>
#include <map>
#include <span>

#include "engine/evidence/evidence.h"

namespace seamwright::files {

/// The order is that in which they are asked: the range of each rests on answers before it.
enum class Ask {
  front_wheel, rear_wheel, deck_height, bottom_bracket, bottom_bracket_height, wheelbase, box_ahead, box_length,
  box_width, track, box_height, load_ahead, saddle_height, bar_height,
  payload, distance, bad_road, trips, rider, years, look_every,
};
inline constexpr std::size_t ask_count = 21, frame_ask_count = 14;

struct AskRange {
  double least = 0, most = 0;
};

/// An answer for each question, in its unit.
class Answers {
 public:
  double operator[](Ask ask) const { return values_[static_cast<std::size_t>(ask)]; }
  double& operator[](Ask ask) { return values_[static_cast<std::size_t>(ask)]; }

 private:
  std::array<double, ask_count> values_{};
};

struct Question {
  Ask ask;
  const char* option;   ///< its name on the command line, without the dashes
  MessageId label;      ///< a noun phrase
  MessageId sentence;   ///< the question as a person asks it
  const char* unit;
  double usual;         ///< taken where nothing is answered, moved into the range; where it could flatter, the severer end
  AskRange (*range)(const Answers& before);
};

/// Row i asks for Ask i; those of the frame come first. The ranges keep every node of the layout in its order and every tube clear
/// of the others and of the wheels; tests go through corners and random points of all of them.
std::span<const Question> questions();

/// The answers given, and the usual ones for the rest. Throws Fault "new.outside" for an answer outside its range.
Answers answered(const std::map<Ask, double>& given);

}  // namespace seamwright::files
