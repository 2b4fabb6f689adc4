// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "reports/content/evidence_blocks.h"
#include "reports/sheets/sheets.h"

namespace seamwright::reports {

namespace {

// Welds that share all their limits share a letter, so that each limit is printed once.
struct Classes {
  std::vector<const files::InspectedWeld*> first;  ///< one weld of each
  std::size_t class_of(const files::InspectedWeld& weld) {
    const auto it = std::find_if(first.begin(), first.end(),
                                 [&](const files::InspectedWeld* w) { return w->limits == weld.limits; });
    if (it != first.end()) return static_cast<std::size_t>(it - first.begin());
    first.push_back(&weld);
    return first.size() - 1;
  }
};

std::string class_letter(std::size_t index) {
  std::string name;
  for (std::size_t i = index + 1; i > 0; i = (i - 1) / 26)
    name.insert(name.begin(), static_cast<char>('a' + (i - 1) % 26));
  return name;
}

// One row for each imperfection, one column for each class.
Table limits_of(const Classes& classes, std::size_t from, std::size_t to) {
  Table t = table_of({"column.imperfection", "column.name"});
  for (std::size_t i = from; i < to; ++i)
    t.columns.push_back({"sheet.limits-class", {text("class", class_letter(i))}});
  std::vector<files::LimitRow> rows;
  for (std::size_t i = from; i < to; ++i)
    for (const files::LimitRow& row : classes.first[i]->limits)
      if (std::none_of(rows.begin(), rows.end(),
                       [&](const files::LimitRow& r) { return r.number == row.number; }))
        rows.push_back(row);
  std::sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.number < b.number; });
  for (const files::LimitRow& row : rows) {
    std::vector<Cell> cells{Verbatim{row.number}, term_cell("imperfection.", row.name)};
    for (std::size_t i = from; i < to; ++i) {
      const auto& limits = classes.first[i]->limits;
      const auto it =
          std::find_if(limits.begin(), limits.end(), [&](const auto& l) { return l.number == row.number; });
      cells.emplace_back(it == limits.end() ? Cell(Verbatim{"–"})
                                            : Cell(Message{"sheet.limit", {term_argument("limit", "found.", it->limit)}}));
    }
    t.rows.push_back(std::move(cells));
  }
  return t;
}

Cell throat_cell(const design::Design& design, const std::string& id) {
  const auto weld = std::find_if(design.welds.begin(), design.welds.end(), [&](const joints::Weld& w) { return w.id == id; });
  return weld == design.welds.end() || !(weld->throat_mm > 0) ? Cell(Verbatim{"–"}) : Cell(Quantity{weld->throat_mm, "mm", 3});
}

void add_welds(Document& d, const files::InspectionReport& r, const design::Design& design) {
  Classes classes;
  Table t = table_of({"column.weld", "column.level", "column.asked-by", "column.limits", "column.methods",
                      "column.throat-asked", "column.throat-box", "column.undercut-box", "column.others", "column.accept-reject", "column.initials"});
  for (const files::InspectedWeld& w : r.welds)
    t.rows.push_back(
        {Verbatim{w.id},
         Message{w.demand.no_undercut ? MessageId("sheet.level-no-undercut") : "sheet.level",
                 {text("level", std::string(1, w.demand.level))}},
         Message{w.demand.asked_by == "category" ? MessageId("sheet.by-category") : "sheet.by-coverage", {}},
         Verbatim{class_letter(classes.class_of(w))}, Verbatim{w.methods}, throat_cell(design, w.id), EntryBox{}, EntryBox{}, EntryBox{},
         EntryBox{}, EntryBox{}});
  d.blocks.emplace_back(Heading{2, message_of("sheet.limits")});
  constexpr std::size_t across = 7;
  for (std::size_t from = 0; from < classes.first.size(); from += across)
    d.blocks.emplace_back(limits_of(classes, from, std::min(from + across, classes.first.size())));
  d.blocks.emplace_back(Heading{2, message_of("sheet.welds-to-fill")});
  d.blocks.emplace_back(Paragraph{message_of("sheet.how-to-fill")});
  d.blocks.emplace_back(std::move(t));
}

