// SPDX-License-Identifier: GPL-3.0-or-later
// A sheet that goes out with the trike: its owner looks for cracks here, from this length on, and so often.
#include <algorithm>
#include <cmath>

#include "engine/rating/looks.h"
#include "reports/content/evidence_blocks.h"
#include "reports/sheets/sheets.h"

namespace seamwright::reports {

namespace {

// Single load paths, and of the others those that crack in more than one frame of a thousand.
std::vector<const rating::WeldRating*> looked_at(const rating::Rating& r) {
  std::vector<const rating::WeldRating*> all;
  for (const rating::WeldRating& w : r.welds)
    if (!w.path.other() || !(w.predicted.cracked.mean < 1e-3)) all.push_back(&w);
  const auto chance = [](const rating::WeldRating* w) { return std::isnan(w->predicted.cracked.mean) ? 2 : w->predicted.cracked.mean; };
  std::stable_sort(all.begin(), all.end(), [&](const auto* a, const auto* b) {
    return a->path.other() != b->path.other() ? b->path.other() : chance(a) > chance(b);
  });
  return all;
}

// Rounded down to two figures: nobody rides 1234 km and then looks.
double two_figures_km(double km) {
  if (!(km > 0) || std::isinf(km)) return km;
  const double step = std::pow(10, std::floor(std::log10(km)) - 1);
  return std::floor(km / step) * step;
}

// A third of the shortest growth on a single path, or what the duty says if that is sooner; NaN where nothing was computed.
double every_km(const rating::Rating& r, const std::vector<const rating::WeldRating*>& welds) {
  double least = std::numeric_limits<double>::quiet_NaN();
  for (const rating::WeldRating* w : welds)
    if (!w->path.other()) least = std::fmin(least, rating::look_every_km(w->growth));
  if (rules::looks(r.rules)) least = std::fmin(least, r.rules.look_every_km);
  return two_figures_km(least);
}

Table places_of(const std::vector<const rating::WeldRating*>& welds) {
  Table t = table_of({"column.weld", "column.look-where", "column.stands-on", "column.through-at", "column.until-yield", "column.seen"});
  for (const rating::WeldRating* w : welds) {
    const bool known = w->growth.km > 0;
    const Cell unknown = message_of("sheet.owner-not-computed");
    t.rows.push_back({Verbatim{w->id}, Verbatim{w->chord.empty() ? w->member : w->member + " → " + w->chord},
                      message_of(w->path.other() ? MessageId("sheet.owner-shared") : "sheet.owner-single"),
                      known ? Cell(Quantity{w->growth.from_mm, "mm", 2}) : unknown,
                      known ? Cell(Quantity{two_figures_km(w->growth.km), "km", 2}) : unknown, EntryBox{}});
  }
  return t;
}

}  // namespace

Document owner_sheet(const rating::Rating& r, const design::Design& design, const Anchor& a, const DrawnViews* views) {
  const std::vector<const rating::WeldRating*> welds = looked_at(r);
  const double every = every_km(r, welds);
  Document d;
  d.title = {"sheet.owner-title", {text("design", design.identity.name)}};
  const auto count = static_cast<double>(welds.size());
  d.blocks.emplace_back(Caution{{message_of("sheet.owner-caution"), message_of("sheet.owner-estimate"), message_of("caution.local-codes")}});
  d.blocks.emplace_back(Paragraph{std::isnan(every) ? Message{"sheet.owner-answer-unknown", {number("count", count, "")}}
                                                    : Message{"sheet.owner-answer", {number("count", count, ""), number("every", every, "km")}}});
  d.blocks.emplace_back(Paragraph{message_of("sheet.owner-how")});
  d.blocks.emplace_back(Heading{2, message_of("sheet.owner-places")});
  d.blocks.emplace_back(places_of(welds));
  add_numbered_views(d, design, {"side", "top", "front"}, 70, views);
  d.blocks.emplace_back(Heading{2, message_of("sheet.owner-log")});
  Table log = table_of({"column.day", "column.kilometres", "column.result", "column.initials"});
  constexpr int lines = 8;
  for (int i = 0; i < lines; ++i) log.rows.push_back({EntryBox{}, EntryBox{}, EntryBox{}, EntryBox{}});
  d.blocks.emplace_back(std::move(log));
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

}  // namespace seamwright::reports
