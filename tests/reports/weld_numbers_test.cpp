// SPDX-License-Identifier: GPL-3.0-or-later
// Weld numbers around the frame: leaders that never cross, names that cover neither each other nor a tube, every
// weld numbered somewhere on the map.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "reports/content/frame_names.h"
#include "reports/content/numbered_views.h"
#include "reports/content/true_scale.h"
#include "reports/sheets/sheets.h"
#include "tests/reports/demonstration.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

using Stretch = FrameHits::Leader;

// By solving for the two shares, not as the program does it.
bool crossing(const Stretch& a, const Stretch& b) {
  const double ax = a.to.x - a.from.x, ay = a.to.y - a.from.y, bx = b.to.x - b.from.x, by = b.to.y - b.from.y,
               det = ax * by - ay * bx;
  if (std::abs(det) < 1e-12) return false;
  const double cx = b.from.x - a.from.x, cy = b.from.y - a.from.y, t = (cx * by - cy * bx) / det,
               u = (cx * ay - cy * ax) / det;
  return t > 0 && t < 1 && u > 0 && u < 1;
}

bool inside(const Point& p, const Rectangle& r) {
  return p.x > r.left + 0.02 && p.x < r.right - 0.02 && p.y > r.top + 0.02 && p.y < r.bottom - 0.02;
}

std::vector<Rectangle> boxes_of(const FramePicture& p) {
  std::vector<Rectangle> all;
  for (const auto& f : p.hits.flags) {
    const Rectangle r{f.label.x, f.label.y, f.label.x + f.label_size.x, f.label.y + f.label_size.y};
    const auto same = [&](const Rectangle& o) { return o.left == r.left && o.top == r.top; };
    if (f.label_size.x > 0 && std::none_of(all.begin(), all.end(), same)) all.push_back(r);
  }
  return all;
}

// Everything that is drawn and is no word, point by point along its lines.
bool covers_something(const Rectangle& box, const Picture& picture) {
  for (const auto& item : picture.items) {
    if (const auto* c = std::get_if<Circle>(&item); c && inside(c->centre, box)) return true;
    const auto* path = std::get_if<Path>(&item);
    if (!path) continue;
    const std::size_t n = path->points.size();
    for (std::size_t i = 0; i + (path->closed ? 0 : 1) < n; ++i) {
      const Point &a = path->points[i], &b = path->points[(i + 1) % n];
      for (int k = 0; k <= 200; ++k)
        if (inside({a.x + k / 200.0 * (b.x - a.x), a.y + k / 200.0 * (b.y - a.y)}, box)) return true;
    }
  }
  return false;
}

void check_numbers(const FramePicture& p) {
  const auto& leaders = p.hits.leaders;
  const std::vector<Rectangle> boxes = boxes_of(p);
  CHECK(boxes.size() == leaders.size());
  std::size_t crossed = 0, met = 0, covering = 0;
  for (std::size_t i = 0; i < leaders.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) crossed += crossing(leaders[i], leaders[k]);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    covering += covers_something(boxes[i], p.picture);
    CHECK(boxes[i].left >= 0);
    CHECK(boxes[i].top >= 0);
    CHECK(boxes[i].right <= p.picture.width_mm);
    CHECK(boxes[i].bottom <= p.picture.height_mm);
    for (std::size_t k = 0; k < i; ++k) met += meet(boxes[i], boxes[k]);
  }
  CHECK(crossed == 0);
  CHECK(met == 0);
  CHECK(covering == 0);
}

std::size_t written(const FramePicture& p, const std::string& name) {
  std::size_t count = 0;
  for (const auto& item : p.picture.items)
    if (const auto* t = std::get_if<PictureText>(&item))
      if (const auto* v = std::get_if<Verbatim>(&t->text)) count += v->text == name;
  return count;
}

}  // namespace

TEST_CASE("on the map no leaders cross, no number covers anything, and every weld is numbered") {
  const FrameDrawing drawing = frame_drawing(demo().design);
  std::set<std::string> all;
  for (const auto& f : drawing.flags) all.insert(f.id);
  for (const char* view : {"side", "top", "front", "oblique"}) {
    const std::vector<FramePicture> pictures = numbered_views(drawing, view_of(view), 182, 112);
    CHECK(pictures.size() > 1);
    CHECK(pictures.size() < 6);
    for (const FramePicture& p : pictures) {
      check_numbers(p);
      CHECK(p.unnamed == 0);
    }
    CHECK(numbered_in(pictures) == all);
  }
  Document map = weld_map(demo().design, {});
  std::size_t missing = 0;
  for (const Block& b : map.blocks)
    if (const auto* paragraph = std::get_if<Paragraph>(&b))
      missing += paragraph->text.id == MessageId("sheet.unnumbered");
  CHECK(missing == 0);
}

