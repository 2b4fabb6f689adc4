// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/quality_blocks.h"

#include <algorithm>

#include "engine/qualification/production_interval.h"
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

// Who coordinates welding, or that nobody is named; certificates that do not say who tested.
void add_coordinators(Document& d, const book::QualityIndex& index) {
  d.blocks.emplace_back(Heading{2, message_of("quality.coordinators")});
  if (!index.has_coordinator()) d.blocks.emplace_back(Paragraph{message_of("quality.no-coordinator")});
  if (!index.coordinators.empty()) {
    Table t = table_of({"label.coordinator", "label.knowledge", "label.day", "label.until", "column.standing"});
    for (const book::Coordinator& c : index.coordinators)
      t.rows.push_back({Verbatim{c.person}, message_of(composed_id("record-word.", c.knowledge)), Verbatim{c.on}, Verbatim{c.until.empty() ? "–" : c.until},
                        message_of(c.acts ? MessageId("quality.acts") : "quality.acts-no-more")});
    d.blocks.emplace_back(std::move(t));
  }
  std::string ids;
  for (const std::string& id : index.no_examiner) ids.append(ids.empty() ? "" : ", ").append(id);
  if (!ids.empty()) d.blocks.emplace_back(Paragraph{{"quality.no-examiner", {text("ids", ids)}}});
}

}  // namespace

Document production_document(const std::vector<book::ProductionDue>& due, const std::string& today) {
  Document d;
  d.title = {"production.title", {text("day", today)}};
  const auto waits = std::count_if(due.begin(), due.end(), [](const book::ProductionDue& p) { return p.counts_on_fusion && p.overdue; });
  const bool any = std::any_of(due.begin(), due.end(), [](const book::ProductionDue& p) { return p.counts_on_fusion; });
  d.blocks.emplace_back(Answer{State{waits > 0 ? "open-gaps" : "no-open-gaps"}, waits > 0 ? Message{"production.some-due", {number("count", static_cast<double>(waits), "")}}
                                                                                : any     ? message_of("production.none-due")
                                                                                          : message_of("production.nobody-counts")});
  Table t = table_of({"book.kind-procedure", "column.last-piece", "column.frames-since", "column.next-by", "column.frames-left", "column.standing"});
  for (const book::ProductionDue& p : due) {
    Message last = message_of("production.no-piece");
    if (p.last) last = {p.last->is_record ? MessageId("production.by-record") : "production.by-piece", {text("day", qualification::text_of(p.last->on))}};
    const MessageId standing = !p.counts_on_fusion ? MessageId("production.not-counted")
                               : p.open            ? MessageId("production.open")
                               : p.overdue         ? MessageId("production.now")
                                                   : "production.in-time";
    t.rows.push_back({Verbatim{p.procedure}, std::move(last), Quantity{static_cast<double>(p.frames), "", 6}, Verbatim{p.by ? qualification::text_of(*p.by) : "–"},
                      Quantity{static_cast<double>(p.frames_left), "", 6}, message_of(standing)});
  }
  if (!t.rows.empty()) d.blocks.emplace_back(std::move(t));
  using qualification::production_interval;
  d.blocks.emplace_back(Paragraph{{"production.rule", {number("months", production_interval.months, ""), number("frames", production_interval.frames, "")}}});
  return d;
}

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
  add_coordinators(d, index);
  if (index.findings.empty()) return d;
  Table found = table_of({"field.id", "book.kind-frame", "label.what", "page.signer", "label.day", "column.standing"});
  for (const book::AuditFinding& f : index.findings)
    found.rows.push_back({Verbatim{f.id}, Verbatim{f.frame.empty() ? "–" : f.frame}, Verbatim{f.what}, Verbatim{f.by}, Verbatim{f.on}, standing_of_finding(f)});
  d.blocks.emplace_back(Heading{2, message_of("quality.findings")});
  d.blocks.emplace_back(std::move(found));
  return d;
}

}  // namespace seamwright::reports
