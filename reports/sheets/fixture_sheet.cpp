// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <map>

#include "engine/design/sides.h"
#include "engine/evidence/constants.h"
#include "engine/inspection/limits.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/frame_picture.h"
#include "reports/sheets/shape_sheets.h"

namespace seamwright::reports {

namespace {

using shape::TrueAxis;
using shape::Weldment;

Quantity tenth_mm(double value) {
  if (std::abs(value) < 0.05) return {0, "mm", 2};
  int digits = 2;
  for (double v = std::abs(value); v >= 10; v /= 10) ++digits;
  return {value, "mm", digits};
}

Cell tolerance_cell(double length_mm, char tolerance_class) {
  const auto t = inspection::length_tolerance_mm(std::abs(length_mm), tolerance_class);
  return t ? Cell(Quantity{*t, "mm", 2}) : Cell(Verbatim{"–"});
}

// The frame's drawing with this weldment alone, a flag at each of its nodes; those on the left left out
// where they stand behind.
FrameDrawing drawing_of(const design::Design& design, const Weldment& w, bool with_left) {
  FrameDrawing whole = frame_drawing(design), d;
  const auto named = [&](const std::string& id) {
    return std::find(w.members.begin(), w.members.end(), id) != w.members.end();
  };
  std::map<std::size_t, std::size_t> kept;
  for (const FrameDrawing::Stretch& s : whole.stretches) {
    if (!named(s.member)) continue;
    for (const std::size_t point : {s.from, s.to})
      if (kept.emplace(point, d.points.size()).second) d.points.push_back(whole.points[point]);
    FrameDrawing::Stretch mine = s;
    mine.from = kept.at(s.from);
    mine.to = kept.at(s.to);
    d.stretches.push_back(std::move(mine));
  }
  for (std::size_t i = 0; i < d.points.size(); ++i) {
    const FrameDrawing::Point& p = d.points[i];
    d.least_mm = i == 0 ? p.at_mm : d.least_mm.cwiseMin(p.at_mm);
    d.most_mm = i == 0 ? p.at_mm : d.most_mm.cwiseMax(p.at_mm);
    if (!with_left && design::side_of(p.node) == ".L") continue;
    FrameDrawing::Flag flag;
    flag.id = flag.node = p.node;
    flag.point = i;
    flag.at_mm = p.at_mm;
    d.flags.push_back(std::move(flag));
  }
  return d;
}

void add_views(Document& d, const design::Design& design, const Weldment& w) {
  for (const char* view : {"top", "side", "front"}) {
    const bool side = std::string(view) == "side";
    const FramePicture picture = frame_picture(drawing_of(design, w, !side), view_of(view), {}, 182, 90);
    const Message caption{side ? MessageId("fixture.view") : "fixture.view-plain",
                          {sentence_argument("view", composed_id("view.", view))}};
    d.blocks.emplace_back(PictureBlock{picture.picture, caption});
    if (picture.unnamed > 0)
      d.blocks.emplace_back(
          Paragraph{{"sheet.unnamed", {number("count", static_cast<double>(picture.unnamed), "")}}});
  }
}

void add_places(Document& d, const std::vector<shape::FixturePlace>& places, MessageId first,
                char tolerance_class) {
  Table t = table_of({"column.x", "column.y", "column.height", "column.tolerance", "column.measured-mm"});
  t.columns.insert(t.columns.begin(), message_of(first));
  const bool ends = first == "column.member";
  if (ends) t.columns.insert(t.columns.begin() + 1, message_of("column.node"));
  for (const shape::FixturePlace& p : places) {
    std::vector<Cell> row{Verbatim{p.name}};
    if (ends) row.emplace_back(Verbatim{p.node});
    for (const double v : p.at_mm) row.emplace_back(tenth_mm(v));
    row.push_back(tolerance_cell(p.at_mm.cwiseAbs().maxCoeff(), tolerance_class));
    row.emplace_back(EntryBox{});
    t.rows.push_back(std::move(row));
  }
  d.blocks.emplace_back(std::move(t));
}

void add_diagonals(Document& d, const Weldment& w, char tolerance_class) {
  if (w.diagonals.empty()) return;
  Table t = table_of({"column.diagonal", "column.length", "column.measured-mm", "column.diagonal-other",
                      "column.length", "column.measured-mm", "column.tolerance"});
  for (const shape::Diagonal& g : w.diagonals)
    t.rows.push_back({Verbatim{g.from + " – " + g.to}, tenth_mm(g.length_mm), EntryBox{},
                      Verbatim{g.other_from + " – " + g.other_to}, tenth_mm(g.other_mm), EntryBox{},
                      tolerance_cell(g.length_mm, tolerance_class)});
  d.blocks.emplace_back(Heading{3, message_of("fixture.diagonals")});
  d.blocks.emplace_back(Paragraph{message_of("fixture.diagonals-how")});
  d.blocks.emplace_back(std::move(t));
}

MessageId name_of_axis(TrueAxis::Kind kind) {
  switch (kind) {
    case TrueAxis::Kind::steering:
      return "fixture.axis-steering";
    case TrueAxis::Kind::front_hub:
      return "fixture.axis-front-hub";
    case TrueAxis::Kind::rear_hub:
      return "fixture.axis-rear-hub";
    case TrueAxis::Kind::crank:
      break;
  }
  return "fixture.axis-crank";
}

void add_axes(Document& d, const Weldment& w, const FixtureTolerance& tolerance) {
  if (w.axes.empty()) return;
  d.blocks.emplace_back(Heading{3, message_of("fixture.axes")});
  d.blocks.emplace_back(Caution{{message_of("fixture.caution-true")}});
  d.blocks.emplace_back(
      Paragraph{{"fixture.axes-practice",
                 {number("off", tolerance.axis_mm, "mm"), number("tilt", tolerance.axis_deg, "deg")}}});
  Table t = table_of({"column.axis-true", "column.member", "column.end", "column.x", "column.y",
                      "column.height", "column.over-length", "column.offset-axis", "column.offset-tilt"});
  for (const TrueAxis& a : w.axes)
    for (const bool first : {true, false}) {
      const frame::Vec3& at = first ? a.from_mm : a.to_mm;
      const double leans = std::tan(tolerance.axis_deg * degree) * (a.to_mm - a.from_mm).norm();
      t.rows.push_back({first ? Cell(message_of(name_of_axis(a.kind))) : Cell(Verbatim{""}),
                        Verbatim{first ? a.member : ""}, Quantity{first ? 1.0 : 2.0, "", 1}, tenth_mm(at.x()),
                        tenth_mm(at.y()), tenth_mm(at.z()),
                        first ? Cell(Quantity{leans, "mm", 2}) : Cell(Verbatim{""}), EntryBox{},
                        first ? Cell(EntryBox{}) : Cell(Verbatim{""})});
    }
  d.blocks.emplace_back(std::move(t));
}

std::string joined(const std::vector<std::string>& all) {
  std::string out;
  for (const std::string& one : all) out.append(out.empty() ? "" : ", ").append(one);
  return out;
}

}  // namespace

Document fixture_sheet(const design::Design& design, const std::vector<Weldment>& weldments,
                       const FixtureTolerance& tolerance, const Anchor& a) {
  Document d;
  d.title = {"fixture.title", {text("design", design.identity.name)}};
  d.blocks.emplace_back(Caution{{message_of("fixture.caution-weld")}});
  for (std::size_t i = 0; i < weldments.size(); ++i) {
    const Weldment& w = weldments[i];
    if (i > 0) d.blocks.emplace_back(PageBreak{});
    d.blocks.emplace_back(Heading{2, {"fixture.body", {number("number", static_cast<double>(i + 1), "")}}});
    d.blocks.emplace_back(Facts{{{message_of("column.member"), Verbatim{joined(w.members)}}}, true});
    add_views(d, design, w);
    add_axes(d, w, tolerance);
    add_diagonals(d, w, tolerance.length_class);
    d.blocks.emplace_back(Heading{3, message_of("fixture.nodes")});
    d.blocks.emplace_back(
        Paragraph{{"fixture.nodes-how", {text("class", std::string(1, tolerance.length_class))}}});
    add_places(d, w.nodes, "column.node", tolerance.length_class);
    if (w.ends.empty()) continue;
    d.blocks.emplace_back(Heading{3, message_of("fixture.ends")});
    d.blocks.emplace_back(Paragraph{message_of("fixture.ends-how")});
    add_places(d, w.ends, "column.member", tolerance.length_class);
  }
  d.blocks.emplace_back(Boxes{
      {{message_of("fill.tools"), 10}, {message_of("fill.inspector"), 10}, {message_of("fill.day"), 10}}, 3});
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

}  // namespace seamwright::reports
