// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/true_scale.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace seamwright::reports {

namespace {

constexpr double between_mm = 7;  // two drawings of a page
constexpr double bar_room_mm = 12;
constexpr double room_mm = sheet_high_mm - bar_room_mm;
const Pen joint_pen{{Ink::ink, 0}, 0.1, Dash::solid};

struct Window {
  double left, top, right, bottom;
  bool holds(const Point& p) const { return p.x >= left && p.x <= right && p.y >= top && p.y <= bottom; }
};

// The part of a segment within the window, as shares of it (Liang and Barsky).
std::optional<std::pair<double, double>> share_within(const Point& a, const Point& b, const Window& w) {
  double from = 0, to = 1;
  const auto side = [&](double step, double room) {
    if (step == 0) return room >= 0;
    if (step < 0)
      from = std::max(from, room / step);
    else
      to = std::min(to, room / step);
    return from <= to;
  };
  const double dx = b.x - a.x, dy = b.y - a.y;
  if (!side(-dx, a.x - w.left) || !side(dx, w.right - a.x) || !side(-dy, a.y - w.top) ||
      !side(dy, w.bottom - a.y))
    return {};
  return std::pair(from, to);
}

struct Windowing {
  Window window;
  Picture& out;

  Point moved(const Point& p) const { return {p.x - window.left, p.y - window.top}; }
  // The part of a filled outline within the window, by its four edges in turn (Sutherland and Hodgman).
  void fill(std::vector<Point> points, const Colour& colour) const {
    const auto keep = [&](const auto& room) {
      std::vector<Point> kept;
      for (std::size_t i = 0; i < points.size(); ++i) {
        const Point &a = points[i], &b = points[(i + 1) % points.size()];
        const double ra = room(a), rb = room(b);
        if (ra >= 0) kept.push_back(a);
        if ((ra >= 0) != (rb >= 0)) kept.push_back({a.x + ra / (ra - rb) * (b.x - a.x), a.y + ra / (ra - rb) * (b.y - a.y)});
      }
      points = std::move(kept);
    };
    keep([&](const Point& p) { return p.x - window.left; });
    keep([&](const Point& p) { return window.right - p.x; });
    keep([&](const Point& p) { return p.y - window.top; });
    keep([&](const Point& p) { return window.bottom - p.y; });
    for (Point& p : points) p = moved(p);
    if (points.size() > 2)
      out.items.emplace_back(Path{std::move(points), true, {{Ink::none, 0}, 0, Dash::solid}, colour});
  }
  void operator()(const Path& p) const {
    std::vector<Point> points = p.points;
    if (points.empty()) return;
    if (std::all_of(points.begin(), points.end(), [&](const Point& q) { return window.holds(q); })) {
      Path whole = p;
      for (Point& q : whole.points) q = moved(q);
      out.items.emplace_back(std::move(whole));
      return;
    }
    if (p.closed && p.fill.ink != Ink::none) fill(points, p.fill);
    if (p.pen.colour.ink == Ink::none) return;
    if (p.closed) points.push_back(points.front());
    Path piece{{}, false, p.pen, {}};
    const auto finish = [&] {
      if (piece.points.size() > 1) out.items.emplace_back(piece);
      piece.points.clear();
    };
    for (std::size_t i = 1; i < points.size(); ++i) {
      const Point &a = points[i - 1], &b = points[i];
      const auto part = share_within(a, b, window);
      if (!part) {
        finish();
        continue;
      }
      const auto between = [&](double share) {
        return moved({a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)});
      };
      if (part->first > 0) finish();
      if (piece.points.empty()) piece.points.push_back(between(part->first));
      piece.points.push_back(between(part->second));
      if (part->second < 1) finish();
    }
    finish();
  }
  void operator()(const Circle& c) const {
    if (!window.holds(c.centre)) return;
    Circle moved_circle = c;
    moved_circle.centre = moved(c.centre);
    out.items.emplace_back(std::move(moved_circle));
  }
  void operator()(const PictureText& t) const {
    if (!window.holds(t.at)) return;
    PictureText moved_text = t;
    moved_text.at = moved(t.at);
    out.items.emplace_back(std::move(moved_text));
  }
};

void add_cross(Picture& p, const Point& at) {
  constexpr double arm = 2.5;
  p.items.emplace_back(Path{{{at.x - arm, at.y}, {at.x + arm, at.y}}, false, joint_pen, {}});
  p.items.emplace_back(Path{{{at.x, at.y - arm}, {at.x, at.y + arm}}, false, joint_pen, {}});
  p.items.emplace_back(Circle{at, 1.2, joint_pen, {}});
}

// Even parts of a length that with their overlaps are no longer than the room.
std::size_t parts_of(double length, double room) {
  if (length <= room) return 1;
  return static_cast<std::size_t>(std::ceil(length / (room - 2 * tile_overlap_mm)));
}

// Marks the line between two tiles in the whole drawing: each tile shows what of it lies in its overlap.
void mark_joint(Picture& p, double at, bool upright) {
  const double along = upright ? p.height_mm : p.width_mm;
  const auto point = [&](double along_mm) { return upright ? Point{at, along_mm} : Point{along_mm, at}; };
  p.items.emplace_back(Path{{point(0), point(along)}, false, {{Ink::faint, 0}, 0.1, Dash::dashed}, {}});
  for (const double share : {0.12, 0.5, 0.88}) add_cross(p, point(share * along));
}

