// SPDX-License-Identifier: GPL-3.0-or-later
// A review of a frame needs this of the book, asked for in a handful of questions before it begins.
#include <set>

#include "catalog/book/gaps_inside.h"

#include "catalog/book/records/names.h"
#include "catalog/book/transitions.h"

namespace seamwright::book {

namespace {

// The frozen procedures of a frame in the order in which a design is read with them: of each one that it
// carries, revision by revision.
std::vector<std::string> procedures_beside(FrameReview& l, const std::vector<Mark>& carried) {
  std::vector<std::string> all;
  std::set<std::pair<std::string, std::string>> listed;
  for (const Mark& m : carried) {
    if (m.name != mark::procedure) continue;
    const std::vector<Record>& records = l.current(m, kind::procedure);
    for (const Record& p : records) {
      if (!listed.insert({m.value, p.text_of(field::revision)}).second) continue;
      for (const Record& r : records)
        if (r.text_of(field::revision) == p.text_of(field::revision)) all.push_back(file_of(r));
    }
  }
  return all;
}

// Corrections may name entries of another frame, and those again others: one question for each step back.
void gather_earlier(FrameReview& l) {
  std::set<std::int64_t> wanted;
  for (const Record& r : l.records.find({mark::frame, l.serial}))
    if (r.replaces > 0 && !l.records.record(r.replaces)) wanted.insert(r.replaces);
  std::set<std::int64_t> asked;
  while (!wanted.empty()) {
    asked.insert(wanted.begin(), wanted.end());
    std::set<std::int64_t> next;
    for (Record& r : l.book.records({wanted.begin(), wanted.end()})) {
      if (r.replaces > 0 && !asked.contains(r.replaces) && !l.records.record(r.replaces))
        next.insert(r.replaces);
      l.earlier.emplace(r.entry.seq, std::move(r));
    }
    wanted = std::move(next);
  }
}

}  // namespace

void gather(FrameReview& l) {
  const std::vector<Record>& of_frame = l.records.find({mark::frame, l.serial});
  const std::vector<Mark> carried = carried_by_records(of_frame);
  std::vector<Mark> asked = marks_behind(carried);
  const std::vector<Record>& frames = l.of_frame(kind::frame);
  const std::string design = frames.empty() ? std::string() : frames.back().text_of(field::design);
  asked.push_back({mark::design, design});
  for (const Record& n : l.of_frame(kind::nonconformity))
    asked.push_back({mark::nonconformity, n.text_of(field::id)});
  for (const Record& n : l.of_frame(kind::audit_finding)) asked.push_back({mark::audit_finding, n.text_of(field::id)});
  for (const char* said : {"one", "several"}) asked.push_back({mark::shop, said});
  l.records.ask(asked);
  l.shop_of_one = is_shop_of_one(l.records);
  l.records.ask(certificate_marks(l.records, carried));
  gather_earlier(l);
  l.beside = procedures_beside(l, carried);
  std::map<std::string, std::string> names;
  for (std::size_t i = 0; i < l.beside.size(); ++i) names[procedure_name(i)] = l.beside[i];
  if (!frames.empty())
    if (const auto frozen = design_of(l.records, frames.back())) names["design.toml"] = file_of(*frozen);
  l.files = std::make_unique<AttachedFiles>(l.book, std::move(names));
}

void gather_proofs(FrameReview& l, const design::Design& design) {
  std::vector<Mark> asked;
  for (const joints::Weld& w : design.welds)
    if (!w.root_proof.empty()) asked.push_back({mark::qualification, w.root_proof});
  l.records.ask(asked);
}

}  // namespace seamwright::book
