// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/rig_blocks.h"

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

Cell verdict(const measured::RigResult& r) {
  return State{r.passes ? "meets" : r.damage > 1 ? "falls_short" : "not_covered"};
}

}  // namespace

Document rig_document(const rating::Rating& service, const std::vector<measured::RigResult>& results) {
  Document d;
  d.title = {"rig.title", {text("design", service.design.name)}};
  d.blocks.emplace_back(Caution{
      {message_of("rig.caution"), message_of("caution.no-substitute"), message_of("caution.local-codes")}});
  Table t, beside;
  for (const MessageId id : MessageIds{"column.case", "column.cycles", "column.weld", "column.site",
                                       "column.damage", "column.verdict", "column.residual"})
    t.columns.push_back(message_of(id));
  for (const MessageId id : MessageIds{"column.case", "column.weld", "column.site", "rig.service-damage",
                                       "rig.rig-damage", "rig.equal-cycles", "rig.equal-force", "rig.anchor"})
    beside.columns.push_back(message_of(id));
  std::vector<Message> notes;
  for (const measured::RigResult& r : results) {
    if (!r.not_applicable.empty()) {
      notes.push_back({"rig.not-applicable", {text("case", r.id), text("kind", r.not_applicable)}});
      continue;
    }
    if (r.from_memory) notes.push_back({"rig.from-memory", {text("case", r.id)}});
    if (r.uncovered) notes.push_back({"rig.uncovered", {text("case", r.id)}});
    t.rows.push_back({Verbatim{r.id}, Quantity{r.cycles, "", 6}, Verbatim{r.weld}, site_cell(r.site),
                      Quantity{r.damage, "", 2}, verdict(r), Quantity{r.residual, "", 1}});
    beside.rows.push_back(
        {Verbatim{r.id}, Verbatim{r.service_weld}, site_cell(r.service_site),
         Quantity{r.service_damage, "", 2}, Quantity{r.rig_damage_there, "", 2},
         Quantity{r.equal_cycles, "", 3}, Quantity{r.equal_force, "", 3},
         message_of(r.weld == r.service_weld ? MessageId("rig.same-weld") : "rig.other-weld")});
  }
  d.blocks.emplace_back(Heading{2, message_of("rig.passes")});
  d.blocks.emplace_back(std::move(t));
  for (const Message& m : notes) d.blocks.emplace_back(Paragraph{m});
  d.blocks.emplace_back(Heading{2, message_of("rig.beside")});
  d.blocks.emplace_back(Paragraph{{"rig.explained", {number("service", service.service_km, "km")}}});
  d.blocks.emplace_back(std::move(beside));
  return d;
}

}  // namespace seamwright::reports
