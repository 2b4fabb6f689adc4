// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/gaps.h"

#include <algorithm>
#include <map>

#include "catalog/book/gaps_inside.h"
#include "catalog/book/records/names.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/nearest.h"
#include "engine/qualification/calendar.h"
#include "engine/rating/job.h"

namespace seamwright::book {

namespace {

void check_design(FrameReview& l, const Record& frame) {
  const auto design = design_of(l.records, frame);
  if (!design) {
    l.add("", "gap.design-not-frozen",
          {text("design", frame.word(field::design)), text("revision", frame.word(field::revision))});
    return;
  }
  const auto rated = rating_of(l.records, frame);
  if (!rated)
    l.add("", "gap.not-rated");
  else if (rated->word(field::verdict) != "meets")
    l.add("", "gap.rating", {word("verdict", composed_id("state.", rated->word(field::verdict)))});
  // A root's proof stands in the procedures' files: the frame's own stand beside the design.
  try {
    check_welds(l, design_at(l, *design));
  } catch (const Fault& f) {
    l.add("", "gap.design-unreadable", {text("why", f.what())});
  }
}

// An answer holds for the state of its day: a later entry on the weld, or another rating, asks again.
void date_gaps(FrameReview& l, const Record& frame) {
  std::map<std::string, std::int64_t> last;
  for (const char* kind : {kind::weld, kind::repair, kind::inspection, kind::nonconformity})
    for (const Record& r : l.of_frame(kind)) {
      std::int64_t& seq = last[r.word(field::weld)];
      seq = std::max(seq, r.entry.seq);
    }
  std::int64_t whole = frame.entry.seq;
  if (const auto design = design_of(l.records, frame)) whole = std::max(whole, design->entry.seq);
  if (const auto rated = rating_of(l.records, frame)) whole = std::max(whole, rated->entry.seq);
  for (Gap& g : l.found) g.since = std::max({g.since, whole, g.weld.empty() ? 0 : last[g.weld]});
}

// A signed entry that is not in the shape of its kind may have been a rejection: what it says is told by
// nobody.
void check_shapes(FrameReview& l, const std::string& design) {
  for (const Mark& mark : {Mark{mark::frame, l.serial}, Mark{mark::design, design}})
    for (const Record& r : l.records.find(mark))
      if (r.malformed && r.current())
        l.add("", "gap.malformed", {number("seq", static_cast<double>(r.entry.seq), "")},
              std::to_string(r.entry.seq));
}

}  // namespace

std::shared_ptr<Frozen> frozen_files() { return std::make_shared<Frozen>(); }

std::vector<Gap> gaps_of(FrameReview& l) {
  gather(l);
  const auto& frames = l.of_frame(kind::frame);
  check_shapes(l, frames.empty() ? std::string() : frames.back().word(field::design));
  check_cracks(l);
  if (frames.empty()) {
    if (l.records.find({mark::frame, l.serial}).empty())
      (void)trace(l.book, l.serial);  // throws with the nearest
    l.add("", "gap.no-frame");
    return l.found;
  }
  check_design(l, frames.back());
  date_gaps(l, frames.back());
  for (const Record& e : l.of_frame(kind::exception))
    for (Gap& g : l.found)
      if (g.exceptable && g.key == e.word(field::gap) && e.entry.seq > g.since) {
        g.excepted_by = e.entry.author;
        g.reason = e.word(field::reason);
      }
  std::stable_partition(l.found.begin(), l.found.end(), [](const Gap& g) { return g.weld.empty(); });
  return l.found;
}

namespace {

FrameReview review_of(const Book& book, const std::string& serial, const std::string& today, Frozen& frozen) {
  return {book, serial, qualification::read_date(today).value_or(qualification::Date{}), frozen};
}

}  // namespace

std::vector<Gap> gaps(const Book& book, const std::string& serial, const std::string& today, Frozen* frozen) {
  Frozen own;
  FrameReview l = review_of(book, serial, today, frozen ? *frozen : own);
  return gaps_of(l);
}

std::vector<Gap> open_gaps(const std::vector<Gap>& all) {
  std::vector<Gap> open;
  std::copy_if(all.begin(), all.end(), std::back_inserter(open),
               [](const Gap& g) { return g.excepted_by.empty(); });
  return open;
}

std::optional<Message> release_fault(const Book& book, const Json& release, const std::string& time,
                                     Frozen* frozen) {
  const std::string serial = word_at(release, field::frame);
  try {
    Frozen own;
    FrameReview l = review_of(book, serial, time.substr(0, 10), frozen ? *frozen : own);
    const std::vector<Gap> all = gaps_of(l);
    const std::size_t open = open_gaps(all).size();
    if (open > 0)
      return Message{"book.gaps",
                     {text("serial", serial.substr(0, 200)), number("count", static_cast<double>(open), "")}};
    const auto design = design_of(l.records, l.of_frame(kind::frame).back());
    const auto told = release.find("exceptions");
    const bool same =
        word_at(release, field::design_sha256) == word_at(design->content[field::file], field::sha256) &&
        (told == release.end() || *told == all.size());
    return same ? std::nullopt
                : std::optional(Message{"rule.release-differs", {text("serial", serial.substr(0, 200))}});
  } catch (const Fault& fault) {
    return fault.message;
  }
}

Entry except(Book& book, const std::string& serial, const std::string& gap, const std::string& reason,
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
    return New{kind::exception, {{field::frame, serial}, {field::gap, gap}, {field::reason, reason}}};
  };
  return book.append_made(author, key, made, time);
}

// Whether gaps are open is asked by the rule of every release, in the same transaction.
Entry release(Book& book, const std::string& serial, const std::string& author, const Signer& key,
              const std::string& time) {
  const std::string today = time.substr(0, 10);
  const auto made = [&](const Book& now) {
    Frozen own;
    FrameReview l = review_of(now, serial, today, own);
    const std::size_t count = gaps_of(l).size();
    const auto& frames = l.of_frame(kind::frame);
    const auto design = frames.empty() ? std::nullopt : design_of(l.records, frames.back());
    return New{
        kind::release,
        {{field::frame, serial},
         {field::on, today},
         {field::design_sha256, design ? word_at(design->content[field::file], field::sha256) : "none"},
         {field::exceptions, count}}};
  };
  return book.append_made(author, key, made, time);
}

FrameState state_of(const Book& book, const std::string& serial, const std::string& today) {
  Frozen own;
  FrameReview l = review_of(book, serial, today, own);
  FrameState s{serial, "", gaps_of(l), {}, {}, {}};
  const auto& frames = l.of_frame(kind::frame);
  if (const auto rated = frames.empty() ? std::nullopt : rating_of(l.records, frames.back()))
    s.verdict = rated->word(field::verdict);
  for (const Gap& g : s.gaps)
    if (g.what.id == MessageId("gap.crack-reported"))
      for (const Record& r : l.of_frame(kind::field_report))
        if (g.key.ends_with(":" + std::to_string(r.entry.seq))) s.cracks.push_back(r);
  for (const Record& r : l.of_frame(kind::release)) s.release = r;
  for (const Record& r : l.of_frame(kind::shipment)) s.shipment = r;
  return s;
}

}  // namespace seamwright::book
