// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/procedure_blocks.h"

#include <algorithm>

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

using qualification::Check;
using qualification::Item;

void add_check(Document& d, MessageId heading, const Check& check) {
  if (check.empty()) return;
  d.blocks.emplace_back(Heading{2, message_of(heading)});
  Table t = table_of({"column.item", "column.found", "column.covered", "column.verdict", "column.source-of",
                      "column.clause"});
  for (const Item& i : check)
    t.rows.push_back({term_cell("item.", i.item), term_cell("found.", i.found), term_cell("found.", i.covered), range_state(i.answer),
                      source_cell(i.source.key), Verbatim{i.source.clause}});
  d.blocks.emplace_back(std::move(t));
  for (const Message& note : notes_of(check)) d.blocks.emplace_back(Paragraph{note});
}

std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& w : words) out.append(out.empty() ? "" : ", ").append(w);
  return out;
}

}  // namespace

State range_state(qualification::Answer answer) {
  return {answer == qualification::Answer::yes ? "within" : answer == qualification::Answer::no ? "beyond" : "undecided"};
}

State welder_state(qualification::Answer answer) {
  return {answer == qualification::Answer::yes ? "qualified" : answer == qualification::Answer::no ? "not-qualified" : "undecided"};
}

State judgement_state(inspection::Judgement judgement) {
  return {judgement == inspection::Judgement::accepted   ? "accepted"
          : judgement == inspection::Judgement::rejected ? "rejected"
                                                         : "engineer-decides"};
}

std::vector<Message> notes_of(const Check& check) {
  const auto same = [](const Message& a, const Message& b) {
    return a.id == b.id &&
           std::equal(a.arguments.begin(), a.arguments.end(), b.arguments.begin(), b.arguments.end(),
                      [](const Argument& x, const Argument& y) { return x.value == y.value; });
  };
  std::vector<Message> notes;
  for (const Item& i : check) {
    const bool said =
        std::any_of(notes.begin(), notes.end(), [&](const Message& m) { return same(m, i.note); });
    if (!i.note.id.empty() && !said) notes.push_back(i.note);
  }
  return notes;
}

Caution trade_cautions() {
  return {{message_of("caution.fume"), message_of("caution.radiation"), message_of("caution.gases"),
           message_of("caution.fire"), message_of("caution.local-codes")}};
}

reports::Answer procedure_answer(const files::ProcedureReport& r) {
  const Check all = files::all_checks_of(r);
  if (const Item* reason = qualification::first_reason(all))
    return {range_state(r.answer),
            {r.answer == qualification::Answer::no ? MessageId("procedure.unfit") : "procedure.undecided",
             {term_argument("item", "item.", reason->item), term_argument("found", "found.", reason->found),
              term_argument("covered", "found.", reason->covered)}}};
  return {range_state(r.answer), message_of(r.record.empty()    ? "procedure.no-record"
                                         : r.missing.empty() ? MessageId("procedure.fit")
                                                             : "procedure.incomplete")};
}

