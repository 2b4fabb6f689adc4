// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/pattern.h"

#include <algorithm>

namespace seamwright::files {

namespace {

// The layout along the way, from the rear axle: bottom bracket, 300 to 450 mm of room for pedals and feet, the platform's last cross
// tube, 200 mm to the steering pivot, 205 to 350 mm to the front axle, the platform's first cross tube.
constexpr double pivot_ahead = 200;
constexpr AskRange room{300, 450}, axle_ahead_of_pivot{205, 350};

AskRange wheelbase_range(const Answers& a) {
  const double fixed = a[Ask::bottom_bracket] + pivot_ahead;
  return {fixed + room.least + axle_ahead_of_pivot.least, fixed + room.most + axle_ahead_of_pivot.most};
}

AskRange box_length_range(const Answers& a) {
  const double free = a[Ask::wheelbase] - a[Ask::bottom_bracket], ahead = a[Ask::box_ahead];
  return {ahead + std::max(pivot_ahead + axle_ahead_of_pivot.least, free - room.most),
          ahead + std::min(pivot_ahead + axle_ahead_of_pivot.most, free - room.least)};
}

template <int least, int most>
AskRange fixed_range(const Answers&) {
  return {least, most};
}

// The seat tube is longer behind a larger wheel.
AskRange saddle_range(const Answers& a) {
  const double seat_tube_top = 0.75 * a[Ask::rear_wheel] + 292.5;
  return {seat_tube_top + 60, seat_tube_top + 330};
}

// Either kind of road is a leg of its own, and the shortest leg is 10 m.
AskRange bad_road_range(const Answers& a) {
  const double least = std::max(1.0, 1 / a[Ask::distance]);
  return {least, 100 - least};
}

constexpr Question all_questions[] = {
    {Ask::front_wheel, "front-wheel", "new.front-wheel", "new.ask-front-wheel", "mm", 506, fixed_range<480, 620>},
    {Ask::rear_wheel, "rear-wheel", "new.rear-wheel", "new.ask-rear-wheel", "mm", 506, fixed_range<480, 700>},
    {Ask::deck_height, "deck-height", "new.deck-height", "new.ask-deck-height", "mm", 390,
     [](const Answers& a) { return AskRange{a[Ask::front_wheel] / 2 + 125, a[Ask::front_wheel] / 2 + 150}; }},
    {Ask::bottom_bracket, "bottom-bracket", "new.bottom-bracket", "new.ask-bottom-bracket", "mm", 480, fixed_range<440, 540>},
    {Ask::bottom_bracket_height, "bottom-bracket-height", "new.bottom-bracket-height", "new.ask-bottom-bracket-height", "mm", 280,
     fixed_range<255, 320>},
    {Ask::wheelbase, "wheelbase", "new.wheelbase", "new.ask-wheelbase", "mm", 1250, wheelbase_range},
    {Ask::box_ahead, "box-ahead", "new.box-ahead", "new.ask-box-ahead", "mm", 200, fixed_range<200, 300>},
    {Ask::box_length, "box-length", "new.box-length", "new.ask-box-length", "mm", 650, box_length_range},
    {Ask::box_width, "box-width", "new.box-width", "new.ask-box-width", "mm", 560, fixed_range<440, 700>},
    {Ask::track, "track", "new.track", "new.ask-track", "mm", 820,
     [](const Answers& a) { return AskRange{a[Ask::box_width] + 240, a[Ask::box_width] + 320}; }},
    {Ask::box_height, "box-height", "new.box-height", "new.ask-box-height", "mm", 460, fixed_range<150, 800>},
    {Ask::load_ahead, "load-ahead", "new.load-ahead", "new.ask-load-ahead", "mm", 40, fixed_range<-150, 60>},
    {Ask::saddle_height, "saddle-height", "new.saddle-height", "new.ask-saddle-height", "mm", 780, saddle_range},
    {Ask::bar_height, "bar-height", "new.bar-height", "new.ask-bar-height", "mm", 960,
     [](const Answers& a) { return AskRange{a[Ask::deck_height] + 450, a[Ask::deck_height] + 750}; }},
    {Ask::payload, "payload", "new.payload", "new.ask-payload", "kg", 100, fixed_range<1, 200>},
    {Ask::distance, "distance", "new.distance", "new.ask-distance", "km", 2.6, [](const Answers&) { return AskRange{0.5, 100}; }},
    {Ask::bad_road, "bad-road", "new.bad-road", "new.ask-bad-road", "%", 15, bad_road_range},
    {Ask::trips, "trips", "new.trips", "new.ask-trips", "", 500, fixed_range<1, 5000>},
    {Ask::rider, "rider", "new.rider", "new.ask-rider", "kg", 80, fixed_range<30, 180>},
    {Ask::years, "years", "new.years", "new.ask-years", "years", 10, fixed_range<1, 50>},
    {Ask::look_every, "look-every", "new.look-every", "new.ask-look-every", "km", 0, fixed_range<0, 10000>},
};
static_assert(std::size(all_questions) == ask_count);

}  // namespace

std::span<const Question> questions() { return all_questions; }

Answers answered(const std::map<Ask, double>& given) {
  Answers answers;
  for (const Question& q : all_questions) {
    const AskRange range = q.range(answers);
    const auto own = given.find(q.ask);
    answers[q.ask] = own == given.end() ? std::clamp(q.usual, range.least, range.most) : own->second;
    if (!(answers[q.ask] >= range.least && answers[q.ask] <= range.most))
      throw Fault{Message{"new.outside",
                          {sentence_argument("measure", q.label), number("value", answers[q.ask], q.unit),
                           number("least", range.least, q.unit), number("most", range.most, q.unit)}}};
  }
  return answers;
}

}  // namespace seamwright::files
