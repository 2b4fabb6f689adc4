// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/improve_blocks.h"

#include <cmath>

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

Message size_of(const frame::RoundTube& t) { return {"improve.size", {number("diameter", t.diameter_mm, ""), number("wall", t.wall_mm, "mm")}}; }

State state_of(const study::FrameFigures& f) {
  return State{!f.possible || f.shortfall > 0 || f.falling_short > 0 ? "falls_short" : f.uncovered > 0 ? "not_covered" : "meets"};
}

std::vector<Cell> row_of(const Message& name, const study::FrameFigures& f) {
  return {name,
          Quantity{f.mass_kg, "kg", 4},
          Quantity{f.weld_kg, "kg", 2},
          Quantity{f.price, "", 4},
          Quantity{f.cracked_of_1000, "", 2},
          Quantity{100 * f.peak_use, "%", 2},
          Quantity{static_cast<double>(f.sizes), "", 4},
          Verbatim{f.weld},
          state_of(f)};
}

Message answer_name(std::size_t i) { return {"improve.answer", {number("number", static_cast<double>(i + 1), "")}}; }

// A share of frames is told with the two digits that are true.
Argument frames(const char* name, double of_1000) {
  if (!(of_1000 > 0)) return number(name, of_1000, "");
  const double step = std::pow(10, std::floor(std::log10(of_1000)) - 1);
  return number(name, std::round(of_1000 / step) * step, "");
}

Answer headline(const study::Improvement& found) {
  if (found.answers.empty()) return {State{"falls_short"}, message_of("improve.none")};
  const study::FrameFigures &best = found.answers[0].figures, &drawn = found.drawn;
  const std::vector<Argument> numbers{number("mass", best.mass_kg, "kg"), number("drawn", drawn.mass_kg, "kg"),
                                      frames("of", best.cracked_of_1000), frames("before", drawn.cracked_of_1000)};
  if (!found.reached) return {State{"falls_short"}, {"improve.nearest", numbers}};
  return {state_of(best), {found.aim == study::Aim::price ? MessageId("improve.cheapest") : "improve.lightest", numbers}};
}

Table overview(const study::Improvement& found) {
  Table t = table_of({"column.frame", "column.tube-mass", "column.weld-mass", "column.price", "column.cracked", "column.peak-use", "column.sizes",
                      "column.governs", "column.verdict"});
  t.rows.push_back(row_of(message_of("improve.drawn"), found.drawn));
  for (std::size_t i = 0; i < found.answers.size(); ++i) t.rows.push_back(row_of(answer_name(i), found.answers[i].figures));
  t.first_to_go = {2, 6, 5, 3};
  return t;
}

Table changes_of(const study::ImprovedFrame& f) {
  Table t = table_of({"column.tube", "column.as-is", "column.changed", "column.back-mass", "column.back-cracked", "column.governs", "column.back-verdict"});
  for (const study::ImproveChange& c : f.changes) {
    const Message from = c.throat ? message_of("improve.throats-drawn") : size_of(c.from);
    const Message to = c.throat ? Message{"improve.throats-times", {number("times", c.multiple, "")}} : size_of(c.to);
    const double nan = std::nan("");
    t.rows.push_back({Verbatim{c.tube}, from, to, Quantity{c.back.mass_kg + c.back.weld_kg - f.figures.mass_kg - f.figures.weld_kg, "kg", 2},
                      Quantity{c.back.possible ? c.back.cracked_of_1000 : nan, "", 2}, Verbatim{c.back.weld},
                      Verbatim{}});
    if (c.back.possible) t.rows.back().back() = state_of(c.back);
    else t.rows.back().back() = message_of("improve.impossible");
  }
  t.first_to_go = {5};
  return t;
}

void add_answer(Document& d, const study::Improvement& found, std::size_t i, const files::WrittenAnswer* written) {
  const study::ImprovedFrame& f = found.answers[i];
  d.blocks.emplace_back(Heading{2, answer_name(i)});
  if (f.changes.empty()) {
    d.blocks.emplace_back(Paragraph{message_of("improve.no-change")});
  } else {
    d.blocks.emplace_back(Paragraph{message_of("improve.buys")});
    d.blocks.emplace_back(changes_of(f));
  }
  for (const study::OtherRules& o : f.other_rules)
    d.blocks.emplace_back(Paragraph{{o.vanishes ? MessageId("improve.vanishes") : "improve.holds",
                                     {text("set", o.set), frames("before", o.before), frames("after", o.after)}}});
  if (!written) return;
  if (!written->confirmed)
    d.blocks.emplace_back(Paragraph{{"improve.written", {text("folder", written->folder)}}});
  else
    d.blocks.emplace_back(Paragraph{{"improve.confirmed",
                                     {text("folder", written->folder), sentence_argument("verdict", composed_id("state.", name_of(written->verdict))),
                                      frames("of", written->cracked_of_1000), text("weld", written->weld)}}});
}

}  // namespace

Document improve_document(const study::Improvement& found, const std::vector<files::WrittenAnswer>& written) {
  Document d;
  d.title = message_of("improve.title");
  d.blocks.emplace_back(headline(found));
  d.blocks.emplace_back(cautions());
  d.blocks.emplace_back(overview(found));
  if (!found.reached && !found.limits.empty()) {
    std::string names;
    for (const std::string& n : found.limits) names.append(names.empty() ? "" : ", ").append(n);
    d.blocks.emplace_back(Paragraph{{"improve.broken", {text("names", names)}}});
  }
  for (const Message& m : found.shape) d.blocks.emplace_back(Paragraph{m});
  if (!found.shape.empty() || found.drawn.uncovered > 0)
    d.blocks.emplace_back(Paragraph{{"improve.unmended", {number("places", static_cast<double>(found.drawn.uncovered), "")}}});
  for (std::size_t i = 0; i < found.answers.size(); ++i) add_answer(d, found, i, i < written.size() ? &written[i] : nullptr);
  if (!found.choices.kept.empty()) {
    d.blocks.emplace_back(Heading{2, message_of("improve.kept")});
    Table t = table_of({"column.tube", "column.as-is", "column.reason"});
    for (const study::KeptTube& k : found.choices.kept)
      t.rows.push_back({Verbatim{k.tube}, size_of(k.size), Message{k.why, {text("name", k.because)}}});
    d.blocks.emplace_back(std::move(t));
  }
  d.blocks.emplace_back(Paragraph{{composed_id("improve.end-", name_of(found.end)), {number("trials", static_cast<double>(found.trials), "")}}});
  d.blocks.emplace_back(Paragraph{message_of("improve.how")});
  return d;
}

}  // namespace seamwright::reports