Document procedure_document(const files::ProcedureReport& r) {
  Document d;
  const qualification::Sheet& s = r.file.sheet;
  d.title = {"procedure.title", {text("id", s.id), text("name", s.name), text("revision", s.revision)}};
  d.blocks.emplace_back(procedure_answer(r));
  if (!r.file.record) d.blocks.emplace_back(Paragraph{message_of("procedure.preliminary")});
  d.blocks.emplace_back(trade_cautions());
  if (!r.missing.empty())
    d.blocks.emplace_back(Paragraph{{"procedure.missing", {text("items", listed(r.missing))}}});
  Table heats = table_of({"column.run", "column.heat-low", "column.heat-middle", "column.heat-high"});
  for (std::size_t i = 0; i < r.numbers.runs.size(); ++i)
    heats.rows.push_back({Quantity{static_cast<double>(s.runs[i].number), "", 3},
                          Quantity{r.numbers.runs[i].lowest, "kJ/mm", 3},
                          Quantity{r.numbers.runs[i].middle, "kJ/mm", 3},
                          Quantity{r.numbers.runs[i].highest, "kJ/mm", 3}});
  d.blocks.emplace_back(Heading{2, message_of("procedure.numbers")});
  if (!heats.rows.empty()) d.blocks.emplace_back(std::move(heats));
  Reasons numbers;
  for (const Evidence& e : r.numbers.evidence) numbers.reasons.push_back(reason_of(e));
  if (!numbers.reasons.empty()) d.blocks.emplace_back(std::move(numbers));
  add_check(d, "procedure.examined", r.numbers.examined);
  add_check(d, "procedure.hardness", r.numbers.hardness);
  add_check(d, "procedure.plausibility", r.numbers.plausibility);
  add_check(d, "procedure.node", r.numbers.node);
  add_check(d, "procedure.record", r.record);
  add_check(d, "procedure.weld", r.weld);
  add_check(d, "procedure.welder", r.welder);
  d.blocks.emplace_back(Paragraph{message_of("procedure.memory")});
  d.blocks.emplace_back(Paragraph{message_of("procedure.practice")});
  return d;
}

Document welders_document(const files::WeldersReport& r) {
  Document d;
  d.title = {"welders.title", {text("from", r.from), text("to", r.to)}};
  Table t = table_of({"column.weld", "column.procedure"});
  for (const std::string& name : r.certificates)
    t.columns.push_back({"column.source", {text("source", name)}});
  std::vector<std::string> nobody;
  for (const files::WelderRow& row : r.rows) {
    std::vector<Cell> cells{Verbatim{row.weld}, Verbatim{row.procedure.empty() ? "–" : row.procedure}};
    for (std::size_t i = 0; i < r.certificates.size(); ++i) {
      if (!row.why.empty())
        cells.emplace_back(Message{row.why, {}});
      else if (row.answers[i] == qualification::Answer::yes)
        cells.emplace_back(State{std::string("meets")});
      else
        cells.emplace_back(Message{
            "welders.reason",
            {term_argument("item", "item.", row.reasons[i].item), term_argument("covered", "found.", row.reasons[i].covered)}});
    }
    const bool someone =
        std::find(row.answers.begin(), row.answers.end(), qualification::Answer::yes) != row.answers.end();
    if (!someone) nobody.push_back(row.weld);
    t.rows.push_back(std::move(cells));
  }
  d.blocks.emplace_back(Answer{
      State{nobody.empty() ? "qualified" : "not-qualified"},
      {nobody.empty() ? MessageId("welders.all") : "welders.nobody", {text("welds", listed(nobody))}}});
  d.blocks.emplace_back(trade_cautions());
  d.blocks.emplace_back(std::move(t));
  Check reasons;
  for (const files::WelderRow& row : r.rows)
    reasons.insert(reasons.end(), row.reasons.begin(), row.reasons.end());
  for (const Message& note : notes_of(reasons)) d.blocks.emplace_back(Paragraph{note});
  d.blocks.emplace_back(Paragraph{message_of("procedure.memory")});
  return d;
}

namespace {

void add_bolts_and_spokes(Document& d, const files::InspectionReport& r) {
  if (!r.torques.empty()) {
    Table torques = table_of({"column.bolts", "column.count", "column.preload", "column.torque"});
    for (const study::BoltTorque& b : r.torques)
      torques.rows.push_back({Verbatim{b.bolts}, Quantity{static_cast<double>(b.count), "", 3},
                              Quantity{b.preload_n, "N", 3}, Quantity{b.torque_nm, "N m", 3}});
    d.blocks.emplace_back(Heading{2, message_of("inspection.torques")});
    d.blocks.emplace_back(std::move(torques));
  }
  if (!r.spokes.empty()) {
    Table spokes = table_of(
        {"column.wheel", "column.mean", "column.deviation", "column.least", "column.most", "column.outside"});
    for (const files::SpokeRow& w : r.spokes)
      spokes.rows.push_back({Verbatim{w.wheel}, Quantity{w.mean_n, "N", 3}, Quantity{w.deviation_n, "N", 2},
                             Quantity{w.least_n, "N", 3}, Quantity{w.most_n, "N", 3},
                             Verbatim{w.outside.empty() ? "–" : listed(w.outside)}});
    d.blocks.emplace_back(Heading{2, message_of("inspection.spokes")});
    d.blocks.emplace_back(std::move(spokes));
  }
}

}  // namespace

