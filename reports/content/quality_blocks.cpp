// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/quality_blocks.h"

#include <algorithm>

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

Cell kept_cell(const book::QualityRow& r) {
  const Argument count = number("count", static_cast<double>(r.entries), "");
  if (r.kept == "here") return Message{"quality.kept-here", {count}};
  if (r.kept == "elsewhere") return Message{"quality.elsewhere", {text("place", r.place)}};
  if (r.kept == "not-applicable") return Message{"quality.not-applicable", {text("reason", r.reason)}};
  return r.entries > 0 ? Message{"quality.unstated-held", {count}} : message_of("quality.unstated");
}

Cell standing_of_finding(const book::AuditFinding& f) {
  if (!f.closed_on.empty()) return Message{"quality.finding-closed", {text("day", f.closed_on), text("person", f.closed_by)}};
  return message_of(f.acted ? MessageId("quality.finding-acted") : "quality.finding-open");
}

}  // namespace

Document quality_document(const book::QualityIndex& index) {
  Document d;
  d.title = message_of("quality.title");
  const auto open = std::count_if(index.rows.begin(), index.rows.end(), [](const book::QualityRow& r) { return !r.is_answered(); });
  d.blocks.emplace_back(Answer{State{open > 0 ? "open-gaps" : "no-open-gaps"},
                               open > 0 ? Message{"quality.open", {number("count", static_cast<double>(open), "")}} : message_of("quality.complete")});
  d.blocks.emplace_back(Paragraph{index.part.empty() ? message_of("quality.no-part") : Message{"quality.part", {text("part", index.part)}}});
  Table t = table_of({"column.clause", "column.requirement", "column.kept-as"});
  for (const book::QualityRow& r : index.rows)
    t.rows.push_back({Verbatim{r.of.clause}, message_of(composed_id("record-word.", r.of.id)), kept_cell(r)});
  d.blocks.emplace_back(std::move(t));
  if (index.findings.empty()) return d;
  Table found = table_of({"field.id", "book.kind-frame", "label.what", "page.signer", "label.day", "column.standing"});
  for (const book::AuditFinding& f : index.findings)
    found.rows.push_back({Verbatim{f.id}, Verbatim{f.frame.empty() ? "–" : f.frame}, Verbatim{f.what}, Verbatim{f.by}, Verbatim{f.on}, standing_of_finding(f)});
  d.blocks.emplace_back(Heading{2, message_of("quality.findings")});
  d.blocks.emplace_back(std::move(found));
  return d;
}

}  // namespace seamwright::reports
