// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/template_picture.h"
#include "reports/content/true_scale.h"
#include "reports/sheets/shape_sheets.h"

namespace seamwright::reports {

namespace {

using shape::Blank;
using shape::TubeEnd;

const Cell none = Verbatim{"–"};

Message cut_words(const TubeEnd& e) {
  switch (e.kind) {
    case TubeEnd::Kind::coped:
      return message_of("cut.coped");
    case TubeEnd::Kind::mitred:
      return message_of("cut.mitred");
    case TubeEnd::Kind::slotted:
      return {"cut.slotted", {number("wide", e.slot_wide_mm, "mm"), number("deep", e.slot_deep_mm, "mm")}};
    case TubeEnd::Kind::square:
      break;
  }
  return message_of("cut.square");
}

// Millimetres and degrees to their tenth, however long.
Quantity tenths(double value, const char* unit) {
  const double rounded = std::round(10 * value) / 10 + 0.0;  // no negative nought
  int digits = 2;
  for (double v = std::abs(rounded); v >= 10; v /= 10) ++digits;
  return {rounded, unit, digits};
}

// A half turn is the same either way.
Quantity turn_deg(double angle_rad) {
  const double deg = angle_rad / degree;
  return tenths(deg < -179.95 ? 180 : deg, "deg");
}

Table ends_table(const std::vector<Blank>& blanks) {
  Table t = table_of({"column.weld", "column.member", "column.node", "column.chord", "column.angle",
                      "column.notch-radius", "column.off-axis", "column.turned", "column.saw",
                      "column.gap-wall", "column.touches"});
  for (const Blank& b : blanks)
    for (const TubeEnd* e : {&b.start, &b.end}) {
      const bool coped = e->kind == TubeEnd::Kind::coped, mitred = e->kind == TubeEnd::Kind::mitred;
      if (!coped && !mitred) continue;
      const auto widest = shape::widest_gap(*e);
      const bool gap = widest && widest->gap_square_mm > 0.005;
      t.rows.push_back({Verbatim{e->weld}, Verbatim{e->member}, Verbatim{e->node}, Verbatim{e->onto},
                        tenths(e->angle_deg, "deg"),
                        coped ? Cell(Quantity{e->notch_radius_mm, "mm", 4}) : none,
                        coped && e->offset_mm > 0.01 ? Cell(Quantity{e->offset_mm, "mm", 3}) : none,
                        e->crown_rad ? Cell(turn_deg(*e->crown_rad)) : none,
                        mitred ? Cell(tenths(e->saw_deg, "deg")) : none,
                        gap ? Cell(Quantity{widest->gap_square_mm, "mm", 2}) : none,
                        gap ? Cell(message_of(widest->outer_touches() ? MessageId("templates.outer-edge")
                                                                      : "templates.inner-edge"))
                            : none});
    }
  return t;
}

const Blank& blank_of(const std::vector<Blank>& blanks, const std::string& member) {
  return *std::find_if(blanks.begin(), blanks.end(), [&](const Blank& b) { return b.member == member; });
}

// Ends that the paper cannot show as they stand.
Caution odd_ends(const std::vector<Blank>& blanks) {
  Caution c;
  for (const Blank& b : blanks)
    for (const TubeEnd* e : {&b.start, &b.end}) {
      const std::vector<Argument> who{text("weld", e->weld), text("member", e->member),
                                      text("node", e->node)};
      if (e->line.empty()) c.texts.push_back({"templates.not-drawn", {who[1], who[2]}});
      if (std::any_of(e->line.begin(), e->line.end(), [](const shape::CutPlace& p) { return p.free; }))
        c.texts.push_back({"templates.beside", who});
    }
  return c;
}

void add_pages(Document& d, const std::vector<Blank>& blanks) {
  std::vector<Picture> drawings;
  for (const Template& one : templates_of(blanks))
    drawings.push_back(template_picture(one, blank_of(blanks, one.end->member)));
  if (drawings.empty()) d.blocks.emplace_back(Paragraph{message_of("templates.none")});
  for (Picture& page : pages_of(drawings)) {
    d.blocks.emplace_back(PageBreak{});
    d.blocks.emplace_back(PictureBlock{
        std::move(page), {"templates.scale-check", {number("length", scale_bar_mm, "mm")}}, true});
  }
}

}  // namespace

Table lengths_table(const std::vector<Blank>& blanks) {
  Table t = table_of({"column.member", "column.tube", "column.blank", "column.axis-length",
                      "column.cut-start", "column.cut-end", "column.twist"});
  for (const Blank& b : blanks)
    t.rows.push_back({Verbatim{b.member}, Verbatim{b.tube}, tenths(b.blank_mm, "mm"), tenths(b.axis_mm, "mm"),
                      cut_words(b.start), cut_words(b.end),
                      b.twist_deg ? Cell(tenths(*b.twist_deg, "deg")) : none});
  return t;
}

Document templates_sheet(const design::Design& design, const std::vector<Blank>& blanks, const Anchor& a) {
  Document d;
  d.title = {"templates.title", {text("design", design.identity.name)}};
  for (const MessageId id :
       MessageIds{"templates.how-wrap", "templates.how-cut", "templates.how-paper", "templates.how-share"})
    d.blocks.emplace_back(Paragraph{message_of(id)});
  const std::vector<Message> gaps = shape::gap_findings(blanks);
  if (!gaps.empty())
    d.blocks.emplace_back(Caution{{{"templates.gap-practice",
                                    {number("count", static_cast<double>(gaps.size()), ""),
                                     number("most", shape::tig_gap_mm, "mm")}}}});
  const Caution odd = odd_ends(blanks);
  if (!odd.texts.empty()) d.blocks.emplace_back(odd);
  d.blocks.emplace_back(Heading{2, message_of("templates.lengths")});
  d.blocks.emplace_back(lengths_table(blanks));
  d.blocks.emplace_back(Paragraph{message_of("cut-list.bends")});
  d.blocks.emplace_back(Heading{2, message_of("templates.cuts")});
  d.blocks.emplace_back(Paragraph{message_of("templates.notcher")});
  d.blocks.emplace_back(ends_table(blanks));
  add_pages(d, blanks);
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

}  // namespace seamwright::reports