Document inspection_document(const files::InspectionReport& r) {
  Document d;
  d.title = {"inspection.title", {text("design", r.design)}};
  const bool open = std::any_of(r.rows.begin(), r.rows.end(),
                                [](const auto& x) { return x.judgement == inspection::Judgement::engineer; });
  d.blocks.emplace_back(Answer{judgement_state(!r.rejected.empty() ? inspection::Judgement::rejected
                                            : open              ? inspection::Judgement::engineer
                                                                : inspection::Judgement::accepted),
                               {!r.rejected.empty() ? "inspection.rejected"
                                : open              ? MessageId("inspection.open")
                                                    : "inspection.accepted",
                                {text("welds", listed(r.rejected))}}});
  d.blocks.emplace_back(trade_cautions());
  Table t = table_of({"column.weld", "column.imperfection", "column.name", "column.measured", "column.limit",
                      "column.level", "column.asked-by", "column.verdict"});
  for (const files::InspectedRow& row : r.rows)
    t.rows.push_back({Verbatim{row.finding.weld}, Verbatim{row.finding.imperfection}, term_cell("imperfection.", row.name),
                      Quantity{row.finding.value_mm, "mm", 3}, term_cell("found.", row.limit),
                      Verbatim{std::string(1, row.level)}, term_cell("found.", row.asked_by),
                      judgement_state(row.judgement)});
  d.blocks.emplace_back(std::move(t));
  if (!r.rejected.empty()) d.blocks.emplace_back(Paragraph{message_of("inspection.disposition")});
  if (!r.overdue.empty())
    d.blocks.emplace_back(Paragraph{{"inspection.overdue", {text("findings", listed(r.overdue))}}});
  add_bolts_and_spokes(d, r);
  Table dimensions = table_of({"column.dimension", "column.value", "column.tolerance"});
  for (const files::ToleranceRow& row : r.tolerances)
    dimensions.rows.push_back({Message{composed_id("dimension.", row.dimension), {}},
                               Quantity{row.length_mm, "mm", 5}, Quantity{row.tolerance_mm, "mm", 2}});
  d.blocks.emplace_back(
      Heading{2, {"inspection.tolerances", {text("class", std::string(1, r.tolerance_class))}}});
  d.blocks.emplace_back(std::move(dimensions));
  d.blocks.emplace_back(Heading{2, message_of("inspection.not-measured")});
  Table missing =
      table_of({"column.weld", "column.level", "column.asked-by", "column.methods", "column.not-measured"});
  for (const files::InspectedWeld& w : r.welds)
    missing.rows.push_back(
        {Verbatim{w.id},
         w.demand.no_undercut ? Cell(Message{"inspection.no-undercut", {text("level", std::string(1, w.demand.level))}})
                              : Cell(Verbatim{std::string(1, w.demand.level)}),
         term_cell("found.", w.demand.asked_by), Verbatim{w.methods}, Verbatim{listed(w.not_measured)}});
  d.blocks.emplace_back(std::move(missing));
  for (const MessageId id : MessageIds{"inspection.visual", "inspection.annex", "procedure.memory"})
    d.blocks.emplace_back(Paragraph{message_of(id)});
  return d;
}

}  // namespace seamwright::reports
