// SPDX-License-Identifier: GPL-3.0-or-later
// A frame's sheet tells its record and the map of its welds.
#include <algorithm>

#include "catalog/book/attached_files.h"
#include "catalog/book/records/names.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/frame_drawing.h"
#include "reports/sheets/sheets.h"

namespace seamwright::reports {

namespace {

// The design as it was frozen in the book; one that cannot be read is told.
void add_frozen_views(Document& d, const book::Book& book, const book::Record& frame) {
  const auto frozen = book::design_of(book, frame);
  if (!frozen || !frozen->content.contains(book::field::file)) return;
  const book::AttachedFiles files(book, {{"design.toml", book::file_of(*frozen)}});
  if (!files.has("design.toml")) return;
  try {
    add_numbered_views(d, files::read_recorded_design({files, "design.toml"}, published::catalog()), {"side", "top"},
              95);
  } catch (const Fault&) {
    d.blocks = {Paragraph{message_of("sheet.no-drawing")}};
  }
}

}  // namespace

Document weld_map(const design::Design& design, const Anchor& a, const DrawnViews* drawn) {
  Document d;
  d.title = {"sheet.map-title", {text("design", design.identity.name)}};
  add_numbered_views(d, design, {"side", "top", "front", "oblique"}, 112, drawn);
  Table t = table_of({"column.weld", "column.kind", "column.brace", "column.chord", "column.node",
                      "column.throat", "column.procedure"});
  for (std::size_t i = 0; i < design::subject_count(design); ++i) {
    const design::Subject s = design::subject_of(design, i);
    const auto weld = std::find_if(design.welds.begin(), design.welds.end(),
                                   [&](const joints::Weld& w) { return w.id == s.id; });
    const bool is_weld = weld != design.welds.end();
    t.rows.push_back(
        {Verbatim{s.id}, Verbatim{s.kind}, Verbatim{s.member}, Verbatim{s.chord}, Verbatim{s.node},
         is_weld && weld->throat_mm > 0 ? Cell(Quantity{weld->throat_mm, "mm", 3}) : Cell(Verbatim{"–"}),
         Verbatim{!is_weld || weld->procedure.empty() ? "–" : weld->procedure}});
  }
  d.blocks.emplace_back(Heading{2, message_of("sheet.map-list")});
  d.blocks.emplace_back(std::move(t));
  d.foot.push_back({"sheet.design-foot",
                    {text("design", design.identity.name + " " + design.identity.revision),
                     text("hash", design.identity.sha256.substr(0, 12))}});
  anchor(d, a);
  return d;
}

Document frame_sheet(const book::Book& book, const book::Trace& t, const std::string& today) {
  Document d = trace_document(book, t, today, RecordView::sheet), views;
  d.foot.clear();
  for (const book::Record& r : t.own)
    if (r.kind == book::kind::frame && r.current()) add_frozen_views(views, book, r);
  // The first page is for who asks what the frame is; where its welds are stands behind it, before the entries.
  const auto entries = std::find_if(d.blocks.begin(), d.blocks.end(), [](const Block& b) { return std::holds_alternative<PageBreak>(b); });
  d.blocks.insert(entries, views.blocks.begin(), views.blocks.end());
  anchor(d, anchor_of(book, t.serial));
  return d;
}

Document welders_sheet(const files::WeldersReport& r, const Anchor& a) {
  Document d = welders_document(r);
  d.landscape = r.certificates.size() > 4;
  d.foot.push_back({"sheet.period", {text("from", r.from), text("to", r.to)}});
  anchor(d, a);
  return d;
}

Document recall_sheet(const book::Mark& what, const std::vector<book::Carrier>& carriers, const Anchor& a) {
  Document d = recall_document(what, carriers);
  d.landscape = true;
  if (!carriers.empty()) {
    Table t = table_of(
        {"column.frame", "column.told-owner", "column.out-of-use", "column.examined", "column.initials"});
    for (const book::Carrier& c : carriers)
      t.rows.push_back({Verbatim{c.serial}, EntryBox{}, EntryBox{}, EntryBox{}, EntryBox{}});
    d.blocks.emplace_back(Heading{2, message_of("sheet.recall-fill")});
    d.blocks.emplace_back(std::move(t));
  }
  anchor(d, a, what.value);
  return d;
}

}  // namespace seamwright::reports
