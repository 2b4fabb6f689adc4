// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/joint_section.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace seamwright::reports {

namespace {

using qualification::JointForm;
using qualification::Sheet;

constexpr double picture_width = 84, picture_height = 46;
const Pen edge{{Ink::ink, 0}, 0.35, Dash::solid}, dimension_line{{Ink::faint, 0}, 0.15, Dash::solid};
const Colour sheet_fill{Ink::sheet, 0}, weld_fill{Ink::grid, 0};

double middle(const qualification::Span& s) { return s.stated() ? 0.5 * (s.least + s.most) : 2; }

struct SectionDrawing {
  Picture picture{picture_width, picture_height, {}};

  void add_polygon(std::vector<Point> points, const Colour& fill) {
    picture.items.emplace_back(Path{std::move(points), true, edge, fill});
  }
  void line(const Point& a, const Point& b, const Pen& pen) {
    picture.items.emplace_back(Path{{a, b}, false, pen, {}});
  }
  void add_text(const Point& at, Cell text, PictureText::Anchor anchor = PictureText::Anchor::start) {
    picture.items.emplace_back(PictureText{at, std::move(text), 2.8, anchor});
  }
  // A thickness between two marks beside the wall.
  void dimension(double x, double y0, double y1, const qualification::Span& s, bool right) {
    line({x, y0}, {x, y1}, dimension_line);
    for (const double y : {y0, y1}) line({x - 1, y}, {x + 1, y}, dimension_line);
    Message wall{"section.not-stated", {}};
    if (s.stated()) wall = {"section.wall", {number("low", s.least, ""), number("high", s.most, "mm")}};
    add_text({right ? x + 1.5 : x - 1.5, (y0 + y1) / 2 + 1}, std::move(wall),
             right ? PictureText::Anchor::start : PictureText::Anchor::end);
  }
  // Runs as rings with their number, from the root outwards.
  void runs(const Sheet& s, const Point& root, const Point& face) {
    const std::size_t n = std::max<std::size_t>(1, s.runs.size());
    for (std::size_t i = 0; i < n; ++i) {
      const double t = n == 1 ? 0.5 : static_cast<double>(i) / static_cast<double>(n - 1);
      const Point at{root.x + t * (face.x - root.x), root.y + t * (face.y - root.y)};
      picture.items.emplace_back(Circle{at, 1.9, edge, sheet_fill});
      add_text({at.x, at.y + 1}, Verbatim{std::to_string(s.runs.empty() ? 1 : s.runs[i].number)},
               PictureText::Anchor::middle);
    }
  }
};

Picture butt(const Sheet& s, double scale) {
  SectionDrawing d;
  const double t = scale * middle(s.wall_mm), o = scale * middle(s.other_wall_mm), y = 20, gap = 0.5 * scale,
               x = picture_width / 2;
  d.add_polygon({{16, y}, {x - gap, y}, {x - gap, y + t}, {16, y + t}}, sheet_fill);
  d.add_polygon({{x + gap, y}, {picture_width - 16, y}, {picture_width - 16, y + o}, {x + gap, y + o}},
                sheet_fill);
  const double cap = 0.25 * t, root = std::max(t, o);
  std::vector<Point> bead;
  for (int i = 0; i <= 12; ++i) {
    const double a = std::numbers::pi * i / 12;
    bead.push_back({x - 1.6 * t * std::cos(a) * 0.6, y - cap * std::sin(a)});
  }
  for (int i = 0; i <= 12; ++i) {
    const double a = std::numbers::pi * i / 12;
    bead.push_back({x + 0.5 * t * std::cos(a), y + root + 0.6 * cap * std::sin(a)});
  }
  d.add_polygon(std::move(bead), weld_fill);
  d.runs(s, {x, y + t * 0.75}, {x, y + t * 0.2});
  d.dimension(13, y, y + t, s.wall_mm, false);
  d.dimension(picture_width - 13, y, y + o, s.other_wall_mm, true);
  return std::move(d.picture);
}

// A brace on a chord's wall, or a plate on a tube; the angle is that of the upright part.
Picture tee(const Sheet& s, double scale) {
  SectionDrawing d;
  const double t = scale * middle(s.wall_mm), o = scale * middle(s.other_wall_mm), y = 32;
  const double throat = scale * (s.throat_mm.stated() ? middle(s.throat_mm) : middle(s.wall_mm)),
               leg = throat * std::numbers::sqrt2;
  const double x = picture_width / 2 - 6 - t / 2;
  d.add_polygon({{4, y}, {picture_width - 18, y}, {picture_width - 18, y + o}, {4, y + o}}, sheet_fill);
  d.add_polygon({{x, 5}, {x + t, 5}, {x + t, y}, {x, y}}, sheet_fill);
  d.add_polygon({{x + t, y}, {x + t + leg, y}, {x + t, y - leg}}, weld_fill);
  if (s.both_sides) d.add_polygon({{x, y}, {x - leg, y}, {x, y - leg}}, weld_fill);
  d.runs(s, {x + t + leg * 0.3, y - leg * 0.3}, {x + t + leg * 0.55, y - leg * 0.55});
  d.add_text({x - 2, 10},
             s.wall_mm.stated()
                 ? Cell(Message{"section.wall",
                                {number("low", s.wall_mm.least, ""), number("high", s.wall_mm.most, "mm")}})
                 : Cell(Message{"section.not-stated", {}}),
             PictureText::Anchor::end);
  d.dimension(picture_width - 15, y, y + o, s.other_wall_mm, true);
  if (s.throat_mm.stated()) {
    const Point corner{x + t, y}, face{x + t + leg / 2, y - leg / 2};
    d.line(corner, {face.x + 6, face.y - 6}, dimension_line);
    d.add_text({face.x + 7, face.y - 6},
               Message{"section.throat",
                       {number("low", s.throat_mm.least, ""), number("high", s.throat_mm.most, "mm")}});
  }
  return std::move(d.picture);
}

}  // namespace

Picture joint_section(const Sheet& s) {
  const double thickest = std::max({middle(s.wall_mm), middle(s.other_wall_mm), 1.0});
  const double scale = std::min(3.0, 9 / thickest);
  return s.form == JointForm::butt ? butt(s, scale) : tee(s, scale);
}

}  // namespace seamwright::reports
