// SPDX-License-Identifier: GPL-3.0-or-later
// Templates, cut list and fixture on paper: true scale measured in the PDF on both papers, nothing cut off,
// all ends on some template.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <regex>
#include <set>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/shape/plan.h"
#include "reports/content/template_picture.h"
#include "reports/content/true_scale.h"
#include "reports/pages/pages.h"
#include "reports/render/render.h"
#include "reports/sheets/shape_sheets.h"
#include "tests/reports/demonstration.h"
#include "tests/reports/pdf.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

constexpr double mm_of_point = 25.4 / 72;

const std::vector<shape::Blank>& blanks() {
  static const std::vector<shape::Blank> all = shape::blanks_of(demo().design, shape::plan_of(demo().design));
  return all;
}

// Straight paths of a page as poppler draws them, mm.
struct Stroke {
  double x0, y0, x1, y1;
  bool level() const { return std::abs(y0 - y1) < 0.005; }
  double length() const { return std::hypot(x1 - x0, y1 - y0); }
};
std::vector<Stroke> strokes_of(const Pdf& pdf, int page) {
  const std::string n = std::to_string(page), out = pdf.folder + "/page.svg";
  run("pdftocairo -svg -f " + n + " -l " + n + " '" + pdf.path + "' '" + out + "'");
  std::ifstream in(out);
  const std::string svg{std::istreambuf_iterator<char>(in), {}};
  static const std::regex two(R"re( d="M ([-0-9.]+) ([-0-9.]+) L ([-0-9.]+) ([-0-9.]+) ?"([^>]*)>)re"),
      matrix(R"re(matrix\(([-0-9., ]+)\))re");
  std::vector<Stroke> all;
  for (std::sregex_iterator it(svg.begin(), svg.end(), two), end; it != end; ++it) {
    double v[4], m[6] = {1, 0, 0, 1, 0, 0};
    for (std::size_t i = 0; i < 4; ++i) v[i] = std::stod((*it)[i + 1].str());
    std::smatch found;
    const std::string rest = (*it)[5].str();
    if (std::regex_search(rest, found, matrix)) {
      std::string numbers = found[1].str();
      std::replace(numbers.begin(), numbers.end(), ',', ' ');
      std::istringstream words(numbers);
      for (double& k : m) words >> k;
    }
    const auto x = [&](double a, double b) { return (m[0] * a + m[2] * b + m[4]) * mm_of_point; };
    const auto y = [&](double a, double b) { return (m[1] * a + m[3] * b + m[5]) * mm_of_point; };
    all.push_back({x(v[0], v[1]), y(v[0], v[1]), x(v[2], v[3]), y(v[2], v[3])});
  }
  return all;
}

bool has_level(const std::vector<Stroke>& all, double length_mm) {
  return std::any_of(all.begin(), all.end(),
                     [&](const Stroke& s) { return s.level() && std::abs(s.length() - length_mm) < 0.05; });
}

}  // namespace

TEST_CASE("a millimetre on paper is a millimetre: bar and circumferences to 0.05 mm on A4 and Letter") {
  const Document sheet = templates_sheet(demo().design, blanks(), {});
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const Pdf pdf(to_pdf(sheet, language_named("en"), paper));
    std::vector<Stroke> all;
    int with_bar = 0;
    for (int page = 1; page <= pdf.pages(); ++page) {
      const std::vector<Stroke> here = strokes_of(pdf, page);
      with_bar += has_level(here, scale_bar_mm);
      for (const Stroke& s : here) {
        CHECK(std::min({s.x0, s.x1, s.y0, s.y1}) > 5);
        CHECK(std::max(s.x0, s.x1) < (paper == Paper::a4 ? 210 : 215.9) - 5);
        CHECK(std::max(s.y0, s.y1) < (paper == Paper::a4 ? 297 : 279.4) - 5);
      }
      all.insert(all.end(), here.begin(), here.end());
    }
    const auto pictures = std::count_if(sheet.blocks.begin(), sheet.blocks.end(), [](const Block& b) {
      return std::holds_alternative<PictureBlock>(b);
    });
    CHECK(with_bar == pictures);
    CHECK(pictures > 3);
    for (const double diameter : {20.0, 25.0, 35.0, 50.0}) {
      INFO(diameter);
      CHECK(has_level(all, std::numbers::pi * diameter));
    }
  }
}

