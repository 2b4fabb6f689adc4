// SPDX-License-Identifier: GPL-3.0-or-later
// Findings on a frame that are not answered: nonconformities, findings of audits, cracks.
#include <algorithm>

#include "catalog/book/gaps_inside.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

// The entry since which a record says this: a correction of other words does not make it younger.
std::int64_t first_saying(const FrameReview& review, const Record& record, const char* key) {
  const Record* r = &record;
  while (r->replaces > 0) {
    const Record* before = review.record(r->replaces);
    if (!before || before->entry.seq >= r->entry.seq || before->text_of(key) != r->text_of(key)) break;
    r = before;
  }
  return r->entry.seq;
}

// The last decision on a nonconformity of this frame, made after it was found; one of the same name on another frame decides nothing here.
const Record* decision_on(FrameReview& review, const Record& found) {
  const Record* last = nullptr;
  const std::int64_t since = first_saying(review, found, field::weld);
  for (const Record& d : review.current({mark::nonconformity, found.text_of(field::id)}, kind::disposition))
    if (d.entry.seq > since && d.text_of(field::frame) == review.serial) last = &d;
  return last;
}

// A repair answers a nonconformity that it names, on the weld that was found, after the decision to repair it.
bool answers(const FrameReview& review, const Record& repair, const Record& found, const Record& decision) {
  const std::string weld = found.text_of(field::weld);
  return repair.text_of(field::nonconformity) == found.text_of(field::id) && repair.entry.seq > first_saying(review, decision, field::decision) &&
         (weld.empty() || repair.text_of(field::weld) == weld);
}

}  // namespace

void check_nonconformities(FrameReview& review, const std::vector<Record>& repairs) {
  for (const Record& n : review.of_frame(kind::nonconformity)) {
    const std::string id = n.text_of(field::id);
    const Record* decided = decision_on(review, n);
    if (!decided) {
      review.add(n.text_of(field::weld), "gap.open-nonconformity", {text("id", id)}, id);
      continue;
    }
    const std::string decision = decided->text_of(field::decision);
    if (decision.empty()) review.add(n.text_of(field::weld), "gap.open-nonconformity", {text("id", id)}, id);
    if (decision == "scrap") review.add(n.text_of(field::weld), "gap.scrapped", {text("id", id)}, id);
    if (decision == "repair" && std::none_of(repairs.begin(), repairs.end(), [&](const Record& r) { return answers(review, r, n, *decided); }))
      review.add(n.text_of(field::weld), "gap.not-repaired", {text("id", id)}, id);
  }
}

void check_audit_findings(FrameReview& review) {
  for (const Record& r : review.of_frame(kind::audit_finding)) {
    const std::string id = r.text_of(field::id);
    if (review.current({mark::audit_finding, id}, kind::audit_closing).empty()) review.add("", "gap.audit-finding", {text("id", id)}, id, r.entry.seq);
  }
}

void check_cracks(FrameReview& review) {
  const std::vector<Record>& repairs = review.of_frame(kind::repair);
  for (const Record& r : review.of_frame(kind::field_report)) {
    if (!r.content.value(field::cracked, false)) continue;
    const std::string weld = r.text_of(field::weld);
    const bool repaired =
        !weld.empty() && std::any_of(repairs.begin(), repairs.end(), [&](const Record& again) {
          return again.text_of(field::weld) == weld && again.entry.seq > r.entry.seq;
        });
    if (repaired) continue;
    review.add(weld, "gap.crack-reported", {text("day", r.text_of(field::on))}, std::to_string(r.entry.seq),
               r.entry.seq);
    review.found.back().crack_report = r.entry.seq;  // no other gap has its key
  }
}

}  // namespace seamwright::book
