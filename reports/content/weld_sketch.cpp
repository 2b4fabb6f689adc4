// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/weld_sketch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/shape/plan.h"

namespace seamwright::reports {

namespace {

constexpr double sketch_wide_mm = 84, sketch_high_mm = 47, sketch_rim_mm = 3;
constexpr double symbol_mm = 3.2;  // height of the elements of a weld symbol
const Pen outline_pen{{Ink::ink, 0}, 0.35, Dash::solid}, thin_pen{{Ink::ink, 0}, 0.2, Dash::solid}, hidden_pen{{Ink::faint, 0}, 0.2, Dash::dashed};
const Pen axis_pen{{Ink::faint, 0}, 0.15, Dash::dashed};
const Colour wall_fill{Ink::sheet, 0}, weld_metal{Ink::grid, 0};

/// Millimetres of the frame, chord along x and its axis at y = 0, the brace leaving upwards to the right.
struct Section {
  double chord_r, chord_t, brace_r, brace_t, angle;
  double leg_acute, leg_obtuse;

  // The point of a line parallel to the brace's axis, `off` to its left, in that height.
  Point on_line(double off, double y) const { return {(y - off * std::cos(angle)) / std::tan(angle) - off * std::sin(angle), y}; }
  Point raised(const Point& p, double by) const { return {p.x + by * std::cos(angle), p.y + by * std::sin(angle)}; }
};

struct Canvas {
  Picture picture{sketch_wide_mm, sketch_high_mm, {}};
  double scale = 1, x0 = 0, y0 = 0;
  Point paper(const Point& p) const { return {x0 + scale * p.x, y0 - scale * p.y}; }
  void path(const std::vector<Point>& points, bool closed, const Pen& pen, const Colour& fill = {}) {
    std::vector<Point> on_paper;
    for (const Point& p : points) on_paper.push_back(paper(p));
    picture.items.emplace_back(Path{std::move(on_paper), closed, pen, fill});
  }
  void words(const Point& at, Cell text, PictureText::Anchor anchor = PictureText::Anchor::start) {
    picture.items.emplace_back(PictureText{at, std::move(text), 2.8, anchor});
  }
};

void draw_walls(Canvas& c, const Section& s, double reach, double shown) {
  for (const double side : {1.0, -1.0}) {
    const double outer = side * s.chord_r, inner = side * (s.chord_r - s.chord_t);
    c.path({{-reach, outer}, {reach, outer}, {reach, inner}, {-reach, inner}}, true, outline_pen, wall_fill);
  }
  c.path({{-reach - 2, 0}, {reach + 2, 0}}, false, axis_pen);
  for (const double side : {1.0, -1.0}) {
    const double outer = side * s.brace_r, inner = side * (s.brace_r - s.brace_t);
    const Point a = s.on_line(outer, s.chord_r), b = s.on_line(inner, s.chord_r);
    c.path({a, s.raised(a, shown), s.raised(b, shown), b}, true, outline_pen, wall_fill);
  }
  const Point foot = s.on_line(0, s.chord_r);
  c.path({s.raised(foot, -2), s.raised(foot, shown + 3)}, false, axis_pen);
}

void draw_fillets(Canvas& c, const Section& s) {
  const Point acute = s.on_line(-s.brace_r, s.chord_r), obtuse = s.on_line(s.brace_r, s.chord_r);
  c.path({acute, {acute.x + s.leg_acute, acute.y}, s.raised(acute, s.leg_acute)}, true, outline_pen, weld_metal);
  c.path({obtuse, {obtuse.x - s.leg_obtuse, obtuse.y}, s.raised(obtuse, s.leg_obtuse)}, true, outline_pen, weld_metal);
}

// Passes from the root outwards, numbered beside the fillet of the acute side.
void draw_passes(Canvas& c, const Section& s, const qualification::Sheet& sheet) {
  const Point root = s.on_line(-s.brace_r, s.chord_r);
  const double half = 0.5 * s.angle;
  const Point from = c.paper(root);
  for (std::size_t i = 0; i < sheet.runs.size() && i < 4; ++i) {
    const double away = 7 + 4 * static_cast<double>(i);
    const Point at{from.x + away * std::cos(half), from.y - away * std::sin(half)};
    c.picture.items.emplace_back(Circle{at, 1.7, thin_pen, Colour{Ink::sheet, 0}});
    c.words({at.x, at.y + 1}, Verbatim{std::to_string(sheet.runs[i].number)}, PictureText::Anchor::middle);
  }
}

// The symbol's arrow points at the weld of the obtuse side; its line lies in the free corner above it.
void draw_symbol(Canvas& c, const Section& s, const joints::Weld& weld, const qualification::Sheet& sheet) {
  const Point obtuse = s.on_line(s.brace_r, s.chord_r);
  const Point tip = c.paper({obtuse.x - 0.4 * s.leg_obtuse, obtuse.y + 0.4 * s.leg_obtuse});
  const double y = sketch_rim_mm + 9, start = sketch_rim_mm + 10, end = start + 18;
  const auto line = [&](const Point& a, const Point& b, const Pen& pen) { c.picture.items.emplace_back(Path{{a, b}, false, pen, {}}); };
  line({start, y}, {end, y}, thin_pen);
  line({start, y + 1.2}, {end, y + 1.2}, hidden_pen);
  line({end, y}, tip, thin_pen);
  const double along = std::atan2(tip.y - y, tip.x - end);
  for (const double turn : {0.22, -0.22})
    line(tip, {tip.x - 2.5 * std::cos(along + turn), tip.y - 2.5 * std::sin(along + turn)}, thin_pen);
  c.picture.items.emplace_back(Circle{{end, y}, 1.1, thin_pen, {}});  // all round
  const double x = start + 8;
  c.picture.items.emplace_back(Path{{{x, y}, {x, y - symbol_mm}, {x + symbol_mm, y}}, true, thin_pen, {}});
  if (!weld.root_proof.empty()) {
    line({x, y - symbol_mm}, {x, y - 2 * symbol_mm}, thin_pen);
    line({x, y - symbol_mm}, {x + 0.8 * symbol_mm, y - 2 * symbol_mm}, thin_pen);
  }
  c.words({x - 1, y - 0.8}, Message{"section.throat-symbol", {number("throat", weld.throat_mm, "")}}, PictureText::Anchor::end);
  line({start, y}, {start - 1.6, y - 1.6}, thin_pen);
  line({start, y}, {start - 1.6, y + 1.6}, thin_pen);
  c.words({start - 2, y + 1}, Verbatim{sheet.process}, PictureText::Anchor::end);
}

void draw_sizes(Canvas& c, const Section& s, const frame::RoundTube& brace, const frame::RoundTube& chord, double reach, double shown) {
  const auto size = [](const frame::RoundTube& t) {
    return Message{"section.tube", {number("diameter", t.diameter_mm, ""), number("wall", t.wall_mm, "")}};
  };
  const Point top = c.paper(s.raised(s.on_line(-s.brace_r, s.chord_r), shown));
  c.words({top.x + 3, top.y + 2}, size(brace));
  const Point right = c.paper({reach, 0});
  c.words({right.x, c.paper({0, -s.chord_r}).y + 4}, size(chord), PictureText::Anchor::end);
  const Point foot = s.on_line(0, 0);
  std::vector<Point> arc;
  const double radius = 0.8 * s.brace_r;
  for (int i = 0; i <= 16; ++i) arc.push_back({foot.x + radius * std::cos(s.angle * i / 16), foot.y + radius * std::sin(s.angle * i / 16)});
  c.path(arc, false, thin_pen);
  const Point label = c.paper({foot.x + radius * 1.15 * std::cos(s.angle / 2), foot.y + radius * 0.4});
  c.words(label, Message{"section.angle", {number("angle", s.angle * 180 / std::numbers::pi, "")}});
}

}  // namespace

std::optional<WeldSketch> weld_sketch(const design::Design& design, const joints::Weld& weld, const qualification::Sheet& sheet) {
  const frame::RoundTube* brace = design::round_tube(design.frame, weld.member);
  const frame::RoundTube* chord = design::round_tube(design.frame, weld.chord);
  const shape::Plan plan = shape::plan_of(design);
  const auto body = std::find_if(plan.welds.begin(), plan.welds.end(), [&](const shape::WeldBody& w) { return w.id == weld.id; });
  const auto* fillet = body == plan.welds.end() ? nullptr : std::get_if<shape::FilletAround>(&body->body);
  if (!brace || !chord || !fillet) return std::nullopt;
  const design::Seat seat = design::seat_of(design.frame, weld);
  const double angle = seat.angle_deg * std::numbers::pi / 180;
  // The crown lies on the chord's start side: acute where the brace leans to the start.
  const bool to_start = seat.brace.dot(design::chord_direction(design.frame, weld)) < 0;
  const double opposite = fillet->leg_opposite_mm > 0 ? fillet->leg_opposite_mm : fillet->leg_crown_mm;
  const Section s{chord->diameter_mm / 2, chord->wall_mm, brace->diameter_mm / 2, brace->wall_mm, std::min(angle, std::numbers::pi - angle),
                  to_start ? fillet->leg_crown_mm : opposite, to_start ? opposite : fillet->leg_crown_mm};
  // Room for the foot of the brace and as much tube beside it.
  const double foot = s.brace_r / std::sin(s.angle), lean = s.chord_r / std::tan(s.angle);
  const double reach = foot + lean + 0.6 * s.brace_r + 8, shown = 1.5 * s.brace_r + 10;
  const double low = -s.chord_r, high = s.chord_r + shown * std::sin(s.angle) + s.brace_r * std::cos(s.angle);
  constexpr std::array reductions{1.0, 2.0, 2.5, 5.0, 10.0};
  double reduction = reductions.back();
  for (const double r : reductions)
    if (2 * reach / r <= sketch_wide_mm - 2 * sketch_rim_mm && (high - low) / r <= sketch_high_mm - 2 * sketch_rim_mm - 5) {
      reduction = r;
      break;
    }
  Canvas c;
  c.scale = 1 / reduction;
  c.x0 = sketch_wide_mm / 2;
  c.y0 = sketch_high_mm - sketch_rim_mm - 5 + low * c.scale;
  draw_walls(c, s, reach, shown);
  draw_fillets(c, s);
  draw_passes(c, s, sheet);
  draw_symbol(c, s, weld, sheet);
  draw_sizes(c, s, *brace, *chord, reach, shown);
  return WeldSketch{std::move(c.picture), reduction};
}

}  // namespace seamwright::reports