void add_findings(Document& d, const files::InspectionReport& r) {
  if (r.rows.empty()) return;
  d.blocks.emplace_back(Heading{2, message_of("sheet.findings")});
  Table t = table_of({"column.weld", "column.imperfection", "column.name", "column.measured", "column.limit",
                      "column.verdict"});
  for (const files::InspectedRow& row : r.rows)
    t.rows.push_back({Verbatim{row.finding.weld}, Verbatim{row.finding.imperfection}, term_cell("imperfection.", row.name),
                      Quantity{row.finding.value_mm, "mm", 3}, term_cell("found.", row.limit),
                      judgement_state(row.judgement)});
  d.blocks.emplace_back(std::move(t));
}

void add_sizes_and_bolts(Document& d, const files::InspectionReport& r) {
  Table sizes = table_of(
      {"column.dimension", "column.value", "column.tolerance", "column.measured-mm", "column.initials"});
  for (const files::ToleranceRow& row : r.tolerances)
    sizes.rows.push_back({Message{composed_id("dimension.", row.dimension), {}},
                          Quantity{row.length_mm, "mm", 5}, Quantity{row.tolerance_mm, "mm", 2}, EntryBox{},
                          EntryBox{}});
  d.blocks.emplace_back(
      Heading{2, {"inspection.tolerances", {text("class", std::string(1, r.tolerance_class))}}});
  d.blocks.emplace_back(std::move(sizes));
  if (!r.torques.empty()) {
    Table t = table_of({"column.bolts", "column.count", "column.preload", "column.torque", "column.reached",
                        "column.initials"});
    for (const study::BoltTorque& b : r.torques)
      t.rows.push_back({Verbatim{b.bolts}, Quantity{static_cast<double>(b.count), "", 3},
                        Quantity{b.preload_n, "N", 3},
                        std::isnan(b.torque_nm) ? Cell(message_of("sheet.torque-unknown"))
                                                : Cell(Quantity{b.torque_nm, "N m", 3}),
                        EntryBox{}, EntryBox{}});
    d.blocks.emplace_back(Heading{2, message_of("inspection.torques")});
    d.blocks.emplace_back(std::move(t));
  }
  d.blocks.emplace_back(Heading{2, message_of("inspection.spokes")});
  Table spokes = table_of({"column.wheel", "column.least", "column.mean", "column.most", "column.initials"});
  for (const char* wheel : {"FL", "FR", "R"})
    spokes.rows.push_back({Verbatim{std::string(wheel)}, EntryBox{}, EntryBox{}, EntryBox{}, EntryBox{}});
  d.blocks.emplace_back(std::move(spokes));
}

}  // namespace

Document inspection_sheet(const files::InspectionReport& r, const design::Design& design, const Anchor& a,
                          const DrawnViews* drawn) {
  Document d;
  d.title = {"inspection.title", {text("design", r.design)}};
  d.blocks.emplace_back(trade_cautions());
  d.blocks.emplace_back(Paragraph{message_of("inspection.visual")});
  d.blocks.emplace_back(Paragraph{message_of("sheet.before-paint")});
  add_numbered_views(d, design, {"side", "top"}, 92, drawn);
  add_findings(d, r);
  add_welds(d, r, design);
  add_sizes_and_bolts(d, r);
  d.blocks.emplace_back(Heading{2, message_of("sheet.reject")});
  for (const MessageId id : MessageIds{"sheet.reject-mark", "inspection.disposition", "sheet.reject-repair"})
    d.blocks.emplace_back(Paragraph{message_of(id)});
  Boxes sign{{{message_of("fill.tools"), 10},
              {message_of("fill.light"), 10},
              {message_of("fill.inspector"), 10},
              {message_of("fill.day"), 10}},
             2};
  d.blocks.emplace_back(std::move(sign));
  for (const MessageId id : MessageIds{"inspection.annex", "procedure.memory"})
    d.blocks.emplace_back(Paragraph{message_of(id)});
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

}  // namespace seamwright::reports
