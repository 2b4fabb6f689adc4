// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/shape_blocks.h"

#include <cmath>

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

Particulars three(const Eigen::Vector3d& v, const std::string& unit) {
  Particulars p;
  for (const auto& [id, value] : {std::pair{MessageId("shape.along-x"), v.x()}, {MessageId("shape.along-y"), v.y()},
                                  {MessageId("shape.along-z"), v.z()}})
    p.all.push_back({message_of(id), Quantity{value, unit, 4}});
  return p;
}

Table parts_table(const models::ShapeReport& r) {
  Table t;
  for (const MessageId id : MessageIds{"column.part", "field.steel", "column.volume", "column.surface",
                                       "column.mass", "shape.beam-mass", "column.built"})
    t.columns.push_back(message_of(id));
  for (const auto& p : r.pieces)
    t.rows.push_back({Verbatim{p.id}, Verbatim{p.steel}, Quantity{p.volume_mm3 / 1000, "cm3", 4},
                      Quantity{p.surface_mm2 / 100, "cm2", 4}, Quantity{p.mass_kg, "kg", 4},
                      p.beam_kg > 0 ? Cell(Quantity{p.beam_kg, "kg", 4}) : Cell(Verbatim{"–"}),
                      rung_message(p.rung)});
  return t;
}

Cell angle(double deg) { return deg > 0 ? Cell(Quantity{deg, "deg", 3}) : Cell(Verbatim{"–"}); }

Table welds_table(const models::ShapeReport& r) {
  Table t;
  for (const MessageId id : MessageIds{"column.weld", "column.root-length", "column.walls-least", "column.walls-most", "column.weld-metal",
                                       "column.built"})
    t.columns.push_back(message_of(id));
  for (const auto& s : r.seams)
    t.rows.push_back({Verbatim{s.id}, s.root_mm > 0 ? Cell(Quantity{s.root_mm, "mm", 4}) : Cell(Verbatim{"–"}),
                      angle(s.least_deg), angle(s.most_deg), Quantity{s.volume_mm3, "mm3", 3}, rung_message(s.rung)});
  return t;
}

// The beam model takes members from node to node; what its mass is wrong by.
void add_beam_difference(Facts& facts, const models::ShapeReport& r) {
  double solids = 0, largest = 0;
  const models::ShapeReport::Piece* worst = nullptr;
  for (const auto& p : r.pieces) {
    if (!(p.beam_kg > 0)) continue;
    solids += p.mass_kg;
    if (const double apart = p.mass_kg / p.beam_kg - 1; !worst || std::abs(apart) > std::abs(largest)) {
      largest = apart;
      worst = &p;
    }
  }
  if (!worst) return;
  facts.facts.push_back({message_of("shape.beam-difference"), Quantity{100 * (solids / r.beam_kg - 1), "%", 2}});
  facts.facts.push_back({{"shape.beam-worst", {text("part", worst->id)}}, Quantity{100 * largest, "%", 2}});
}

}  // namespace

Message rung_message(shape::Rung rung) {
  switch (rung) {
    case shape::Rung::exact:
      return message_of("shape.rung-exact");
    case shape::Rung::shrunk:
      return message_of("shape.rung-shrunk");
    case shape::Rung::ring:
      return message_of("shape.rung-ring");
    case shape::Rung::none:
      return message_of("shape.rung-none");
  }
  return message_of("shape.rung-none");
}

Document shape_document(const models::ShapeReport& r) {
  Document d;
  d.title = {"shape.title", {text("design", r.design.name)}};
  d.blocks.emplace_back(Heading{2, message_of("shape.findings")});
  if (r.findings.empty()) d.blocks.emplace_back(Paragraph{message_of("shape.no-findings")});
  for (const Message& m : r.findings) d.blocks.emplace_back(Paragraph{m});
  if (!r.preparations.empty()) {
    // Where walls stand at another angle than a fillet asks for, the table of welds says it.
    d.blocks.emplace_back(Heading{2, message_of("shape.preparations")});
    d.blocks.emplace_back(Paragraph{message_of("shape.butt-beyond")});
    for (const Message& m : r.preparations)
      if (m.id != "shape.wide-dihedral" && m.id != "shape.narrow-dihedral") d.blocks.emplace_back(Paragraph{m});
  }
  Facts facts{{{message_of("shape.frame-mass"), Quantity{r.mass.mass_kg, "kg", 4}},
               {message_of("shape.weld-metal"), Quantity{r.mass.weld_metal_kg, "kg", 3}},
               {message_of("shape.beam-mass"), Quantity{r.beam_kg, "kg", 4}}}};
  add_beam_difference(facts, r);
  facts.facts.push_back({message_of("shape.surface"), Quantity{r.mass.surface_m2, "m2", 3}});
  facts.facts.push_back({message_of("shape.centre"), three(r.mass.centre_mm, "mm")});
  facts.facts.push_back({message_of("shape.inertia"), three(r.mass.inertia_kg_m2.diagonal(), "kg m2")});
  d.blocks.emplace_back(std::move(facts));
  d.blocks.emplace_back(Heading{2, message_of("shape.parts")});
  d.blocks.emplace_back(parts_table(r));
  d.blocks.emplace_back(Paragraph{message_of("shape.checked")});
  d.blocks.emplace_back(Heading{2, message_of("shape.welds")});
  d.blocks.emplace_back(welds_table(r));
  if (!r.open.empty()) d.blocks.emplace_back(Heading{2, message_of("shape.open")});
  for (const Message& m : r.open) d.blocks.emplace_back(Paragraph{m});
  return d;
}

}  // namespace seamwright::reports
