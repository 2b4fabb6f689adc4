// SPDX-License-Identifier: GPL-3.0-or-later
// Cards that go out with the trike.
#include <cmath>

#include "engine/evidence/constants.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/plot_pictures.h"
#include "reports/content/stability_blocks.h"
#include "reports/sheets/sheets.h"

namespace seamwright::reports {

Document stability_card(const design::Design& design, const loads::Stability& s, double friction,
                        const Anchor& a) {
  Document whole = stability_document(design, s, friction), d;
  d.title = whole.title;
  d.blocks.push_back(whole.blocks.at(0));  // the answer
  double forward = 1e9, tilt = 1e9;
  for (const loads::StabilityCase& c : s.cases) {
    forward = std::min(forward, c.forward_m_s2);
    tilt = std::min({tilt, c.left.tilt_deg, c.right.tilt_deg});
  }
  d.blocks.emplace_back(
      LargeNumbers{{{message_of("sheet.tips-from"), Quantity{s.lowest_m_s2 / gravity_m_s2, "g", 2}},
                    {message_of("sheet.rear-lifts"), Quantity{forward, "m/s2", 2}},
                    {message_of("sheet.side-slope"), Quantity{tilt, "deg", 2}}}});
  d.blocks.push_back(whole.blocks.at(1));  // its cautions
  d.blocks.emplace_back(PictureBlock{tip_plot(s, friction), message_of("sheet.tip-plot")});
  d.blocks.insert(d.blocks.end(), whole.blocks.begin() + 2, whole.blocks.end());
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

Document assembly_card(const design::Design& design, const std::vector<study::BoltTorque>& torques,
                       const Anchor& a) {
  Document d;
  d.title = {"sheet.assembly-title", {text("design", design.identity.name)}};
  d.blocks.emplace_back(Caution{{message_of("sheet.assembly-caution"), message_of("sheet.assembly-maker"),
                                 message_of("caution.local-codes")}});
  d.blocks.emplace_back(Heading{2, message_of("sheet.bolt")});
  if (torques.empty()) d.blocks.emplace_back(Paragraph{message_of("sheet.no-bolts")});
  for (const study::BoltTorque& b : torques)
    d.blocks.emplace_back(
        LargeNumbers{{{{"sheet.bolts-of", {text("bolts", b.bolts), number("count", b.count, "")}},
                       std::isnan(b.torque_nm) ? Cell(message_of("sheet.torque-unknown"))
                                               : Cell(Quantity{b.torque_nm, "N m", 3})}}});
  Table t = table_of({"column.check", "column.result", "column.initials"});
  for (const study::BoltTorque& b : torques)
    t.rows.push_back({Message{"sheet.check-torque", {text("bolts", b.bolts)}}, EntryBox{}, EntryBox{}});
  for (const MessageId id :
       MessageIds{"sheet.check-wheels", "sheet.check-steering", "sheet.check-brakes", "sheet.check-belts",
                  "sheet.check-tyres", "sheet.check-box", "sheet.check-frame", "sheet.check-ride"})
    t.rows.push_back({message_of(id), EntryBox{}, EntryBox{}});
  d.blocks.emplace_back(Heading{2, message_of("sheet.checks")});
  d.blocks.emplace_back(std::move(t));
  d.blocks.emplace_back(Paragraph{message_of("sheet.checks-practice")});
  d.blocks.emplace_back(Boxes{{{message_of("fill.shop"), 10},
                               {message_of("fill.name"), 10},
                               {message_of("fill.signature"), 14},
                               {message_of("fill.day"), 14}},
                              2});
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

}  // namespace seamwright::reports
