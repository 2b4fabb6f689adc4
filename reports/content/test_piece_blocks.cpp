// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/test_piece_blocks.h"

#include "reports/content/evidence_blocks.h"
#include "reports/content/procedure_blocks.h"

namespace seamwright::reports {

namespace {

using qualification::JointForm;
using qualification::Variables;

std::string names(const std::vector<std::size_t>& welds, const std::vector<std::string>& ids) {
  std::string out;
  for (const std::size_t i : welds) out.append(out.empty() ? "" : ", ").append(ids[i]);
  return out;
}

Cell tube_cell(double diameter, double wall) {
  if (!(wall > 0)) return Verbatim{"–"};
  if (!(diameter > 0)) return Message{"pieces.plate", {number("wall", wall, "mm")}};
  return Message{"section.tube", {number("diameter", diameter, ""), number("wall", wall, "")}};
}

void add_open(Document& d, const std::vector<qualification::OpenWeld>& open, const std::vector<std::string>& ids) {
  if (open.empty()) return;
  d.blocks.emplace_back(Paragraph{message_of("pieces.open")});
  Table t = table_of({"column.weld", "column.item", "column.found", "column.covered"});
  for (const qualification::OpenWeld& w : open)
    t.rows.push_back({Verbatim{ids[w.weld]}, term_cell("item.", w.reason.item), term_cell("found.", w.reason.found),
                      term_cell("found.", w.reason.covered)});
  d.blocks.emplace_back(std::move(t));
}

Message examinations_for(const Variables& v) {
  return message_of(v.form == JointForm::butt     ? MessageId("pieces.tests-butt")
                    : v.form == JointForm::branch ? MessageId("pieces.tests-branch")
                                                  : MessageId("pieces.tests-fillet"));
}

}  // namespace

Document test_piece_document(const files::TestPieceReport& r) {
  Document d;
  d.title = message_of("pieces.title");
  const bool all = r.procedures.open.empty() && r.welders.open.empty();
  d.blocks.emplace_back(Answer{State{all ? "qualified" : "undecided"},
                               {all ? MessageId("pieces.all") : "pieces.some-open",
                                {number("procedures", static_cast<double>(r.procedures.pieces.size()), ""),
                                 number("welders", static_cast<double>(r.welders.pieces.size()), ""),
                                 number("welds", static_cast<double>(r.welds.size()), "")}}});
  d.blocks.emplace_back(trade_cautions());
  d.blocks.emplace_back(Heading{2, message_of("pieces.procedures")});
  Table t = table_of({"column.number", "column.procedure", "column.joint-of-piece", "column.brace-piece", "column.chord-piece", "column.angle",
                      "column.standard-of", "column.examinations", "column.welds"});
  for (std::size_t i = 0; i < r.procedures.pieces.size(); ++i) {
    const qualification::ProcedurePiece& p = r.procedures.pieces[i];
    const Variables& v = p.record.tested;
    t.rows.push_back({Quantity{static_cast<double>(i + 1), "", 3}, Verbatim{p.procedure}, term_cell("found.", name_of(v.form)),
                      tube_cell(v.diameter_mm, v.thickness_mm), tube_cell(v.other_diameter_mm, v.other_thickness_mm),
                      v.form == JointForm::branch ? Cell(Quantity{v.branch_angle_deg, "°", 3}) : Cell(Verbatim{"–"}),
                      Verbatim{p.record.pre_production ? "ISO 15613" : "ISO 15614-1"}, examinations_for(v), Verbatim{names(p.welds, r.welds)}});
  }
  d.blocks.emplace_back(std::move(t));
  add_open(d, r.procedures.open, r.welds);
  d.blocks.emplace_back(Heading{2, message_of("pieces.welders")});
  Table w = table_of({"column.number", "column.designation", "column.welds"});
  for (std::size_t i = 0; i < r.welders.pieces.size(); ++i)
    w.rows.push_back({Quantity{static_cast<double>(i + 1), "", 3}, Verbatim{text_of(r.welders.pieces[i].designation)},
                      Verbatim{names(r.welders.pieces[i].welds, r.welds)}});
  d.blocks.emplace_back(std::move(w));
  add_open(d, r.welders.open, r.welds);
  if (!r.procedures.proven || !r.welders.proven) d.blocks.emplace_back(Paragraph{message_of("pieces.not-proven")});
  for (const MessageId id : MessageIds{"pieces.how", "pieces.left-open", "procedure.memory"}) d.blocks.emplace_back(Paragraph{message_of(id)});
  return d;
}

Document due_document(const DueReport& r) {
  Document d;
  d.title = {"due.title", {text("day", r.day)}};
  Table t = table_of({"column.due", "column.days-left", "column.kind-of-due", "column.of", "column.who"});
  bool lapsed = false;
  for (const files::DueRow& row : r.rows) {
    lapsed = lapsed || row.lapsed;
    const MessageId what = row.what == files::DueRow::What::confirmation   ? MessageId("due.confirmation")
                           : row.what == files::DueRow::What::prolongation ? MessageId("due.prolongation")
                                                                           : MessageId("due.calibration");
    t.rows.push_back({Verbatim{qualification::text_of(row.on)},
                      row.lapsed ? Cell(message_of("due.past")) : Cell(Quantity{static_cast<double>(row.days), "", 5}), message_of(what),
                      Verbatim{row.id}, Verbatim{row.who}});
  }
  d.blocks.emplace_back(Answer{State{lapsed ? "not-qualified" : "qualified"}, message_of(r.rows.empty() ? MessageId("due.none") : lapsed ? MessageId("due.some-past") : MessageId("due.next"))});
  d.blocks.emplace_back(std::move(t));
  d.blocks.emplace_back(Paragraph{message_of("due.rules")});
  return d;
}

}  // namespace seamwright::reports
