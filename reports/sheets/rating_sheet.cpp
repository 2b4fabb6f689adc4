// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "catalog/published/built_in.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/frame_picture.h"
#include "reports/content/plot_pictures.h"
#include "reports/content/prediction_blocks.h"
#include "reports/content/seam_picture.h"
#include "reports/content/study_blocks.h"
#include "reports/content/summary_blocks.h"
#include "reports/sheets/sheets.h"
#include "reports/text/text.h"

namespace seamwright::reports {

namespace {

constexpr std::size_t worst = rating::detailed_welds, pictured = 4;  // two to a page

// The numbers behind the damage, one line each; legs, channels and cycles stand in the plots beside it.
void flatten(const Evidence& e, int depth, std::vector<const Evidence*>& all) {
  if (e.figure == "channels" || e.figure == "cycles-by-range" || e.figure == "leg-stress-deviation") return;
  all.push_back(&e);
  if (depth > 0 && e.figure != "scf")
    for (const Evidence& b : e.because) flatten(b, depth - 1, all);
}

void add_chain(Document& d, const Evidence& e, const std::string& weld) {
  constexpr std::size_t most = 8;
  std::vector<const Evidence*> all;
  flatten(e, 2, all);
  Table t =
      table_of({"column.quantity", "column.value", "column.source-of", "column.clause", "column.coverage"});
  for (std::size_t i = 0; i < std::min(most, all.size()); ++i) {
    const Evidence& x = *all[i];
    t.rows.push_back({term_cell("quantity.", x.subject.empty() ? x.figure : x.figure + " (" + x.subject + ")"),
                      Quantity{x.value, x.unit, digits_of(x.figure)}, source_cell(x.source.key),
                      x.from_memory
                          ? Cell(Message{"sheet.clause-from-memory", {text("clause", x.source.clause)}})
                          : Cell(Verbatim{x.source.clause}),
                      State{name_of(x.coverage)}});
  }
  d.blocks.emplace_back(std::move(t));
  d.blocks.emplace_back(Paragraph{{"sheet.whole-chain", {text("weld", weld)}}});
}

std::string name_of_subject(const rating::WeldRating& w) {
  return w.chord.empty() ? w.member : w.member + " → " + w.chord;
}

void add_weld_page(Document& d, const rating::Job& job, const rating::Rating& r,
                   const rating::WeldRating& w) {
  const WeldCard card = weld_card(job, r, w.id);
  d.blocks.emplace_back(PageBreak{});
  d.blocks.emplace_back(Heading{2, {"sheet.weld", {text("weld", w.id), text("what", name_of_subject(w))}}});
  d.blocks.emplace_back(Answer{card.verdict,
                               {card.at_most ? MessageId("sheet.weld-answer-at-most") : "sheet.weld-answer",
                                {site_argument("site", card.site.site), number("life", card.predicted.life.median * card.service_km, "km"),
                                 number("earliest", card.predicted.life.low * card.service_km, "km"),
                                 number("latest", card.predicted.life.high * card.service_km, "km"),
                                 number("service", card.service_km, "km"),
                                 number("cracked", 1000 * card.predicted.cracked.mean, "")}}});
  d.blocks.emplace_back(Paragraph{path_sentence(w.path)});
  if (w.growth.km > 0) d.blocks.emplace_back(Paragraph{growth_sentence(w)});
  TwoColumns sketch;
  const std::string drawing(published::drawing_of(w.kind));
  if (!drawing.empty()) sketch.left.emplace_back(Drawing{drawing, {"drawing.sites", {term_argument("kind", "joint-kind.", w.kind)}}});
  if (!card.by_leg.empty())
    sketch.right.emplace_back(PictureBlock{shares_plot(card.by_leg, 86), message_of("sheet.by-leg")});
  if (!card.by_cause.empty())
    sketch.right.emplace_back(PictureBlock{shares_plot(card.by_cause, 86), message_of("sheet.by-cause")});
  d.blocks.emplace_back(std::move(sketch));
  d.blocks.emplace_back(PictureBlock{sn_plot(card.plot, 50), {"sheet.sn", {site_argument("site", card.site.site)}}});
  add_chain(d, card.site.evidence, w.id);
}

// Signatures stand on the first page: who rated, who checked.
void sign_after_limit_states(Document& d) {
  const auto at = std::find_if(d.blocks.begin(), d.blocks.end(), [](const Block& b) {
    const auto* heading = std::get_if<Heading>(&b);
    return heading && heading->text.id == MessageId("load-question.title");
  });
  d.blocks.insert(at, Boxes{{{message_of("fill.rated-by"), 8}, {message_of("fill.checked-by"), 8}, {message_of("fill.day"), 8}, {message_of("fill.place"), 8}}, 4});
}

// Pictures say where around the worst welds the damage lies, of those whose joints have models.
void add_seams(Document& d, const rating::Job& job, const rating::Rating& r) {
  bool first = true;
  for (std::size_t w = 0; w < std::min(pictured, r.welds.size()); ++w) {
    auto picture = used_picture(job.design, r.welds[w], 182);
    if (!picture) continue;
    if (first) d.blocks.emplace_back(PageBreak{});
    first = false;
    d.blocks.emplace_back(block_of(std::move(*picture)));
  }
}

void add_advice(Document& d, const RatingSheet& s) {
  if (!s.influences.inputs.empty()) {
    d.blocks.emplace_back(PageBreak{});
    for (Block& block : influence_document(s.influences).blocks) d.blocks.push_back(std::move(block));
  }
  if (!s.suggestions.empty()) {
    d.blocks.emplace_back(Heading{2, {"sheet.options", {text("weld", s.rating->governing_weld)}}});
    for (Block& block : suggest_document(s.rating->governing_weld, s.suggestions).blocks)
      d.blocks.push_back(std::move(block));
  }
}

// The rules reach so far over all that is known of a weld, whichever of its sites governs.
Coverage reach_of(const rating::WeldRating& w) {
  Coverage reach = w.at_most ? Coverage::none : Coverage::inside;
  for (const rating::SiteRating& s : w.sites) reach = worse_coverage(reach, s.coverage);
  return reach;
}

// Names what lies outside the rules' reach, and the test that would settle it.
void add_coverage(Document& d, const rating::Rating& r) {
  d.blocks.emplace_back(Heading{2, message_of("sheet.coverage")});
  Table t = table_of({"column.coverage", "column.count", "column.welds", "column.settled-by"});
  for (const Coverage coverage : {Coverage::extended, Coverage::none}) {
    std::string welds;
    std::size_t count = 0;
    for (const rating::WeldRating& w : r.welds)
      if (reach_of(w) == coverage) {
        welds.append(welds.empty() ? "" : ", ").append(w.id);
        ++count;
      }
    if (count > 0)
      t.rows.push_back(
          {State{coverage == Coverage::none ? "not_covered" : "extended"},
           Quantity{static_cast<double>(count), "", 4}, Verbatim{welds},
           message_of(coverage == Coverage::none ? MessageId("sheet.test-none") : "sheet.test-extended")});
  }
  if (t.rows.empty())
    d.blocks.emplace_back(Paragraph{message_of("sheet.all-inside")});
  else
    d.blocks.emplace_back(std::move(t));
  d.blocks.emplace_back(Paragraph{message_of("sheet.test-strain")});
}

}  // namespace

Document rating_sheet(const RatingSheet& s, const Anchor& a) {
  const rating::Rating& r = *s.rating;
  Document whole = rating_document(r), d;
  d.title = whole.title;
  d.foot = whole.foot;
  // Verdict, cautions, facts and likelihood stand before the drawing; all else after it.
  const auto tables = std::find_if(whole.blocks.begin(), whole.blocks.end(),
                                   [](const Block& b) {
                                     const auto* heading = std::get_if<Heading>(&b);
                                     return heading && heading->text.id == MessageId("rating.welds");
                                   });
  d.blocks.assign(whole.blocks.begin(), tables);
  show_governing(d, s.job->design, r);
  sign_after_limit_states(d);
  const FrameDrawing drawing = frame_drawing(s.job->design, s.views ? *s.views : DrawnViews{});
  FrameLook look = look_of(r);
  look.names = FrameLook::Names::border;
  const FramePicture oblique = frame_picture(drawing, view_of("oblique"), look, 182, 94);
  d.blocks.emplace_back(
      PictureBlock{oblique.picture,
                   {"plot.used-caption",
                    {text("design", r.design.name), sentence_argument("view", "view.oblique"),
                     number("least", 100 * least_used, "%"), number("most", 100 * most_used, "%")}}});
  if (oblique.unnamed > 0)
    d.blocks.emplace_back(Paragraph{{"sheet.unnamed", {number("count", static_cast<double>(oblique.unnamed), "")}}});
  // The chain behind the governing weld stands on its own page.
  std::copy_if(tables, whole.blocks.end(), std::back_inserter(d.blocks), [](const Block& b) {
    const auto* heading = std::get_if<Heading>(&b);
    return !std::holds_alternative<Reasons>(b) && !(heading && heading->text.id == MessageId("rating.why"));
  });
  d.blocks.emplace_back(PictureBlock{wheel_loads_plot(r), message_of("sheet.wheel-loads")});
  add_seams(d, *s.job, r);
  for (std::size_t w = 0; w < std::min(worst, r.welds.size()); ++w) add_weld_page(d, *s.job, r, r.welds[w]);
  add_advice(d, s);
  add_coverage(d, r);
  d.blocks.emplace_back(Heading{2, message_of("sheet.again")});
  d.blocks.emplace_back(Facts{{{message_of("sheet.design-sha"), Verbatim{r.design.sha256}},
                               {message_of("sheet.duty-sha"), Verbatim{r.duty.sha256}},
                               {message_of("sheet.catalog-sha"), Verbatim{r.catalog_sha256}}}});
  d.blocks.emplace_back(Paragraph{message_of("sheet.again-how")});
  anchor(d, a);
  if (d.mark.empty()) d.mark = r.design.revision;
  return d;
}

}  // namespace seamwright::reports
