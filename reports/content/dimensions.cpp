// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/dimensions.h"

#include <algorithm>
#include <cmath>

namespace seamwright::reports {

namespace {

constexpr double arrow_mm = 2.6, arrow_half_mm = 0.42, value_type_mm = 2.8, name_type_high_mm = 2, over_mm = 0.8;
constexpr double gap_mm = 0.6, beyond_mm = 1.6;  // of an extension line, before its feature and behind the arrow
const Pen dimension_pen{{Ink::ink, 0}, 0.13, Dash::solid};

void add_thin_line(Picture& p, const Point& a, const Point& b) {
  p.items.emplace_back(Path{{a, b}, false, dimension_pen, {}});
}

// Filled, its tip here, pointing along a unit direction.
void add_filled_arrow(Picture& p, const Point& tip, const Point& along) {
  const Point back{tip.x - arrow_mm * along.x, tip.y - arrow_mm * along.y};
  p.items.emplace_back(Path{{tip,
                             {back.x - arrow_half_mm * along.y, back.y + arrow_half_mm * along.x},
                             {back.x + arrow_half_mm * along.y, back.y - arrow_half_mm * along.x}},
                            true,
                            {{Ink::none, 0}, 0, Dash::solid},
                            {Ink::ink, 0}});
}

// The picture turned so that every dimension is a level one: x and y of a level line, y and -x of an upright one.
struct Turned {
  bool upright;
  Point place(double along, double across) const {
    return upright ? Point{across, -along} : Point{along, across};
  }
  double along(const Point& p) const { return upright ? -p.y : p.x; }
  double across(const Point& p) const { return upright ? p.x : p.y; }
};

// A dimension along its line: where it begins and ends, whether its value has room there, and its middle.
struct Span {
  Turned turned;
  double from, to, middle;
  bool within;
};

Span span_of(const LinearDimension& d) {
  const Turned t{d.upright};
  const double a = std::min(t.along(d.from), t.along(d.to)), b = std::max(t.along(d.from), t.along(d.to));
  const bool within = b - a > d.value_wide_mm + 2 * arrow_mm;
  return {t, a, b, within ? 0.5 * (a + b) : b + 2 * arrow_mm + 0.5 * d.value_wide_mm, within};
}

void add_lines_of(Picture& p, const LinearDimension& d) {
  const auto [t, from, to, middle, within] = span_of(d);
  for (const Point& feature : {d.from, d.to}) {
    const double sign = d.line >= t.across(feature) ? 1 : -1;
    if (std::abs(d.line - t.across(feature)) > gap_mm)
      add_thin_line(p, t.place(t.along(feature), t.across(feature) + sign * gap_mm),
                    t.place(t.along(feature), d.line + sign * beyond_mm));
  }
  const Point ahead = t.upright ? Point{0, -1} : Point{1, 0}, back{-ahead.x, -ahead.y};
  add_thin_line(p, t.place(within ? from : from - 2 * arrow_mm, d.line),
                t.place(within ? to : middle + 0.5 * d.value_wide_mm, d.line));
  add_filled_arrow(p, t.place(from, d.line), within ? back : ahead);
  add_filled_arrow(p, t.place(to, d.line), within ? ahead : back);
}

// Words on a white ground, centred over a place on their base line.
void add_words(Picture& p, const Turned& t, double along, double base, Cell words, double size, double wide,
               const Colour& colour) {
  const double left = along - wide / 2, right = along + wide / 2, top = base - 0.75 * size;
  p.items.emplace_back(Path{{t.place(left, base), t.place(right, base), t.place(right, top), t.place(left, top)},
                            true,
                            {{Ink::none, 0}, 0, Dash::solid},
                            {Ink::sheet, 0}});
  PictureText text{t.place(along, base), std::move(words), size, PictureText::Anchor::middle, colour};
  text.upright = t.upright;
  p.items.emplace_back(std::move(text));
}

}  // namespace

void add_dimensions(Picture& p, const std::vector<LinearDimension>& dimensions) {
  for (const LinearDimension& d : dimensions) add_lines_of(p, d);
  for (const LinearDimension& d : dimensions) {
    const Span s = span_of(d);
    add_words(p, s.turned, s.middle, d.line - over_mm, d.value, value_type_mm, d.value_wide_mm, {Ink::ink, 0});
    if (!d.name.empty())
      add_words(p, s.turned, s.middle, d.line + over_mm + 0.75 * name_type_high_mm, Verbatim{d.name}, name_type_high_mm,
                0.5 * name_type_high_mm * static_cast<double>(d.name.size()), {Ink::faint, 0});
  }
}

void add_angle(Picture& p, const Point& corner, double radius, double from, double to, Cell value) {
  const auto on = [&](double angle, double r) {
    return Point{corner.x + r * std::cos(angle), corner.y - r * std::sin(angle)};
  };
  Path arc{{}, false, dimension_pen, {}};
  for (int i = 0; i <= 40; ++i) arc.points.push_back(on(from + (to - from) * i / 40, radius));
  p.items.emplace_back(std::move(arc));
  const double lag = 0.5 * arrow_mm / radius;  // the arrow is a chord of the arc
  add_filled_arrow(p, on(from, radius), {std::sin(from + lag), std::cos(from + lag)});
  add_filled_arrow(p, on(to, radius), {-std::sin(to - lag), -std::cos(to - lag)});
  const Point middle = on(0.5 * (from + to), radius + 1.6);
  const double level = std::cos(0.5 * (from + to));
  p.items.emplace_back(PictureText{{middle.x, middle.y + 0.4 * value_type_mm},
                                   std::move(value),
                                   value_type_mm,
                                   level > 0.3    ? PictureText::Anchor::start
                                   : level < -0.3 ? PictureText::Anchor::end
                                                  : PictureText::Anchor::middle});
}

void add_note(Picture& p, const Point& on, const Point& note, Cell text, double wide, LeaderEnd end) {
  const double sign = note.x >= on.x ? 1 : -1;
  add_thin_line(p, on, note);
  add_thin_line(p, note, {note.x + sign * wide, note.y});
  const double length = std::hypot(note.x - on.x, note.y - on.y);
  if (end == LeaderEnd::arrow && length > 0)
    add_filled_arrow(p, on, {(on.x - note.x) / length, (on.y - note.y) / length});
  else
    p.items.emplace_back(Circle{on, 0.5, {{Ink::none, 0}, 0, Dash::solid}, {Ink::ink, 0}});
  p.items.emplace_back(PictureText{{note.x + sign * 0.5 * wide, note.y - over_mm}, std::move(text), value_type_mm,
                                   PictureText::Anchor::middle});
}

}  // namespace seamwright::reports
