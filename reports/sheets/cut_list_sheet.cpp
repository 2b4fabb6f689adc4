// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "reports/content/evidence_blocks.h"
#include "reports/sheets/shape_sheets.h"

namespace seamwright::reports {

namespace {

using shape::CutPiece;
using shape::StockTube;

struct SizeWords {
  std::string steel;
  Message operator()(const frame::RoundTube& t) const {
    return words("tube-size.round", {number("diameter", t.diameter_mm, ""), number("wall", t.wall_mm, "")});
  }
  Message operator()(const frame::RectangularTube& t) const {
    return words("tube-size.rectangle", {number("height", t.height_mm, ""), number("width", t.width_mm, ""),
                                         number("wall", t.wall_mm, "")});
  }
  Message operator()(const frame::FlatOvalTube& t) const {
    return words("tube-size.oval", {number("height", t.height_mm, ""), number("width", t.width_mm, ""),
                                    number("wall", t.wall_mm, "")});
  }
  Message operator()(const frame::SolidBar& t) const {
    return words("tube-size.bar", {number("diameter", t.diameter_mm, "")});
  }
  Message operator()(const frame::PlateStrip& t) const {
    return words("tube-size.strip", {number("height", t.height_mm, ""), number("wall", t.thickness_mm, "")});
  }
  Message words(MessageId id, std::vector<Argument> numbers) const {
    numbers.insert(numbers.begin(), text("steel", steel));
    return {id, std::move(numbers)};
  }
};

Message size_of(const StockTube& t) { return std::visit(SizeWords{t.steel}, t.section); }

double percent(double part, double whole) { return whole > 0 ? 100 * part / whole : 0; }

Quantity whole_mm(double value) {
  return {value, "mm", 1 + static_cast<int>(std::log10(std::max(std::round(value), 1.0)))};
}
Quantity piece_mm(double value) { return {value, "mm", whole_mm(value).digits + 1}; }

double bars_mm(const shape::CutList& list) {
  double all = 0;
  for (const StockTube& t : list.tubes) all += static_cast<double>(t.bars.size()) * list.stock_mm;
  return all;
}

void add_totals(Document& d, const shape::CutList& list) {
  double bars = 0, waste = 0, beyond = 0;
  Table t = table_of({"column.tube", "column.pieces", "column.length", "column.bars", "column.bars-least",
                      "column.waste", "column.waste-share"});
  for (const StockTube& tube : list.tubes) {
    std::size_t pieces = 0;
    for (const auto& bar : tube.bars) pieces += bar.size();
    const double count = static_cast<double>(tube.bars.size());
    bars += count;
    waste += tube.waste_mm;
    beyond += count - static_cast<double>(tube.least_bars);
    t.rows.push_back({size_of(tube), Quantity{static_cast<double>(pieces), "", 4}, whole_mm(tube.pieces_mm),
                      Quantity{count, "", 4}, Quantity{static_cast<double>(tube.least_bars), "", 4},
                      whole_mm(tube.waste_mm),
                      Quantity{percent(tube.waste_mm, count * list.stock_mm), "%", 2}});
  }
  d.blocks.emplace_back(
      LargeNumbers{{{message_of("cut-list.all-bars"), Quantity{bars, "", 4}},
                    {message_of("cut-list.left"), Quantity{percent(waste, bars_mm(list)), "%", 2}}}});
  d.blocks.emplace_back(Paragraph{beyond > 0 ? Message{"cut-list.beyond", {number("bars", beyond, "")}}
                                             : message_of("cut-list.fewest")});
  d.blocks.emplace_back(Heading{2, message_of("cut-list.totals")});
  d.blocks.emplace_back(std::move(t));
}

void add_bars(Document& d, const shape::CutList& list) {
  d.blocks.emplace_back(Heading{2, message_of("cut-list.bars")});
  d.blocks.emplace_back(Paragraph{message_of("cut-list.how")});
  for (const StockTube& tube : list.tubes) {
    if (tube.bars.empty()) continue;
    d.blocks.emplace_back(Heading{3, size_of(tube)});
    Table t = table_of({"column.bar", "column.left-over", "column.member", "column.blank", "column.sawn"});
    for (std::size_t i = 0; i < tube.bars.size(); ++i) {
      double left = list.stock_mm;
      for (const CutPiece& p : tube.bars[i]) left -= p.length_mm + list.kerf_mm;
      for (std::size_t k = 0; k < tube.bars[i].size(); ++k) {
        const CutPiece& p = tube.bars[i][k];
        const bool first = k == 0;
        t.rows.push_back({first ? Cell(Quantity{static_cast<double>(i + 1), "", 4}) : Cell(Verbatim{""}),
                          first ? Cell(whole_mm(std::max(0.0, left))) : Cell(Verbatim{""}),
                          Verbatim{p.member}, piece_mm(p.length_mm), EntryBox{}});
      }
    }
    d.blocks.emplace_back(std::move(t));
  }
}

}  // namespace

Document cut_list_sheet(const design::Design& design, const std::vector<shape::Blank>& blanks,
                        const shape::CutList& list, const Anchor& a) {
  Document d;
  d.title = {"cut-list.title", {text("design", design.identity.name)}};
  Caution too_long;
  for (const StockTube& tube : list.tubes)
    for (const CutPiece& p : tube.too_long)
      too_long.texts.push_back({"cut-list.too-long",
                                {text("member", p.member), number("length", p.length_mm, "mm"),
                                 number("stock", list.stock_mm, "mm")}});
  d.finding = !too_long.texts.empty();
  if (d.finding) d.blocks.emplace_back(std::move(too_long));
  add_totals(d, list);
  d.blocks.emplace_back(Paragraph{
      {"cut-list.assumed", {number("stock", list.stock_mm, "mm"), number("kerf", list.kerf_mm, "mm")}}});
  add_bars(d, list);
  d.blocks.emplace_back(Heading{2, message_of("cut-list.pieces")});
  d.blocks.emplace_back(lengths_table(blanks));
  d.blocks.emplace_back(Paragraph{message_of("cut-list.bends")});
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

}  // namespace seamwright::reports
