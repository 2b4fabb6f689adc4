// SPDX-License-Identifier: GPL-3.0-or-later
// Frame views and plots: flags that do not overlap, axes that hold what they say, and the same picture as SVG
// and PNG.
#include <QSvgRenderer>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "engine/study/duty_stability.h"
#include "reports/content/chart.h"
#include "reports/content/frame_picture.h"
#include "reports/content/plot_pictures.h"
#include "reports/pages/paint.h"
#include "reports/render/render.h"
#include "tests/reports/demonstration.h"
#include "tests/reports/pdf.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

bool overlap(const FrameHits::Flag& a, const FrameHits::Flag& b) {
  return a.label.x < b.label.x + b.label_size.x && b.label.x < a.label.x + a.label_size.x &&
         a.label.y < b.label.y + b.label_size.y && b.label.y < a.label.y + a.label_size.y;
}

void check_flags(const FramePicture& p) {
  std::size_t unnamed = 0;
  for (std::size_t i = 0; i < p.hits.flags.size(); ++i) {
    const auto& f = p.hits.flags[i];
    if (f.label_size.x == 0) {
      ++unnamed;
      continue;
    }
    CHECK(f.label.x >= 0);
    CHECK(f.label.y >= 0);
    CHECK(f.label.x + f.label_size.x <= p.picture.width_mm);
    CHECK(f.label.y + f.label_size.y <= p.picture.height_mm);
    for (std::size_t k = 0; k < i; ++k)
      if (p.hits.flags[k].label_size.x > 0) CHECK_FALSE(overlap(f, p.hits.flags[k]));
  }
  CHECK(unnamed == p.unnamed);
}

}  // namespace

TEST_CASE("every weld has a flag in every view and no two overlap") {
  const FrameDrawing drawing = frame_drawing(demo().design);
  CHECK(drawing.flags.size() == design::subject_count(demo().design));
  for (const char* view : {"side", "top", "front", "oblique"}) {
    const FramePicture p = frame_picture(drawing, view_of(view), {}, 182, 112);
    CHECK(p.hits.flags.size() == drawing.flags.size());
    CHECK(p.unnamed == 0);
    check_flags(p);
  }
  CHECK_THROWS_AS(view_of("below"), Fault);
}

TEST_CASE("what has no room is counted and nothing overlaps still") {
  FrameDrawing drawing = frame_drawing(demo().design);
  const auto first = drawing.flags;
  for (int i = 0; i < 20; ++i)
    for (auto f : first) {
      f.id += "-" + std::to_string(i);
      drawing.flags.push_back(std::move(f));
    }
  const FramePicture p = frame_picture(drawing, view_of("oblique"), {}, 120, 80);
  CHECK(p.unnamed > 100);
  CHECK(p.hits.flags.size() == drawing.flags.size());
  check_flags(p);
}

TEST_CASE("views look along the design's axes and keep its measures") {
  // A frame that shows 1000 mm along x on the side: the wheels' axles are so far apart in scale.
  const FrameDrawing drawing = frame_drawing(demo().design);
  const FramePicture side = frame_picture(drawing, view_of("side"), {}, 182, 112),
                     top = frame_picture(drawing, view_of("top"), {}, 182, 112);
  // One member is seen from the side and from above: along x in the same proportion to its length.
  const auto& design = demo().design;
  for (std::size_t i = 0; i < side.hits.lines.size(); ++i) {
    const auto& s = side.hits.lines[i];
    for (const auto& t : top.hits.lines)
      if (t.member == s.member && std::abs(s.from.x - s.to.x) > 5 && std::abs(t.from.x - t.to.x) > 5)
        CHECK(std::signbit(s.to.x - s.from.x) == std::signbit(t.to.x - t.from.x));
  }
  // z is up: the highest node of the design is the highest point of the side view.
  double high = -1e9, top_y = 1e9;
  std::string highest, drawn;
  for (const frame::Member& m : design.frame.members)
    for (const std::string& n : m.nodes)
      for (const frame::Node& node : design.frame.nodes)
        if (node.id == n && node.position_mm.z() > high) {
          high = node.position_mm.z();
          highest = m.id;
        }
  for (const auto& line : side.hits.lines)
    for (const Point& p : {line.from, line.to})
      if (p.y < top_y) {
        top_y = p.y;
        drawn = line.member;
      }
  CHECK(drawn == highest);
}

TEST_CASE("motions are drawn over the frame at rest") {
  const FrameDrawing drawing = frame_drawing(demo().design);
  const auto motions = frame_motions(demo(), drawing, 3);
  REQUIRE(motions.size() == 4);  // at rest, and three modes
  CHECK_FALSE(motions[0].mode);
  double sag = 0;
  for (const frame::Vec3& v : motions[0].at) sag = std::min(sag, v.z());
  CHECK(sag < 0);  // weight pulls down
  for (std::size_t m = 1; m < 4; ++m) {
    double most = 0;
    for (const frame::Vec3& v : motions[m].at) most = std::max(most, v.norm());
    CHECK(most == Approx(1));
  }
  FrameLook look;
  look.motion = &motions[1];
  look.motion_mm = 100;
  const FramePicture still = frame_picture(drawing, view_of("side"), {}, 182, 112),
                     moved = frame_picture(drawing, view_of("side"), look, 182, 112);
  double apart = 0;
  for (std::size_t i = 0; i < still.hits.lines.size(); ++i)
    for (const auto& m : moved.hits.lines)
      if (m.member == still.hits.lines[i].member)
        apart = std::max(
            apart, std::hypot(m.from.x - still.hits.lines[i].from.x, m.from.y - still.hits.lines[i].from.y));
  CHECK(apart > 1);
}

