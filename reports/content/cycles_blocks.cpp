// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/cycles_blocks.h"

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

Document cycles_document(const Count& count) {
  Document d;
  d.title = {"cycles.title", {text("column", count.column), text("file", count.file)}};
  d.blocks.emplace_back(
      Facts{{{message_of("cycles.samples"), Quantity{static_cast<double>(count.samples), "", 12}},
             {message_of("cycles.total"), Quantity{count.cycles, "", 12}},
             {message_of("cycles.largest"), Quantity{count.cycles > 0 ? count.ranges.range_edges.back() : 0, "", 5}},
             {message_of("cycles.residue"), Quantity{static_cast<double>(count.residue.size()), "", 12}}}});
  const cycles::Histogram& h = count.ranges;
  Table t;
  t.columns = {message_of("column.range-from"), message_of("column.range-to"), message_of("column.cycles")};
  for (std::size_t i = h.counts.size(); i-- > 0;)
    t.rows.push_back({Quantity{h.range_edges[i], "", 4}, Quantity{h.range_edges[i + 1], "", 4},
                      Quantity{h.counts[i], "", 12}});
  d.blocks.emplace_back(Heading{2, message_of("cycles.classes")});
  d.blocks.emplace_back(std::move(t));
  return d;
}

}  // namespace seamwright::reports