std::vector<Picture> cut_up(Picture whole) {
  const std::size_t across = parts_of(whole.width_mm, sheet_wide_mm),
                    down = parts_of(whole.height_mm, room_mm);
  const double wide = whole.width_mm / static_cast<double>(across),
               high = whole.height_mm / static_cast<double>(down);
  for (std::size_t i = 1; i < across; ++i) mark_joint(whole, static_cast<double>(i) * wide, true);
  for (std::size_t j = 1; j < down; ++j) mark_joint(whole, static_cast<double>(j) * high, false);
  std::vector<Picture> tiles;
  for (std::size_t j = 0; j < down; ++j)
    for (std::size_t i = 0; i < across; ++i) {
      const double left = std::max(0.0, static_cast<double>(i) * wide - tile_overlap_mm),
                   top = std::max(0.0, static_cast<double>(j) * high - tile_overlap_mm),
                   right = std::min(whole.width_mm, static_cast<double>(i + 1) * wide + tile_overlap_mm),
                   bottom = std::min(whole.height_mm, static_cast<double>(j + 1) * high + tile_overlap_mm);
      Picture tile = window_of(whole, {left, top}, right - left, bottom - top);
      tile.items.emplace_back(PictureText{{(right - left) / 2, bottom - top - 1.2},
                                          Message{"templates.part",
                                                  {number("part", static_cast<double>(tiles.size() + 1), ""),
                                                   number("parts", static_cast<double>(across * down), "")}},
                                          2.4,
                                          PictureText::Anchor::middle,
                                          {Ink::faint, 0}});
      tiles.push_back(std::move(tile));
    }
  return tiles;
}

void add_scale_bar(Picture& page) {
  const double y = sheet_high_mm - 5, left = (sheet_wide_mm - scale_bar_mm) / 2;
  page.items.emplace_back(
      Path{{{left, y}, {left + scale_bar_mm, y}}, false, {{Ink::ink, 0}, 0.2, Dash::solid}, {}});
  for (int i = 0; i <= 10; ++i) {
    const double x = left + scale_bar_mm * i / 10, tall = i % 10 == 0 ? 4 : i == 5 ? 2.5 : 1.5;
    page.items.emplace_back(Path{{{x, y}, {x, y - tall}}, false, {{Ink::ink, 0}, 0.15, Dash::solid}, {}});
  }
  page.items.emplace_back(PictureText{{sheet_wide_mm / 2, y + 4},
                                      Message{"templates.scale", {number("length", scale_bar_mm, "mm")}},
                                      3,
                                      PictureText::Anchor::middle,
                                      {Ink::ink, 0}});
}

}  // namespace

void add_drawing(Picture& page, const Picture& drawing, const Point& at) {
  const Windowing moving{{-at.x, -at.y, 1e6, 1e6}, page};
  for (const auto& item : drawing.items) std::visit(moving, item);
}

Picture cropped(const Picture& p, const Rectangle& window) {
  Picture out{p.width_mm, p.height_mm, {}};
  add_drawing(out, window_of(p, {window.left, window.top}, window.right - window.left, window.bottom - window.top),
              {window.left, window.top});
  return out;
}

Picture turned(const Picture& p) {
  struct Turning {
    double width;
    Point place(const Point& q) const { return {q.y, width - q.x}; }
    std::variant<Path, Circle, PictureText> operator()(Path path) const {
      for (Point& q : path.points) q = place(q);
      return path;
    }
    std::variant<Path, Circle, PictureText> operator()(Circle c) const {
      c.centre = place(c.centre);
      return c;
    }
    std::variant<Path, Circle, PictureText> operator()(PictureText t) const {
      t.at = place(t.at);
      t.upright = !t.upright;
      return t;
    }
  };
  Picture out{p.height_mm, p.width_mm, {}};
  for (const auto& item : p.items) out.items.push_back(std::visit(Turning{p.width_mm}, item));
  return out;
}

Picture window_of(const Picture& p, const Point& from, double width, double height) {
  Picture out{width, height, {}};
  const Windowing windowing{{from.x, from.y, from.x + width, from.y + height}, out};
  for (const auto& item : p.items) std::visit(windowing, item);
  return out;
}

std::vector<Picture> tiles_of(const Picture& p) {
  const auto fits = [](double wide, double high) { return wide <= sheet_wide_mm && high <= room_mm; };
  if (fits(p.width_mm, p.height_mm)) return {p};
  if (fits(p.height_mm, p.width_mm)) return {turned(p)};
  return cut_up(p);
}

std::vector<Picture> pages_of(const std::vector<Picture>& drawings) {
  std::vector<Picture> pages;
  double x = 0, y = 0, row = 0;
  const auto turn_page = [&] {
    pages.push_back({sheet_wide_mm, sheet_high_mm, {}});
    add_scale_bar(pages.back());
    x = y = row = 0;
  };
  for (const Picture& drawing : drawings)
    for (const Picture& piece : tiles_of(drawing)) {
      if (pages.empty()) turn_page();
      if (x > 0 && x + piece.width_mm > sheet_wide_mm) {
        x = 0;
        y += row + between_mm;
        row = 0;
      }
      if (y > 0 && y + piece.height_mm > room_mm) turn_page();
      if (x > 0 && piece.height_mm > room_mm - y) turn_page();
      add_drawing(pages.back(), piece, {x, y});
      x += piece.width_mm + between_mm;
      row = std::max(row, piece.height_mm);
    }
  return pages;
}

}  // namespace seamwright::reports
