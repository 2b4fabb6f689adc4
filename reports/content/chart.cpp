// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/chart.h"

#include <algorithm>
#include <cmath>

namespace seamwright::reports {

namespace {

constexpr double right_mm = 6, below_mm = 13, type_mm = 2.8;
const Pen hairline{{Ink::grid, 0}, 0.12, Dash::solid};

double share(const Axis& a, double value) {
  if (!a.logarithmic) return (value - a.from) / (a.to - a.from);
  return std::log(std::max(value, 1e-300) / a.from) / std::log(a.to / a.from);
}

Axis usable_axis(Axis a) {
  const bool finite = std::isfinite(a.from) && std::isfinite(a.to);
  if (a.logarithmic && !(finite && a.from > 0 && a.to > a.from * 1.0001)) {
    const double from = std::isfinite(a.from) && a.from > 0 ? a.from : 1;
    return {from, from * 10, true, a.label};
  }
  if (!a.logarithmic && !(finite && a.to > a.from)) {
    const double from = std::isfinite(a.from) ? a.from : 0;
    return {from, from + 1, false, a.label};
  }
  return a;
}

struct Tick {
  double value = 0;
  bool decade = false;
};

// Decades; where there are few of them 2 and 5 too.
std::vector<Tick> log_ticks(const Axis& a) {
  std::vector<Tick> ticks;
  const double decades = std::log10(a.to / a.from);
  const int every = std::max(1, static_cast<int>(decades / 12));
  for (int k = static_cast<int>(std::floor(std::log10(a.from))); std::pow(10, k) <= a.to * 1.0001; ++k)
    for (const double step : {1.0, 2.0, 5.0}) {
      const double value = step * std::pow(10, k);
      if (step > 1 && decades > 3.5) continue;
      if ((step > 1 || k % every == 0) && value >= a.from * 0.9999 && value <= a.to * 1.0001)
        ticks.push_back({value, step == 1});
    }
  return ticks;
}

std::vector<Tick> linear_ticks(const Axis& a) {
  const double rough = (a.to - a.from) / 6, power = std::pow(10, std::floor(std::log10(rough)));
  double step = 10 * power;
  for (const double s : {1.0, 2.0, 5.0})
    if (s * power >= rough) {
      step = s * power;
      break;
    }
  std::vector<Tick> ticks;
  for (double v = std::ceil(a.from / step - 1e-9) * step; v <= a.to + 1e-9 * step; v += step)
    ticks.push_back({std::abs(v) < 1e-9 * step ? 0 : v, false});
  return ticks;
}

PictureText number_at(const Point& at, const Tick& tick, bool logarithmic, PictureText::Anchor anchor) {
  PictureText w{at, Quantity{tick.value, "", 4}, type_mm, anchor, {Ink::faint, 0}};
  if (logarithmic && tick.decade && (tick.value >= 1e4 || tick.value < 1e-2)) {
    w.text = Verbatim{"10"};
    w.raised = std::to_string(std::lround(std::log10(tick.value)));
  }
  return w;
}

// The part of a stretch within the frame (Liang and Barsky).
bool clip(const Chart& c, Point& a, Point& b) {
  double from = 0, to = 1;
  const double dx = b.x - a.x, dy = b.y - a.y;
  const auto edge = [&](double p, double q) {
    if (p == 0) return q >= 0;
    (p < 0 ? from : to) = p < 0 ? std::max(from, q / p) : std::min(to, q / p);
    return from <= to;
  };
  if (!edge(-dx, a.x - c.left_mm) || !edge(dx, c.left_mm + c.width_mm - a.x) || !edge(-dy, a.y - c.top_mm) ||
      !edge(dy, c.top_mm + c.height_mm - a.y))
    return false;
  const Point start = a;
  a = {start.x + from * dx, start.y + from * dy};
  b = {start.x + to * dx, start.y + to * dy};
  return true;
}

}  // namespace

Point Chart::point_of(double x, double y) const {
  return {left_mm + width_mm * share(across, x), top_mm + height_mm * (1 - share(upright, y))};
}

Chart chart(Axis across, Axis upright, double height_mm) {
  Chart c;
  c.height_mm = height_mm;
  c.across = usable_axis(std::move(across));
  c.upright = usable_axis(std::move(upright));
  const double right = c.left_mm + c.width_mm, bottom = c.top_mm + c.height_mm;
  c.picture.width_mm = right + right_mm;
  c.picture.height_mm = bottom + below_mm;
  for (const Tick& t : c.across.logarithmic ? log_ticks(c.across) : linear_ticks(c.across)) {
    const double x = c.point_of(t.value, c.upright.from).x;
    c.picture.items.emplace_back(Path{{{x, c.top_mm}, {x, bottom}}, false, hairline, {}});
    c.picture.items.emplace_back(
        number_at({x, bottom + 4}, t, c.across.logarithmic, PictureText::Anchor::middle));
  }
  for (const Tick& t : c.upright.logarithmic ? log_ticks(c.upright) : linear_ticks(c.upright)) {
    const double y = c.point_of(c.across.from, t.value).y;
    c.picture.items.emplace_back(Path{{{c.left_mm, y}, {right, y}}, false, hairline, {}});
    c.picture.items.emplace_back(
        number_at({c.left_mm - 1.5, y + 1}, t, c.upright.logarithmic, PictureText::Anchor::end));
  }
  c.picture.items.emplace_back(PictureText{
      {c.left_mm + c.width_mm / 2, bottom + 8.5}, c.across.label, type_mm, PictureText::Anchor::middle});
  PictureText label{{3.5, c.top_mm + c.height_mm / 2}, c.upright.label, type_mm, PictureText::Anchor::middle};
  label.upright = true;
  c.picture.items.emplace_back(std::move(label));
  return c;
}

void draw_line(Chart& c, const std::vector<std::pair<double, double>>& points, const Pen& pen) {
  Path path;
  path.pen = pen;
  const auto flush = [&] {
    if (path.points.size() > 1) c.picture.items.emplace_back(path);
    path.points.clear();
  };
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    Point a = c.point_of(points[i].first, points[i].second),
          b = c.point_of(points[i + 1].first, points[i + 1].second);
    if (!std::isfinite(a.x + a.y + b.x + b.y) || !clip(c, a, b)) {
      flush();
      continue;
    }
    if (path.points.empty() || path.points.back().x != a.x || path.points.back().y != a.y) {
      flush();
      path.points.push_back(a);
    }
    path.points.push_back(b);
  }
  flush();
}

void draw_dot(Chart& c, double x, double y, double radius_mm, const Pen& pen, const Colour& fill) {
  const Point at = c.point_of(x, y);
  if (at.x < c.left_mm - 0.01 || at.x > c.left_mm + c.width_mm + 0.01 || at.y < c.top_mm - 0.01 ||
      at.y > c.top_mm + c.height_mm + 0.01)
    return;
  c.picture.items.emplace_back(Circle{at, radius_mm, pen, fill});
}

void draw_words(Chart& c, double x, double y, Cell text, double right, double up, Colour colour) {
  const Point at = c.point_of(x, y);
  c.picture.items.emplace_back(PictureText{{at.x + right, at.y - up},
                                           std::move(text),
                                           type_mm,
                                           right < 0 ? PictureText::Anchor::end : PictureText::Anchor::start,
                                           colour});
}

void draw_source(Chart& c, Message source) {
  c.picture.items.emplace_back(PictureText{{c.left_mm, c.picture.height_mm - 0.8},
                                           std::move(source),
                                           2.4,
                                           PictureText::Anchor::start,
                                           {Ink::faint, 0}});
}

}  // namespace seamwright::reports
