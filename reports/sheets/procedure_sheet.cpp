// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "engine/shape/fillet.h"
#include "engine/shape/plan.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/joint_section.h"
#include "reports/sheets/sheets.h"
#include "reports/text/text.h"

namespace seamwright::reports {

namespace {

using qualification::Sheet;
using qualification::Span;

// The number is rounded to three digits.
double three_digits(double value) {
  if (!(value > 0)) return value;
  const double step = std::pow(10, std::floor(std::log10(value)) - 2);
  return std::round(value / step) * step;
}

std::string stated_text(const Sheet& s, const char* key) {
  const auto it = s.stated_keys.find(key);
  return it == s.stated_keys.end() ? std::string() : it->second;
}

}  // namespace

Cell span_cell(const Span& s, const char* unit) {
  if (!s.stated()) return message_of("sheet.not-stated");
  if (s.least == s.most) return Quantity{s.most, unit, 3};
  return Message{"page.span",
                 {number("low", three_digits(s.least), ""), number("high", three_digits(s.most), unit)}};
}

Facts facts_by_hand(const Sheet& s) {
  Facts f;
  const auto add = [&](MessageId id, const std::string& value) {
    f.facts.push_back(
        {message_of(id), value.empty() ? Cell(message_of("sheet.not-stated")) : Cell(Verbatim{value})});
  };
  const auto joined = [](std::string a, const std::string& b) {
    return b.empty() ? a : a.empty() ? b : a.append(", ").append(b);
  };
  add("sheet.filler", joined(s.filler, stated_text(s, "filler_size")));
  add("sheet.gas", joined(s.gas, stated_text(s, "gas_flow")));
  add("sheet.purge", stated_text(s, "back_purge"));
  if (s.process == "141") add("sheet.tungsten", stated_text(s, "tungsten"));
  add("sheet.torch", stated_text(s, "torch"));
  f.facts.push_back({message_of("sheet.preheat"), Quantity{s.preheat_c, "°C", 3}});
  f.facts.push_back({message_of("sheet.interpass"), Quantity{s.interpass_c, "°C", 3}});
  add("sheet.preparation", stated_text(s, "preparation"));
  add("sheet.gap", stated_text(s, "gap"));
  add("sheet.cleaning", stated_text(s, "cleaning"));
  add("sheet.tacking", stated_text(s, "tacking"));
  std::string positions;
  for (const std::string& p : s.positions) positions.append(positions.empty() ? "" : ", ").append(p);
  add("sheet.position", positions);
  add("sheet.sequence", joined(stated_text(s, "sequence"), stated_text(s, "welding_order")));
  add("sheet.weaving", stated_text(s, "weaving"));
  add("sheet.after", stated_text(s, "post_heating"));
  return f;
}

namespace {

// The settings of the machine come first of all.
LargeNumbers settings(const Sheet& s) {
  LargeNumbers large;
  if (!s.current.empty()) large.numbers.push_back({message_of("sheet.current"), Verbatim{s.current}});
  for (const qualification::Run& run : s.runs) {
    const auto add = [&](MessageId id, const Span& value) {
      large.numbers.push_back({{id, {number("run", run.number, "")}}, span_cell(value, "")});
    };
    add("sheet.amperes", run.amperes);
    add("sheet.volts", run.volts);
    add("sheet.speed", run.speed_mm_s);
  }
  return large;
}

// What a gauge measures on a fillet around a brace, the seam's length from the frame's shape, and what each run takes for it.
void add_seam(Facts& f, const files::ProcedureReport& r, const design::Design& design) {
  const shape::Plan plan = shape::plan_of(design);
  const auto body = std::find_if(plan.welds.begin(), plan.welds.end(), [&](const shape::WeldBody& w) { return w.id == r.weld_id; });
  const double length = body == plan.welds.end() ? 0 : shape::seam_length_mm(*body);
  if (!(length > 0)) return;
  if (const auto* fillet = std::get_if<shape::FilletAround>(&body->body)) {
    f.facts.push_back({message_of("column.leg-crown"), Quantity{fillet->leg_crown_mm, "mm", 2}});
    if (fillet->leg_opposite_mm > 0) f.facts.push_back({message_of("column.leg-opposite"), Quantity{fillet->leg_opposite_mm, "mm", 2}});
    f.facts.push_back({message_of("column.leg-saddle"), Quantity{fillet->leg_saddle_mm, "mm", 2}});
    const auto weld = std::find_if(design.welds.begin(), design.welds.end(), [&](const joints::Weld& w) { return w.id == r.weld_id; });
    if (weld != design.welds.end() && weld->fusion_mm > 0) f.facts.push_back({message_of("column.fusion"), Quantity{weld->fusion_mm, "mm", 2}});
  }
  f.facts.push_back({message_of("sheet.seam-length"), Quantity{length, "mm", 3}});
  for (std::size_t i = 0; i < r.numbers.runs.size(); ++i) {
    const qualification::Run& run = r.file.sheet.runs[i];
    if (!(run.speed_mm_s.least > 0)) continue;
    f.facts.push_back({{"sheet.arc-time", {number("run", run.number, "")}},
                       span_cell({length / run.speed_mm_s.most, length / run.speed_mm_s.least}, "s")});
    f.facts.push_back({{"sheet.heat-in-seam", {number("run", run.number, "")}},
                       span_cell({r.numbers.runs[i].lowest * length, r.numbers.runs[i].highest * length}, "kJ")});
  }
}

// Numbers that were worked out stand small.
Facts worked_out_facts(const files::ProcedureReport& r, const design::Design* design) {
  Facts f{{}, true};
  for (std::size_t i = 0; i < r.numbers.runs.size(); ++i)
    f.facts.push_back({{"sheet.heat", {number("run", r.file.sheet.runs[i].number, "")}},
                       span_cell({r.numbers.runs[i].lowest, r.numbers.runs[i].highest}, "kJ/mm")});
  if (!r.weld_id.empty() && design) add_seam(f, r, *design);
  for (const Evidence& e : r.numbers.evidence) {
    const std::string name =
        e.subject.empty() ? e.figure : std::string(e.figure).append(" (").append(e.subject).append(")");
    f.facts.push_back({{e.from_memory ? MessageId("sheet.worked-from-memory") : "sheet.worked",
                        {term_argument("figure", "quantity.", name), text("source", e.source.key)}},
                       Quantity{e.value, e.unit, std::min(digits_computed, digits_of(e.figure))}});
  }
  return f;
}

}  // namespace

Document procedure_sheet(const files::ProcedureReport& r, const design::Design* design, const Anchor& a) {
  const Sheet& s = r.file.sheet;
  Document d;
  d.one_page = true;
  d.title = {"sheet.procedure-title", {text("name", s.name)}};
  d.blocks.emplace_back(procedure_answer(r));
  d.blocks.emplace_back(settings(s));
  if (!r.weld_id.empty() && design) {
    const joints::Weld& weld = files::weld_of(*design, r.weld_id);
    d.blocks.emplace_back(Paragraph{{"sheet.for-weld",
                                     {text("weld", weld.id), text("member", weld.member),
                                      text("chord", weld.chord), text("node", weld.node)}}});
  }
  d.blocks.emplace_back(TwoColumns{
      {PictureBlock{joint_section(s), {"sheet.section", {text("process", s.process)}}}, worked_out_facts(r, design)},
      {facts_by_hand(s)}});
  d.blocks.emplace_back(trade_cautions());
  Boxes checks{{}, 4};
  for (const MessageId id : MessageIds{"fill.gap", "fill.purge", "fill.filler-lot", "fill.machine",
                                       "fill.amperes", "fill.volts", "fill.speed", "fill.welder-day"})
    checks.boxes.push_back({message_of(id), 8});
  d.blocks.emplace_back(std::move(checks));
  if (!r.missing.empty()) {
    std::string items;
    for (const std::string& m : r.missing) items.append(items.empty() ? "" : ", ").append(m);
    d.blocks.emplace_back(Paragraph{{"procedure.missing", {text("items", items)}}});
  }
  d.blocks.emplace_back(Paragraph{message_of("procedure.memory")});
  if (!r.day.empty()) d.foot.push_back({"sheet.day", {text("day", r.day)}});
  anchor(d, a, s.revision.empty() ? s.id : s.id + " " + s.revision);
  return d;
}

}  // namespace seamwright::reports
