// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/brief_rating.h"

#include <algorithm>

#include "reports/content/evidence_blocks.h"
#include "reports/content/prediction_blocks.h"
#include "reports/content/rating_blocks.h"
#include "reports/content/summary_blocks.h"

namespace seamwright::reports {

namespace {

Table worst_welds(const rating::Rating& r) {
  constexpr std::size_t most = 5;
  Table t = table_of({"column.weld", "column.brace", "column.chord", "column.predicted-km", "column.used", "column.verdict"});
  for (std::size_t w = 0; w < std::min(most, r.welds.size()); ++w) {
    const rating::WeldRating& weld = r.welds[w];
    const rating::SiteRating& s = weld.sites[0];
    t.rows.push_back({Verbatim{weld.id}, Verbatim{weld.member}, Verbatim{weld.chord}, life_cell(weld.predicted.life.median * r.service_km, weld.at_most),
                      damage_cell(s.used(), s.at_least), State{name_of(weld.verdict)}});
  }
  return t;
}

}  // namespace

Document brief_document(const rating::Rating& r) {
  Document d;
  d.title = {"rating.title", {text("design", r.design.name)}};
  d.blocks.emplace_back(Answer{State{name_of(r.verdict)}, answer_of(r)});
  d.blocks.emplace_back(cautions());
  for (const Message& finding : r.shape) d.blocks.emplace_back(Paragraph{finding});
  for (Block& block : limit_state_blocks(r)) d.blocks.push_back(std::move(block));
  d.blocks.emplace_back(Heading{2, {"rating.worst-welds", {number("count", static_cast<double>(r.welds.size()), "")}}});
  d.blocks.emplace_back(worst_welds(r));
  for (Block& block : summary_blocks(r)) d.blocks.push_back(std::move(block));
  d.blocks.emplace_back(Heading{2, message_of("rating.more-title")});
  d.blocks.emplace_back(Paragraph{message_of("rating.more")});
  d.blocks.emplace_back(Paragraph{{"rating.more-weld", {text("weld", r.welds[0].id)}}});
  return d;
}

}  // namespace seamwright::reports