TEST_CASE("a chart puts decades at equal steps and cuts lines at its frame") {
  Chart c = chart({1, 1e4, true, {"plot.cycles", {}}}, {0, 10, false, {"plot.range", {}}});
  CHECK(c.point_of(10, 0).x - c.point_of(1, 0).x == Approx(c.width_mm / 4));
  CHECK(c.point_of(1e3, 0).x - c.point_of(100, 0).x == Approx(c.width_mm / 4));
  CHECK(c.point_of(1, 5).y == Approx(c.top_mm + c.height_mm / 2));
  const std::size_t before = c.picture.items.size();
  draw_line(c, {{0.01, -5}, {1e6, 15}}, {});
  draw_line(c, {{1e5, 1}, {1e6, 1}}, {});  // wholly outside
  REQUIRE(c.picture.items.size() == before + 1);
  for (const Point& p : std::get<Path>(c.picture.items.back()).points) {
    CHECK((p.x >= c.left_mm - 1e-9 && p.x <= c.left_mm + c.width_mm + 1e-9));
    CHECK((p.y >= c.top_mm - 1e-9 && p.y <= c.top_mm + c.height_mm + 1e-9));
  }
  // Axes that are no range still make a chart.
  for (const double bad : {0.0, -1.0, std::nan(""), std::numeric_limits<double>::infinity()})
    CHECK(std::isfinite(chart({bad, bad, true, {}}, {bad, bad, false, {}}).point_of(1, 1).x));
}

TEST_CASE("exceedance counts how many cycles have at least a range") {
  // 1 of 30, 2 more of 20, 7 more of 10.
  std::vector<cycles::Cycle> all{{0, 30, 1}, {0, 20, 2}, {10, 0, 7}};
  const Picture p = exceedance_plot(all);
  const Path* line = nullptr;
  for (const auto& item : p.items)
    if (const auto* path = std::get_if<Path>(&item); path && path->points.size() > 2) line = path;
  REQUIRE(line);
  // Axes: 1 to 10 cycles over 150 mm from 17; 0 to 31.5 over 85 mm from 5.
  const auto x = [](double n) { return 17 + 150 * std::log10(n); };
  const auto y = [](double r) { return 5 + 85 * (1 - r / 31.5); };
  CHECK(line->points.front().y == Approx(y(30)));
  CHECK(line->points.back().x == Approx(x(10)));
  CHECK(line->points.back().y == Approx(y(10)));
  bool corner = false;
  for (const Point& q : line->points)
    corner = corner || (std::abs(q.x - x(3)) < 0.01 && std::abs(q.y - y(20)) < 0.01);
  CHECK(corner);
  CHECK(exceedance_plot({}).items.size() == 1);
}

TEST_CASE("a map has as many fields as there are pairs of range and mean") {
  const std::vector<cycles::Cycle> all{{0, 32, 5}, {-16, 16, 1}, {0, 4, 100}};
  std::size_t fields = 0;
  for (const auto& item : range_mean_plot(all).items)
    if (const auto* path = std::get_if<Path>(&item); path && path->closed) ++fields;
  CHECK(fields == 3);
}

TEST_CASE("pictures are valid SVG and PNG and hostile words stay words") {
  const loads::Stability s = study::stability_of(demo(), 9);
  Picture hostile{50, 20, {}};
  hostile.items.emplace_back(
      PictureText{{1, 10}, Verbatim{"</text><script>alert(1)</script>&\"'\x1b[31m"}, 3});
  for (const Picture& p :
       {tip_plot(s, 0.7), hostile, frame_picture(frame_drawing(demo().design), {}, {}, 180, 120).picture}) {
    const std::string svg = to_svg(p, language_named("de"));
    CHECK(count(svg, "<script") == 0);
    need_painting();
    CHECK(QSvgRenderer(QByteArray::fromStdString(svg)).isValid());
    const std::string png = to_png(p, language_named("en"));
    CHECK(png.substr(0, 8) == "\x89PNG\r\n\x1a\n");
    CHECK(png == to_png(p, language_named("en")));
  }
  CHECK(to_svg(hostile, language_named("en")).find("&lt;script&gt;") != std::string::npos);
}

TEST_CASE("tip-over lines pass through the thresholds that stability gives") {
  const loads::Stability s = study::stability_of(demo(), 9);
  const Picture p = tip_plot(s, 0.7);
  std::vector<const Path*> lines;
  for (const auto& item : p.items)
    if (const auto* path = std::get_if<Path>(&item); path && path->points.size() == 9) lines.push_back(path);
  std::vector<double> loadings;
  double most = 0.7 * 9.80665;
  for (const auto& c : s.cases) most = std::max(most, loads::tip_threshold_m_s2(c));
  REQUIRE(lines.size() == s.cases.size() / 9);
  // The lowest of all is the lowest point of all lines; axis 0 to 1.15 times the largest over 85 mm.
  double lowest = 0;
  for (const Path* line : lines)
    for (const Point& q : line->points) lowest = std::max(lowest, q.y);
  CHECK((5 + 85 - lowest) / 85 * 1.15 * most == Approx(s.lowest_m_s2));
}
