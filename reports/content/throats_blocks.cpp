// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/throats_blocks.h"

#include <algorithm>
#include <cmath>

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

// Nothing for a weld without such legs, or where no throat is enough.
Cell leg_cell(double leg_mm) {
  if (!(leg_mm > 0) || std::isinf(leg_mm)) return Verbatim{"–"};
  return Quantity{leg_mm, "mm", 2};
}

}  // namespace

Document throats_document(const rating::Job& job, const std::vector<study::ThroatNeed>& needs) {
  Document d;
  d.title = {"throats.title", {text("design", job.design.identity.name)}};
  const auto small =
      std::count_if(needs.begin(), needs.end(), [](const auto& n) { return !(n.needed_mm <= n.throat_mm); });
  const bool bound = std::any_of(needs.begin(), needs.end(), [](const auto& n) { return n.bound; });
  d.blocks.emplace_back(Answer{State{needs.empty() ? "not_covered"
                                     : small > 0   ? "falls_short"
                                     : bound       ? "not_covered"
                                                   : "meets"},
                               {needs.empty() ? MessageId("throats.none") : "throats.answer",
                                {number("small", static_cast<double>(small), ""),
                                 number("all", static_cast<double>(needs.size()), "")}}});
  d.blocks.emplace_back(cautions());
  Table t;
  for (const MessageId id :
       MessageIds{"column.weld", "column.site", "column.used", "column.throat", "column.throat-needed", "column.leg-crown", "column.leg-saddle"})
    t.columns.push_back(message_of(id));
  for (const study::ThroatNeed& n : needs) {
    Cell needed = Quantity{n.needed_mm, "mm", 2};
    if (n.at_most) needed = Message{"throats.at-most", {number("throat", n.needed_mm, "mm")}};
    if (std::isinf(n.needed_mm))
      needed = Message{"throats.no-size", {number("throat", 3 * n.throat_mm, "mm")}};
    t.rows.push_back({Verbatim{n.weld}, site_cell(n.site), Quantity{n.used, "", 2},
                      Quantity{n.throat_mm, "mm", 3}, std::move(needed), leg_cell(n.leg_crown_mm), leg_cell(n.leg_saddle_mm)});
  }
  d.blocks.emplace_back(std::move(t));
  if (bound) d.blocks.emplace_back(Paragraph{message_of("throats.bound")});
  for (const MessageId id : MessageIds{"throats.method", "throats.legs", "throats.toes", "throats.least"})
    d.blocks.emplace_back(Paragraph{message_of(id)});
  return d;
}

}  // namespace seamwright::reports
