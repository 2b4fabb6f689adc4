// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "engine/shape/fillet.h"
#include "engine/shape/plan.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/joint_section.h"
#include "reports/content/weld_sketch.h"
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

namespace {

std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& w : words) out.append(out.empty() ? "" : ", ").append(w);
  return out;
}

std::string joined(std::string a, const std::string& b) {
  return b.empty() ? a : a.empty() ? b : a.append(", ").append(b);
}

// A row of words; without the rule that asks for it, only where it is stated.
void add_words(Facts& f, MessageId id, const std::string& value, bool asked = true) {
  if (asked || !value.empty())
    f.facts.push_back({message_of(id), value.empty() ? Cell(message_of("sheet.not-stated")) : Cell(Verbatim{value})});
}

}  // namespace

Facts facts_by_hand(const Sheet& s) {
  const bool tungsten = s.process.starts_with("14"), wire = s.process.starts_with("13");
  Facts f;
  add_words(f, "sheet.filler", joined(joined(s.filler, stated_text(s, "filler_size")), stated_text(s, "filler_make")));
  add_words(f, "sheet.drying", stated_text(s, "drying"));
  add_words(f, "sheet.gas", joined(s.gas, stated_text(s, "gas_flow")));
  add_words(f, "sheet.purge", stated_text(s, "back_purge"));
  add_words(f, "sheet.tungsten", stated_text(s, "tungsten"), tungsten);
  add_words(f, "sheet.nozzle", stated_text(s, "nozzle"), tungsten || wire);
  add_words(f, "sheet.torch", stated_text(s, "torch"));
  add_words(f, "sheet.transfer", stated_text(s, "transfer"), wire);
  add_words(f, "sheet.stick-out", stated_text(s, "stick_out"), wire);
  add_words(f, "sheet.wire-feed", stated_text(s, "wire_feed"), wire);
  add_words(f, "sheet.pulse", stated_text(s, "pulse"), s.current.starts_with("pulsed"));
  f.facts.push_back({message_of("sheet.preheat"), Quantity{s.preheat_c, "°C", 3}});
  f.facts.push_back({message_of("sheet.interpass"), Quantity{s.interpass_c, "°C", 3}});
  add_words(f, "sheet.preparation", stated_text(s, "preparation"));
  add_words(f, "sheet.gap", stated_text(s, "gap"));
  add_words(f, "sheet.cleaning", stated_text(s, "cleaning"));
  add_words(f, "sheet.fixture", stated_text(s, "fixture"));
  add_words(f, "sheet.tacking", stated_text(s, "tacking"));
  add_words(f, "sheet.position", listed(s.positions));
  add_words(f, "sheet.sequence", joined(stated_text(s, "sequence"), stated_text(s, "welding_order")));
  add_words(f, "sheet.weaving", stated_text(s, "weaving"));
  add_words(f, "sheet.back-gouging", stated_text(s, "back_gouging"), s.both_sides);
  add_words(f, "sheet.after", stated_text(s, "post_heating"));
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

const shape::WeldBody* body_of(const shape::Plan& plan, const std::string& weld) {
  const auto body = std::find_if(plan.welds.begin(), plan.welds.end(), [&](const shape::WeldBody& w) { return w.id == weld; });
  return body == plan.welds.end() ? nullptr : &*body;
}

// What a gauge measures on a fillet around a brace, and the seam's length from the frame's shape; nothing without a weld of the design.
Facts seam_facts(const std::string& id, const design::Design* design) {
  Facts f{{}, true};
  if (id.empty() || !design) return f;
  const shape::Plan plan = shape::plan_of(*design);
  const shape::WeldBody* body = body_of(plan, id);
  const double length = body ? shape::seam_length_mm(*body) : 0;
  if (!(length > 0)) return f;
  if (const auto* fillet = std::get_if<shape::FilletAround>(&body->body)) {
    f.facts.push_back({message_of("column.leg-crown"), Quantity{fillet->leg_crown_mm, "mm", 2}});
    if (fillet->leg_opposite_mm > 0) f.facts.push_back({message_of("column.leg-opposite"), Quantity{fillet->leg_opposite_mm, "mm", 2}});
    f.facts.push_back({message_of("column.leg-saddle"), Quantity{fillet->leg_saddle_mm, "mm", 2}});
    const double fusion = files::weld_of(*design, id).fusion_mm;
    if (fusion > 0) f.facts.push_back({message_of("column.fusion"), Quantity{fusion, "mm", 2}});
  }
  f.facts.push_back({message_of("sheet.seam-length"), Quantity{length, "mm", 3}});
  return f;
}

// Who answers for the procedure, what it is for, and its ranges.
Facts identity_facts(const Sheet& s) {
  Facts f{{}, true};
  add_words(f, "sheet.maker", s.maker);
  add_words(f, "sheet.record", s.record);
  add_words(f, "sheet.material", joined(stated_text(s, "material"), stated_text(s, "delivery_condition")));
  add_words(f, "sheet.groups", listed(s.groups));
  f.facts.push_back({message_of("sheet.process"),
                     Message{"sheet.process-mechanised", {text("process", s.process), term_argument("mechanisation", "found.", s.mechanisation)}}});
  f.facts.push_back({message_of("sheet.joint"), term_cell("found.", qualification::name_of(s.form))});
  const auto add_span = [&](MessageId id, const Span& span, const char* unit, bool asked = true) {
    if (asked || span.stated()) f.facts.push_back({message_of(id), span_cell(span, unit)});
  };
  add_span("sheet.wall", s.wall_mm, "mm");
  add_span("sheet.other-wall", s.other_wall_mm, "mm", false);
  add_span("sheet.diameter", s.diameter_mm, "mm");
  add_span("sheet.other-diameter", s.other_diameter_mm, "mm", false);
  add_span("sheet.angle", s.angle_deg, "°", s.form == qualification::JointForm::branch);
  add_span("sheet.throat", s.throat_mm, "mm", false);
  return f;
}

// The weld's own joint to scale where the design draws it, else the section of the procedure.
PictureBlock picture_of_joint(const files::ProcedureReport& r, const design::Design* design) {
  const Sheet& s = r.file.sheet;
  if (!r.weld_id.empty() && design)
    if (auto sketch = weld_sketch(*design, files::weld_of(*design, r.weld_id), s))
      return {std::move(sketch->picture), {"sheet.sketch", {number("reduction", sketch->reduction, "")}}};
  return {joint_section(s), {"sheet.section", {text("process", s.process)}}};
}

// Numbers that were worked out stand small: heat and time of each pass; without a weld what the check of the procedure shows.
Facts worked_out_facts(const files::ProcedureReport& r, const design::Design* design) {
  Facts f{{}, true};
  double length = 0;
  if (!r.weld_id.empty() && design) {
    const shape::Plan plan = shape::plan_of(*design);
    const shape::WeldBody* body = body_of(plan, r.weld_id);
    length = body ? shape::seam_length_mm(*body) : 0;
  }
  for (std::size_t i = 0; i < r.numbers.runs.size(); ++i) {
    const qualification::Run& run = r.file.sheet.runs[i];
    const qualification::RunHeat& heat = r.numbers.runs[i];
    f.facts.push_back({{"sheet.heat", {number("run", run.number, "")}}, span_cell({heat.lowest, heat.highest}, "kJ/mm")});
    if (!(length > 0) || !(run.speed_mm_s.least > 0)) continue;
    f.facts.push_back({{"sheet.arc-time", {number("run", run.number, "")}}, span_cell({length / run.speed_mm_s.most, length / run.speed_mm_s.least}, "s")});
    f.facts.push_back({{"sheet.heat-in-seam", {number("run", run.number, "")}}, span_cell({heat.lowest * length, heat.highest * length}, "kJ")});
  }
  if (!r.weld_id.empty()) return f;
  for (const Evidence& e : r.numbers.evidence) {
    const std::string name =
        e.subject.empty() ? e.figure : std::string(e.figure).append(" (").append(e.subject).append(")");
    f.facts.push_back({{e.from_memory ? MessageId("sheet.worked-from-memory") : "sheet.worked",
                        {term_argument("figure", "quantity.", name), source_argument(e.source.key)}},
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
      {picture_of_joint(r, design), identity_facts(s), seam_facts(r.weld_id, design)}, {facts_by_hand(s), worked_out_facts(r, design)}});
  d.blocks.emplace_back(trade_cautions());
  Boxes checks{{}, 4};
  for (const MessageId id : MessageIds{"fill.gap", "fill.purge", "fill.filler-lot", "fill.machine",
                                       "fill.amperes", "fill.volts", "fill.speed", "fill.welder-day"})
    checks.boxes.push_back({message_of(id), 7});
  d.blocks.emplace_back(std::move(checks));
  Boxes approvals{{}, 3};
  for (const MessageId id : MessageIds{"fill.prepared", "fill.coordinator", "fill.examiner"}) approvals.boxes.push_back({message_of(id), 7});
  d.blocks.emplace_back(std::move(approvals));
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
