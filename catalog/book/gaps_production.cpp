// SPDX-License-Identifier: GPL-3.0-or-later
// Production tests of a procedure against the welds between them.
#include "catalog/book/gaps_inside.h"
#include "catalog/book/production.h"
#include "catalog/book/records/names.h"
#include "engine/qualification/production_interval.h"

namespace seamwright::book {

namespace {

using qualification::Date;
using qualification::production_interval;

bool within_months(Date a, Date b) { return std::max(a, b) <= qualification::add_months(std::min(a, b), production_interval.months); }

// A frame that was released stays so: what is asked of the next does not come upon those before it.
bool was_released_since(FrameReview& review, const Record& w) {
  const auto& releases = review.of_frame(kind::release);
  return !releases.empty() && releases.back().entry.seq > w.entry.seq;
}

// Frames of a procedure from an entry up to a weld or a piece, this one among them.
int frames_up_to(FrameReview& review, const std::string& procedure, std::int64_t from, std::int64_t to) {
  const auto [known, fresh] = review.frames_since.try_emplace({procedure, from});
  if (fresh) known->second = frames_since(review.book, review.frozen, procedure, from, review.serial);
  const auto& all = known->second;
  return 1 + static_cast<int>(std::lower_bound(all.begin(), all.end(), to) - all.begin());
}

// A good piece, or the test of the record, stands before the weld within the interval; or the next piece behind it is good and within it.
void check_interval(FrameReview& review, const Record& w, const std::string& weld) {
  if (review.as_then || was_released_since(review, w)) return;
  const std::string procedure = w.text_of(field::procedure);
  const files::ProcedureFile* p = procedure_at(review, procedure, w.text_of(field::revision));
  if (!p) return;  // told by itself
  Date day = signed_on(review, w), said{};
  if (day_of(w, field::on, said)) day = std::max(day, said);  // what is entered later is not older for it
  const auto last = last_good(review.records, procedure, p->sheet.record, p->record ? p->record->date : std::nullopt, w.entry.seq);
  const int before = last ? frames_up_to(review, procedure, last->seq, w.entry.seq) : 0;
  if (last && before <= production_interval.frames && within_months(last->on, day)) return;
  for (const ProductionPiece& t : production_pieces(review.records, procedure)) {
    if (t.seq < w.entry.seq) continue;
    if (!t.open && within_months(day, t.on) && frames_up_to(review, procedure, w.entry.seq, t.seq) <= production_interval.frames) return;
    break;
  }
  const std::vector<Argument> interval{text("procedure", procedure), number("months", production_interval.months, ""),
                                       number("most", production_interval.frames, "")};
  if (!last) return review.add(weld, "gap.production-test-missing", interval, procedure);
  std::vector<Argument> with = interval;
  with.push_back(text("day", qualification::text_of(last->on)));
  with.push_back(number("frames", before, ""));
  review.add(weld, "gap.production-test-due", std::move(with), procedure);
}

}  // namespace

// Test pieces are cut open between the frames. A weld stands between two of its procedure: where either of them showed an open root, and the
// rating counts on a fused one, the weld is in doubt.
void check_production_tests(FrameReview& review, const Record& w, const std::string& weld) {
  const std::string procedure = w.text_of(field::procedure);
  std::optional<ProductionPiece> before, after;
  for (const ProductionPiece& t : production_pieces(review.records, procedure)) {
    if (t.seq < w.entry.seq)
      before = t;
    else if (!after)
      after = t;
  }
  for (const auto& t : {before, after})
    if (t && t->open) {
      review.add(weld, "gap.production-test-open", {text("procedure", procedure), text("day", qualification::text_of(t->on))}, procedure, t->seq);
      return;
    }
  check_interval(review, w, weld);
}

}  // namespace seamwright::book
