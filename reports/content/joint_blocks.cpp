// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/joint_blocks.h"

#include <cmath>

#include "reports/content/evidence_blocks.h"
#include "reports/content/shape_blocks.h"

namespace seamwright::reports {

namespace {

constexpr double least_covered_wall_mm = 4;

Cell dash() { return Verbatim{"–"}; }

Message section_message(std::string_view name) {
  if (name == "throat") return message_of("joint.throat");
  if (name == "brace-leg") return message_of("joint.brace-leg");
  return message_of("joint.chord-leg");
}

Particulars beside(const MessageId& of_model, double model, const MessageId& of_equations, std::optional<double> equation) {
  Particulars p;
  p.all.push_back({message_of(of_model), Quantity{model, "", 3}});
  if (equation) p.all.push_back({message_of(of_equations), Quantity{*equation, "", 3}});
  return p;
}

// Every 45 degrees: there the equations have values too.
Table toes_table(const models::JointReport::Seam& seam) {
  Table t;
  for (const MessageId id : MessageIds{"column.toe", "column.place", "column.axial", "column.in-plane", "column.out-of-plane"})
    t.columns.push_back(message_of(id));
  for (const auto& place : seam.toes) {
    const double eighth = place.angle_deg / 45;
    if (std::abs(eighth - std::round(eighth)) > 1e-6) continue;
    std::vector<Cell> row{Verbatim{place.on_chord ? seam.chord : seam.brace}, Quantity{place.angle_deg, "deg", 3}};
    for (std::size_t load = 0; load < 3; ++load)
      row.push_back(place.is_there ? Cell(beside("joint.by-model", place.model[load], "joint.by-equations",
                                                 place.equations ? std::optional<double>((*place.equations)[load]) : std::nullopt))
                                   : dash());
    t.rows.push_back(std::move(row));
  }
  return t;
}

Table sections_table(const models::JointReport::Seam& seam) {
  Table t;
  for (const MessageId id : MessageIds{"column.section", "column.length", "column.axial", "column.in-plane", "column.out-of-plane"})
    t.columns.push_back(message_of(id));
  for (const auto& s : seam.sections) {
    Particulars length;
    length.all.push_back({message_of("joint.least"), Quantity{s.least_mm, "mm", 3}});
    length.all.push_back({message_of("joint.most"), Quantity{s.most_mm, "mm", 3}});
    std::vector<Cell> row{section_message(s.name), std::move(length)};
    for (std::size_t load = 0; load < 3; ++load) {
      Particulars at;
      at.all.push_back({message_of("joint.worst"), Quantity{s.worst[load], "", 3}});
      at.all.push_back({message_of("column.place"), Quantity{s.angle_deg[load], "deg", 3}});
      row.emplace_back(std::move(at));
    }
    t.rows.push_back(std::move(row));
  }
  return t;
}

Table flexibility_table(const models::JointReport::Seam& seam) {
  Table t;
  for (const MessageId id : MessageIds{"column.source-of", "column.axial", "column.in-plane", "column.out-of-plane"})
    t.columns.push_back(message_of(id));
  const auto row = [&](const MessageId& who, const models::ByLoad& f) {
    t.rows.push_back({message_of(who), Quantity{1e6 * f[0], "µm/kN", 3}, Quantity{1e9 * f[1], "mrad/(kN m)", 3},
                      Quantity{1e9 * f[2], "mrad/(kN m)", 3}});
  };
  row("joint.by-model", seam.flexibility);
  if (seam.formula) row("joint.by-equations", *seam.formula);
  return t;
}

void add_seam(Document& d, const models::JointReport::Seam& seam) {
  d.blocks.emplace_back(Heading{2, {"joint.factors", {text("weld", seam.weld)}}});
  d.blocks.emplace_back(Facts{{{message_of("column.brace"), Verbatim{seam.brace}},
                               {message_of("column.chord"), Verbatim{seam.chord}},
                               {message_of("column.built"), rung_message(seam.rung)},
                               {message_of("joint.mesh-error"), Quantity{100 * seam.mesh_error, "%", 2}}}});
  if (!seam.loaded) {
    d.blocks.emplace_back(Paragraph{message_of("joint.not-loaded")});
    return;
  }
  d.blocks.emplace_back(Paragraph{message_of("joint.factors-how")});
  d.blocks.emplace_back(toes_table(seam));
  for (const auto& place : seam.toes)
    if (!place.is_there) {
      d.blocks.emplace_back(Paragraph{message_of("joint.covered-toe")});
      break;
    }
  if (seam.thinnest_mm < least_covered_wall_mm) d.blocks.emplace_back(Paragraph{message_of("joint.thin-walls")});
  if (!seam.sections.empty()) {
    d.blocks.emplace_back(Heading{3, {"joint.sections", {text("weld", seam.weld)}}});
    d.blocks.emplace_back(Paragraph{message_of("joint.sections-how")});
    d.blocks.emplace_back(sections_table(seam));
  }
  d.blocks.emplace_back(Heading{3, {"joint.flexibility", {text("weld", seam.weld)}}});
  d.blocks.emplace_back(flexibility_table(seam));
}

}  // namespace

Document joint_document(const models::JointReport& r, const std::string& weld) {
  Document d;
  d.title = {"joint.title", {text("node", r.id)}};
  d.blocks.emplace_back(Heading{2, message_of("joint.model")});
  Particulars tubes;
  for (const solid::Sawn& s : r.ends)
    tubes.all.push_back({{"joint.tube", {text("member", s.member)}}, Quantity{s.at_mm, "mm", 3}});
  d.blocks.emplace_back(Facts{{{message_of("joint.tubes"), tubes},
                               {message_of("joint.unknowns"), Quantity{r.unknowns, "", 6}},
                               {message_of("joint.volume"), Quantity{r.volume_ratio, "", 5}},
                               {message_of("joint.residual"), Quantity{r.residual, "", 2}},
                               {message_of("joint.reaction"), Quantity{r.reaction, "", 2}}}});
  for (const auto& seam : r.seams)
    if (weld.empty() || seam.weld == weld) add_seam(d, seam);
  return d;
}

}  // namespace seamwright::reports
