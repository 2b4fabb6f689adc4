// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/gaps.h"

#include <algorithm>
#include <map>

#include "catalog/book/gaps_inside.h"
#include "catalog/book/production.h"
#include "catalog/book/transitions.h"
#include "catalog/book/records/names.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/nearest.h"
#include "engine/qualification/calendar.h"
#include "engine/rating/job.h"

namespace seamwright::book {

namespace {

void check_design(FrameReview& review, const Record& frame) {
  const auto design = design_of(review.records, frame);
  if (!design) {
    review.add(
        "", "gap.design-not-frozen",
        {text("design", frame.text_of(field::design)), text("revision", frame.text_of(field::revision))});
    return;
  }
  const auto rated = rating_of(review.records, frame);
  if (!rated)
    review.add("", "gap.not-rated");
  else if (rated->text_of(field::verdict) == "falls_short")
    review.add("", "gap.rating");
  else if (rated->text_of(field::verdict) != "meets")
    review.add("", "gap.rating-not-covered");
  // A root's proof stands in the procedures' files: the frame's own stand beside the design.
  try {
    check_welds(review, design_at(review, *design));
  } catch (const Fault& f) {
    review.add("", "gap.design-unreadable", {text("why", f.what())});
  }
}

// An answer holds for the state of its day: a later entry on the weld, or another rating, asks again.
void date_gaps(FrameReview& review, const Record& frame) {
  std::map<std::string, std::int64_t> last;
  for (const char* kind : {kind::weld, kind::repair, kind::inspection, kind::nonconformity})
    for (const Record& r : review.of_frame(kind)) {
      std::int64_t& seq = last[r.text_of(field::weld)];
      seq = std::max(seq, r.entry.seq);
    }
  std::int64_t whole = frame.entry.seq;
  if (const auto design = design_of(review.records, frame)) whole = std::max(whole, design->entry.seq);
  if (const auto rated = rating_of(review.records, frame)) whole = std::max(whole, rated->entry.seq);
  for (Gap& g : review.found) g.since = std::max({g.since, whole, g.weld.empty() ? 0 : last[g.weld]});
}

// A signed entry that is not in the shape of its kind may have been a rejection: what it says is told by
// nobody.
void check_shapes(FrameReview& review, const std::string& design) {
  for (const Mark& mark : {Mark{mark::frame, review.serial}, Mark{mark::design, design}})
    for (const Record& r : review.records.find(mark))
      if (r.malformed && r.current())
        review.add("", "gap.malformed", {number("seq", static_cast<double>(r.entry.seq), "")},
                   std::to_string(r.entry.seq));
}

}  // namespace

std::shared_ptr<FrozenFiles> frozen_files() { return std::make_shared<FrozenFiles>(); }

namespace {

// Who welded it cannot except it, unless there is nobody else; also where the exception came from an older program.
bool is_own(FrameReview& review, const Gap& gap, const std::string& person) {
  if (review.shop_of_one) return false;
  for (const char* kind : {kind::weld, kind::repair})
    for (const Record& w : review.of_frame(kind)) {
      const std::string welder = w.text_of(field::welder).empty() ? w.entry.author : w.text_of(field::welder);
      if (welder == person && (gap.weld.empty() || gap.weld == w.text_of(field::weld))) return true;
    }
  return false;
}

}  // namespace

std::vector<Gap> gaps_of(FrameReview& review) {
  gather(review);
  const auto& frames = review.of_frame(kind::frame);
  review.rig_only = !frames.empty() && frames.back().content.value(field::rig_only, false);
  check_shapes(review, frames.empty() ? std::string() : frames.back().text_of(field::design));
  check_cracks(review);
  check_audit_findings(review);
  if (frames.empty()) {
    if (review.records.find({mark::frame, review.serial}).empty())
      (void)trace(review.book, review.serial);  // throws with the nearest
    review.add("", "gap.no-frame");
    return review.found;
  }
  check_design(review, frames.back());
  date_gaps(review, frames.back());
  for (const Record& e : review.of_frame(kind::exception))
    for (Gap& g : review.found)
      if (g.exceptable && g.key == e.text_of(field::gap) && e.entry.seq > g.since && !is_own(review, g, e.entry.author)) {
        g.excepted_by = e.entry.author;
        g.reason = e.text_of(field::reason);
      }
  std::stable_partition(review.found.begin(), review.found.end(),
                        [](const Gap& g) { return g.weld.empty(); });
  return review.found;
}

namespace {

FrameReview review_of(const Book& book, const std::string& serial, const std::string& today,
                      FrozenFiles& frozen) {
  return {book, serial, qualification::read_date(today).value_or(qualification::Date{}), frozen};
}

}  // namespace

std::vector<Gap> gaps(const Book& book, const std::string& serial, const std::string& today,
                      FrozenFiles* frozen) {
  FrozenFiles own;
  FrameReview review = review_of(book, serial, today, frozen ? *frozen : own);
  return gaps_of(review);
}

std::vector<Gap> open_gaps(const std::vector<Gap>& all) {
  std::vector<Gap> open;
  std::copy_if(all.begin(), all.end(), std::back_inserter(open),
               [](const Gap& g) { return g.excepted_by.empty(); });
  return open;
}

std::optional<Message> release_fault(const Book& book, const Json& release, const std::string& time, FrozenFiles* frozen,
                                     Demands demands) {
  const std::string serial = word_at(release, field::frame);
  try {
    FrozenFiles own;
    FrameReview review = review_of(book, serial, time.substr(0, 10), frozen ? *frozen : own);
    review.as_then = demands == Demands::first;
    const std::vector<Gap> all = gaps_of(review);
    const std::size_t open = open_gaps(all).size();
    if (open > 0)
      return Message{"book.gaps",
                     {text("serial", serial.substr(0, 200)), number("count", static_cast<double>(open), "")}};
    const auto design = design_of(review.records, review.of_frame(kind::frame).back());
    const auto stated = release.find("exceptions");
    const bool same =
        word_at(release, field::design_sha256) == word_at(design->content[field::file], field::sha256) &&
        (stated == release.end() || *stated == all.size());
    return same ? std::nullopt
                : std::optional(Message{"rule.release-differs", {text("serial", serial.substr(0, 200))}});
  } catch (const Fault& fault) {
    return fault.message;
  }
}

Entry except_gap(Book& book, const std::string& serial, const std::string& gap, const std::string& reason,
                 const std::string& author, const Signer& key, const std::string& time) {
  const auto made = [&](const Book& now) {
    const std::vector<Gap> all = gaps(now, serial, time.substr(0, 10));
    const auto found = std::find_if(all.begin(), all.end(), [&](const Gap& g) { return g.key == gap; });
    if (found == all.end()) {
      std::vector<std::string> keys;
      for (const Gap& g : all) keys.push_back(g.key);
      throw Fault{Message{
          "book.no-such-gap",
          {text("gap", gap.substr(0, 200)), text("nearest", published::nearest(gap.substr(0, 200), keys))}}};
    }
    if (!found->exceptable) throw Fault{Message{"book.not-exceptable", {text("gap", gap)}}};
    return NewEntry{kind::exception, {{field::frame, serial}, {field::gap, gap}, {field::reason, reason}}};
  };
  return book.append_made(author, key, made, time);
}

// Whether gaps are open is asked by the rule of every release, in the same transaction.
NewEntry release_record(const Book& book, const std::string& serial, const std::string& today) {
  FrozenFiles own;
  FrameReview review = review_of(book, serial, today, own);
  const std::size_t count = gaps_of(review).size();
  const auto& frames = review.of_frame(kind::frame);
  const auto design = frames.empty() ? std::nullopt : design_of(review.records, frames.back());
  return {kind::release,
          {{field::frame, serial},
           {field::on, today},
           {field::design_sha256, design ? word_at(design->content[field::file], field::sha256) : "none"},
           {field::exceptions, count}}};
}

Entry release(Book& book, const std::string& serial, const std::string& author, const Signer& key,
              const std::string& time) {
  return book.append_made(author, key, [&](const Book& now) { return release_record(now, serial, time.substr(0, 10)); }, time);
}

namespace {

std::int64_t doubting_test(FrameReview& review, std::int64_t before) {
  std::vector<WeldEntry> made;
  for (const char* kind : {kind::weld, kind::repair})
    for (const Record& r : review.of_frame(kind))
      made.push_back({r.entry.seq, kind, "", "", true, r.text_of(field::weld), r.text_of(field::procedure)});
  return book::doubting_test(made, tests_of(review.book, made), before);
}

}  // namespace

FrameState state_of(const Book& book, const std::string& serial, const std::string& today) {
  FrozenFiles own;
  FrameReview review = review_of(book, serial, today, own);
  FrameState s{false, serial, "", gaps_of(review), {}, {}, {}};
  const auto& frames = review.of_frame(kind::frame);
  if (const auto rated = frames.empty() ? std::nullopt : rating_of(review.records, frames.back()))
    s.verdict = rated->text_of(field::verdict);
  for (const Gap& g : s.gaps)
    if (g.crack_report > 0)
      for (const Record& r : review.of_frame(kind::field_report))
        if (r.entry.seq == g.crack_report) s.cracks.push_back(r);
  s.rig_only = review.rig_only;
  s.covered_by = review.covered_by;
  for (const Record& r : review.of_frame(kind::shipment)) s.shipment = r;
  for (const Record& r : review.of_frame(kind::release)) s.release = r;
  // An entry that asked for another release before the frame left undoes that one.
  const std::int64_t left = s.shipment ? s.shipment->entry.seq : unbounded;
  if (s.release && doubting_test(review, left) > s.release->entry.seq) s.release.reset();
  for (const Record& r : review.records.find({mark::frame, serial}))
    if (s.release && r.current() && r.entry.seq > s.release->entry.seq && r.entry.seq < left && asks_for_release({r.kind, &r.content, 0}))
      s.release.reset();
  return s;
}

}  // namespace seamwright::book