TEST_CASE("every coped end stands on one template, in both languages") {
  const Document sheet = templates_sheet(demo().design, blanks(), {});
  for (const char* language : {"en", "de"}) {
    const std::string all = Pdf(to_pdf(sheet, language_named(language), Paper::letter)).text();
    CHECK(all.find("[templates.") == std::string::npos);
    for (const joints::Weld& w : demo().design.welds)
      if (w.layout == joints::Layout::tube_on_tube)
        CHECK(count(all, w.id) >= 2);  // in the table, and on the paper
  }
  std::set<std::pair<std::string, bool>> ends;
  for (const Template& t : templates_of(blanks())) {
    CHECK(ends.emplace(t.end->member, t.end->at_start).second);
    for (const shape::TubeEnd* e : t.same) CHECK(ends.emplace(e->member, e->at_start).second);
  }
  for (const shape::Blank& b : blanks())
    for (const shape::TubeEnd* e : {&b.start, &b.end})
      if (e->kind == shape::TubeEnd::Kind::coped) CHECK(ends.count({e->member, e->at_start}) == 1);
}

TEST_CASE("what shares a template is cut alike: never a twin that is only its mirror image") {
  for (const Template& t : templates_of(blanks()))
    for (const shape::TubeEnd* e : t.same)
      for (int i = 0; i < 90; ++i) {
        const double a = 4 * i * std::numbers::pi / 180;
        CHECK(shape::cut_place(*e, a)->cut_mm - e->long_point_mm ==
              Approx(shape::cut_place(*t.end, a)->cut_mm - t.end->long_point_mm).margin(0.0101));
      }
}

TEST_CASE("a drawing wider and longer than a page comes in tiles that share their crosses") {
  Picture large{400, 500, {}};
  large.items.emplace_back(Path{{{0, 0}, {400, 500}}, false, {}, {}});
  const std::vector<Picture> tiles = tiles_of(large);
  REQUIRE(tiles.size() == 9);
  double length = 0;
  std::size_t circles = 0;
  for (const Picture& t : tiles) {
    CHECK(t.width_mm <= sheet_wide_mm);
    CHECK(t.height_mm <= sheet_high_mm);
    for (const auto& item : t.items) {
      if (std::holds_alternative<Circle>(item)) ++circles;
      const auto* p = std::get_if<Path>(&item);
      if (!p || p->pen.width_mm != Pen{}.width_mm) continue;
      for (std::size_t i = 1; i < p->points.size(); ++i)
        length += std::hypot(p->points[i].x - p->points[i - 1].x, p->points[i].y - p->points[i - 1].y);
    }
  }
  CHECK(length > std::hypot(400, 500));  // all of it, and the overlaps twice
  CHECK(circles >= 2 * 12);              // each cross on two tiles at least
  CHECK(pages_of({large}).size() == 9);
}

TEST_CASE("a narrow page's drawing is turned where only that fits") {
  const std::vector<Picture> tiles = tiles_of({188.5, 100, {Path{{{0, 0}, {188.5, 0}}, false, {}, {}}}});
  REQUIRE(tiles.size() == 1);
  CHECK(tiles[0].width_mm == 100);
  const Path& p = std::get<Path>(tiles[0].items[0]);
  CHECK(std::hypot(p.points[1].x - p.points[0].x, p.points[1].y - p.points[0].y) == Approx(188.5));
  CHECK(p.points[0].x == Approx(p.points[1].x));
}

TEST_CASE("a drawing in true scale that does not fit is refused, not shrunk") {
  Document d;
  d.title = {"templates.title", {text("design", "D")}};
  d.blocks.emplace_back(
      PictureBlock{{250, 50, {}}, {"templates.scale-check", {number("length", 100, "mm")}}, true});
  CHECK_THROWS_AS(to_pdf(d, language_named("en"), Paper::a4), Fault);
  std::get<PictureBlock>(d.blocks[0]).true_scale = false;
  CHECK(Pdf(to_pdf(d, language_named("en"), Paper::a4)).pages() == 1);
}

TEST_CASE("the cut list names every member once, the fixture every node, pivots and hubs") {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const shape::CutList list = shape::cut_list(blanks(), 6000, 2);
    const Document saw = cut_list_sheet(demo().design, blanks(), list, {});
    CHECK_FALSE(saw.finding);
    const std::string cuts = Pdf(to_pdf(saw, language_named("de"), paper)).text();
    CHECK(cuts.find("[c") == std::string::npos);
    for (const frame::Member& m : demo().design.frame.members) CHECK(count(cuts, m.id) >= 2);
    const Document check = fixture_sheet(
        demo().design, shape::weldments_of(demo().design, shape::plan_of(demo().design)), {}, {});
    const std::string fixture = Pdf(to_pdf(check, language_named("en"), paper)).text();
    for (const char* word : {"steering pivot", "front hub", "rear hub", "bottom bracket", "AX.L", "AX.R"})
      CHECK(fixture.find(word) != std::string::npos);
  }
  CHECK(cut_list_sheet(demo().design, blanks(), shape::cut_list(blanks(), 500, 2), {}).finding);
}
