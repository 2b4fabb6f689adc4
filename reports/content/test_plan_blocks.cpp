// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/test_plan_blocks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <numeric>

#include "engine/fatigue/fit.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/frame_test_blocks.h"
#include "reports/content/specimen_picture.h"

namespace seamwright::reports {

namespace {

using study::TestForce;
using study::TubeUse;
using study::WeldTest;

Message force_name(TestForce force) { return message_of(composed_id("testplan.force-", study::name_of(force))); }

std::string list_of_words(const std::vector<std::string>& all) { return fmt::format("{}", fmt::join(all, ", ")); }

Cell section_cell(const frame::Section& section) {
  if (const auto* t = std::get_if<frame::RoundTube>(&section))
    return Message{"drawing.tube", {number("diameter", t->diameter_mm, ""), number("wall", t->wall_mm, "")}};
  const auto* bar = std::get_if<frame::SolidBar>(&section);
  return Message{"drawing.bar", {number("diameter", bar ? bar->diameter_mm : 0, "")}};
}

Block large_numbers(const WeldTest& t) {
  return LargeNumbers{{{message_of("testplan.pieces"), Quantity{static_cast<double>(t.pieces), "", 3}},
                       {message_of("testplan.force-range"), Quantity{t.force_range_n, "N", 3}},
                       {message_of("testplan.cycles"), cycles_cell(t.place.cycles)}}};
}

Table tubes_of(const study::Specimen& s) {
  Table t = table_of({"column.member", "column.tube", "testplan.length", "testplan.use"});
  for (const study::SpecimenTube& tube : s.tubes)
    t.rows.push_back({Verbatim{tube.member}, section_cell(tube.section), Quantity{tube.length_mm, "mm", 4},
                      message_of(composed_id("testplan.use-", study::name_of(tube.use)))});
  return t;
}

Facts weld_facts(const study::Specimen& s) {
  Facts f;
  add_fact(f, "column.angle", Quantity{s.angle_deg, "deg", 3});
  add_fact(f, "column.throat", Quantity{s.throat_mm, "mm", 3});
  add_fact(f, "column.leg-crown", Quantity{s.leg_crown_mm, "mm", 2});
  add_fact(f, "column.leg-saddle", Quantity{s.leg_saddle_mm, "mm", 2});
  add_fact(f, "column.procedure", s.procedure.empty() ? Cell(message_of("testplan.no-procedure")) : Cell(Verbatim{s.procedure}));
  return f;
}

void add_piece(Document& d, const WeldTest& t) {
  const study::Specimen& s = t.specimen;
  SpecimenPicture drawn = specimen_picture(t);
  d.blocks.emplace_back(PictureBlock{std::move(drawn.picture), {"testplan.drawn", {text("scale", "1:" + std::to_string(drawn.reduction))}}, true});
  d.blocks.emplace_back(tubes_of(s));
  d.blocks.emplace_back(weld_facts(s));
  d.blocks.emplace_back(Paragraph{{s.chord_held ? MessageId("testplan.held-by-chord") : "testplan.held-by-others", {text("chord", s.chord)}}});
}

void add_load(Document& d, const WeldTest& t) {
  d.blocks.emplace_back(Heading{3, message_of("testplan.load")});
  Facts f;
  add_fact(f, "testplan.force", force_name(t.force));
  add_fact(f, "testplan.force-span", Message{"testplan.newtons", {number("force_least", t.least_n, "N"), number("force_greatest", t.greatest_n, "N")}});
  add_fact(f, "testplan.place", Message{"testplan.at-weld", {text("weld", t.place.weld), site_argument("site", t.place.site)}});
  add_fact(f, "testplan.range", Quantity{t.range_mpa, "MPa", 3});
  add_fact(f, "testplan.per-kilonewton", Quantity{1000 * std::abs(t.place.mpa_per_n), "MPa/kN", 3});
  add_fact(f, "testplan.nominal", Quantity{t.nominal_mpa, "MPa", 3});
  add_fact(f, "testplan.yield", t.yield_mpa > 0 ? Cell(Quantity{t.yield_mpa, "MPa", 3}) : Cell(message_of("testplan.not-stated")));
  add_fact(f, "testplan.stroke", Quantity{std::abs(t.stroke_mm), "mm", 2});
  d.blocks.emplace_back(std::move(f));
  if (t.lowered) d.blocks.emplace_back(Paragraph{{"testplan.lowered", {text("member", t.nominal_member)}}});
  if (!(t.yield_mpa > 0)) d.blocks.emplace_back(Paragraph{{"testplan.check-yield", {text("member", t.nominal_member), number("stress_range", t.nominal_mpa, "MPa")}}});
  Table choices = table_of({"column.force", "testplan.damage-alone", "testplan.per-kilonewton"});
  for (const study::ForceChoice& c : t.choices)
    choices.rows.push_back({force_name(c.force), Quantity{100 * c.damage_share, "%", 2}, Quantity{1000 * std::abs(c.mpa_per_n), "MPa/kN", 3}});
  d.blocks.emplace_back(std::move(choices));
  const double share = t.choices[static_cast<std::size_t>(t.force)].damage_share;
  if (share < 0.5) d.blocks.emplace_back(Paragraph{{"testplan.mostly-others", {number("share", 100 * share, "%")}}});
}

void add_prediction(Document& d, const WeldTest& t) {
  d.blocks.emplace_back(Heading{3, message_of("testplan.prediction")});
  Facts f;
  add_fact(f, "testplan.cycles", cycles_cell(t.place.cycles));
  add_fact(f, "testplan.one", cycles_span(t.one));
  add_fact(f, "testplan.mean", cycles_span(t.mean));
  add_fact(f, "testplan.stop", stop_cell(t.run_out));
  add_fact(f, "column.curve", curve_cell(t.curve));
  add_fact(f, "testplan.slope", Quantity{t.slope, "", 2});
  add_fact(f, "testplan.joint-deviation", Quantity{t.joint_deviation, "", 2});
  add_fact(f, "testplan.curve-deviation", Quantity{t.curve_deviation / std::log(10.0), "", 2});
  d.blocks.emplace_back(std::move(f));
  if (t.first.weld != t.place.weld || t.first.site != t.place.site)
    d.blocks.emplace_back(Paragraph{{"testplan.other-first", {text("weld", t.first.weld), site_argument("site", t.first.site), number("median_cycles", t.first.cycles, ""),
                                                              site_argument("place", t.place.site)}}});
}

void add_result(Document& d, const WeldTest& t, const TestPlanReport& r) {
  const double km = r.service_km;
  d.blocks.emplace_back(Heading{3, message_of("testplan.result")});
  Table table = table_of({"testplan.observed", "testplan.bias", "testplan.life-then", "testplan.interval-then", "testplan.class-mean", "testplan.class-design"});
  for (const study::TestOutcome& o : t.outcomes)
    table.rows.push_back({Quantity{o.cycles_ratio, "", 2}, Quantity{o.joint_bias, "", 3}, Quantity{o.life * km, "km", 2}, km_span(o.life_interval, km),
                          Quantity{o.mean_mpa_2e6, "MPa", 3}, Quantity{o.design_mpa_2e6, "MPa", 3}});
  d.blocks.emplace_back(std::move(table));
  Facts f;
  add_fact(f, "testplan.mean-error", Message{"testplan.either-way", {number("scatter", t.half_width, ""), number("factor", std::pow(10, t.half_width), "")}});
  add_fact(f, "testplan.joint-left", Message{"testplan.before-after", {number("deviation_before", t.joint_deviation, ""), number("deviation_after", t.deviation_left, "")}});
  add_fact(f, "testplan.class", Quantity{t.class_mpa_2e6, "MPa", 3});
  add_fact(f, "testplan.in-table", Message{"testplan.range-for", {number("stress_range", t.range_mpa, "MPa"), number("stress_rate", 1000 * std::abs(t.place.mpa_per_n), "MPa/kN")}});
  add_fact(f, "testplan.then", Verbatim{fit_command(t, r.job)});
  d.blocks.emplace_back(std::move(f));
  d.blocks.emplace_back(Paragraph{{"testplan.replaces", {term_argument("kind", "joint-kind.", t.kind), site_argument("place", t.place_kind), number("wall", t.wall_mm, "mm")}}});
}

void add_weld(Document& d, const WeldTest& t, const TestPlanReport& r) {
  const double km = r.service_km;
  d.blocks.emplace_back(PageBreak{});
  d.blocks.emplace_back(Heading{2, {"testplan.weld", {text("weld", t.specimen.weld), text("member", t.specimen.member), text("chord", t.specimen.chord)}}});
  d.blocks.emplace_back(Paragraph{{"testplan.why", {site_argument("site", t.governing_site), number("life", t.life.median * km, "km"), number("earliest", t.life.low * km, "km"),
                                                    number("latest", t.life.high * km, "km"), number("service", km, "km")}}});
  if (!t.alike.empty()) d.blocks.emplace_back(Paragraph{{"testplan.alike", {text("welds", list_of_words(t.alike))}}});
  d.blocks.emplace_back(large_numbers(t));
  add_piece(d, t);
  d.blocks.emplace_back(PageBreak{});
  add_load(d, t);
  add_prediction(d, t);
  add_result(d, t, r);
}

// All pieces have this in common.
void add_common(Document& d, const TestPlanReport& r) {
  const fatigue::FitOptions how;
  const auto factor = [&](int n) { return fatigue::tolerance_factor(n, n - 1, how.survival, how.confidence); };
  d.blocks.emplace_back(Heading{2, message_of("testplan.every-piece")});
  const std::string drawing = "seamwright sheet drawing " + r.job + " --weld " + r.tests.plan.tests[0].specimen.weld + " --out joint.pdf";
  for (const Message& m :
       {Message{"testplan.lengths", {text("command", drawing)}}, message_of("testplan.chosen"), message_of("testplan.sign"), message_of("testplan.what-scatters"),
        message_of("testplan.stop-how"), message_of("testplan.saw-open"), message_of("testplan.table"), message_of("testplan.result-how"),
        Message{"testplan.few-cost", {number("three_pieces", factor(3), ""), number("six_pieces", factor(6), ""), number("ten_pieces", factor(10), "")}},
        message_of("testplan.taken-up")})
    d.blocks.emplace_back(Paragraph{m});
}

}  // namespace

std::string fit_command(const WeldTest& t, const std::string& job) {
  std::string id = t.specimen.weld + "-" + t.place_kind;
  std::transform(id.begin(), id.end(), id.begin(), [](unsigned char c) { return std::isalnum(c) ? static_cast<char>(std::tolower(c)) : '-'; });
  return fmt::format("seamwright fit tests.csv --slope {:.3g} --out {}/details/{}.toml --id {} --kind {} --place {} --stress {} --min-wall {} --max-wall {} --by NAME",
                     t.slope, job, id, id, t.kind, t.place_kind, fatigue::name_of(t.stress), t.wall_mm, t.wall_mm);
}

Document test_plan_document(const TestPlanReport& r) {
  Document d;
  d.title = {"testplan.title", {text("design", r.design)}};
  d.blocks.emplace_back(Caution{{message_of("testplan.caution-rig"), message_of("testplan.caution-leak"), message_of("testplan.caution-estimate"),
                                 message_of("caution.local-codes")}});
  d.blocks.emplace_back(Paragraph{message_of("testplan.intro")});
  if (!r.tests.plan.tests.empty()) {
    Table t = table_of({"column.weld", "column.brace", "column.chord", "column.site", "column.force", "testplan.force-range", "testplan.cycles", "testplan.one"});
    for (const WeldTest& w : r.tests.plan.tests)
      t.rows.push_back({Verbatim{w.specimen.weld}, Verbatim{w.specimen.member}, Verbatim{w.specimen.chord}, site_cell(w.place.site), force_name(w.force),
                        Quantity{w.force_range_n, "N", 3}, cycles_cell(w.place.cycles), cycles_span(w.one)});
    d.blocks.emplace_back(std::move(t));
  } else {
    d.blocks.emplace_back(Paragraph{message_of("testplan.none")});
  }
  for (const Message& m : r.tests.plan.left_out) d.blocks.emplace_back(Paragraph{m});
  if (!r.tests.plan.tests.empty()) add_common(d, r);
  for (const WeldTest& w : r.tests.plan.tests) add_weld(d, w, r);
  add_frame_tests(d, r);
  return d;
}

}  // namespace seamwright::reports