TEST_CASE("in one picture the worst have their numbers and the rest is counted") {
  const FrameDrawing drawing = frame_drawing(demo().design);
  FrameLook look;
  look.names = FrameLook::Names::border;
  for (const char* view : {"side", "top", "front", "oblique"}) {
    look.used = {{"W05", 0.9}};
    const FramePicture p = frame_picture(drawing, view_of(view), look, 100, 68);
    CHECK(p.unnamed > 0);
    CHECK(p.hits.flags.size() == drawing.flags.size());
    CHECK(numbered_in({p}).contains("W05"));
    CHECK(numbered_in({p}).size() + p.unnamed == drawing.flags.size());
    look.used.clear();  // without the rings that show it
    check_numbers(frame_picture(drawing, view_of(view), look, 100, 68));
    check_numbers(frame_picture(drawing, view_of(view), look, 297, 180));
  }
}

TEST_CASE("twins that fall together share one leader and one number") {
  const FrameDrawing drawing = frame_drawing(demo().design);
  std::size_t shared = 0;
  for (const FramePicture& p : numbered_views(drawing, view_of("side"), 182, 112)) {
    shared += written(p, "W13");
    CHECK(written(p, "W13.L") == 0);
    for (const auto& f : p.hits.flags)
      if (f.id == "W13.L") {
        const Point middle{f.label.x + f.label_size.x / 2, f.label.y + f.label_size.y / 2};
        CHECK(flag_at(p.hits, middle, 0) == "W13.L");
        for (const auto& g : p.hits.flags)
          if (g.id == "W13.R") CHECK(std::pair(g.label.x, g.label.y) == std::pair(f.label.x, f.label.y));
      }
  }
  CHECK(shared == 1);
  CHECK(joint_name({"W1.L", "W1.R"}) == "W1");
  CHECK(joint_name({"W1.L", "W2.L", "W2.R"}) == "W1.L, W2");
}

TEST_CASE("leaders to places at random never cross, and no place changes to a nearer seat that is free") {
  std::mt19937 random(7);
  const Border border{{0, 0, 180, 120}, {12, 6, 168, 114}, 11, 3.2, {{150, 100, 180, 120}}};
  const std::size_t room = room_of(border);
  for (int round = 0; round < 60; ++round) {
    std::uniform_real_distribution<double> x(20, round % 2 ? 60 : 160), y(10, 110);
    std::vector<Point> places;
    for (std::size_t i = 0; i < 10 + room * static_cast<std::size_t>(round % 3) / 2; ++i)
      places.push_back({x(random), y(random)});
    const auto labels = border_labels(places, border);
    REQUIRE(labels.size() == places.size());
    std::vector<Stretch> leaders;
    for (std::size_t i = 0; i < places.size(); ++i) {
      CHECK(labels[i].has_value() == (i < room));
      if (!labels[i]) continue;
      CHECK_FALSE(meet(labels[i]->box, border.kept_free[0]));
      leaders.push_back({places[i], labels[i]->end});
    }
    std::size_t crossed = 0;
    for (std::size_t i = 0; i < leaders.size(); ++i)
      for (std::size_t k = 0; k < i; ++k) crossed += crossing(leaders[i], leaders[k]);
    CHECK(crossed == 0);
  }
}

TEST_CASE("a single place is named from the nearest side") {
  const Border border{{0, 0, 180, 120}, {12, 6, 168, 114}, 11, 3.2};
  using Side = BorderLabel::Side;
  CHECK(border_labels({{20, 60}}, border)[0]->side == Side::left);
  CHECK(border_labels({{160, 60}}, border)[0]->side == Side::right);
  CHECK(border_labels({{90, 10}}, border)[0]->side == Side::above);
  CHECK(border_labels({{90, 110}}, border)[0]->side == Side::below);
}

TEST_CASE("a crop keeps what is filled filled and ends lines at its window") {
  Picture p{100, 100, {}};
  p.items.emplace_back(Path{{{10, 10}, {60, 10}, {60, 60}, {10, 60}}, true, {{Ink::ink, 0}, 0.2}, {Ink::sheet, 0}});
  const Picture out = cropped(p, {30, 0, 100, 100});
  REQUIRE(out.items.size() == 2);
  const Path &filled = std::get<Path>(out.items[0]), &line = std::get<Path>(out.items[1]);
  CHECK(filled.fill.ink == Ink::sheet);
  CHECK(filled.pen.colour.ink == Ink::none);
  CHECK(line.fill.ink == Ink::none);
  for (const Path* path : {&filled, &line})
    for (const Point& q : path->points) CHECK(q.x >= 30);
  double area = 0;  // by the shoelace formula
  for (std::size_t i = 0; i < filled.points.size(); ++i) {
    const Point &a = filled.points[i], &b = filled.points[(i + 1) % filled.points.size()];
    area += 0.5 * (a.x * b.y - b.x * a.y);
  }
  CHECK(std::abs(area) == Approx(30 * 50));
}
