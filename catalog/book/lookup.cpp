// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/lookup.h"

#include <algorithm>
#include <set>

#include "catalog/book/records/names.h"

namespace seamwright::book {

void Lookup::ask(const std::vector<Mark>& marks) {
  std::set<Mark> fresh;
  for (const Mark& m : marks)
    if (!found_.contains(m)) fresh.insert(m);
  if (fresh.empty()) return;
  const std::vector<Mark> asked(fresh.begin(), fresh.end());
  std::vector<std::vector<Record>> all = book_.find_all(asked);
  for (std::size_t i = 0; i < asked.size(); ++i) found_.emplace(asked[i], std::move(all[i]));
}

const std::vector<Record>& Lookup::find(const Mark& mark) {
  ask({mark});
  return found_.at(mark);
}

const std::vector<Record>& Lookup::current(const Mark& mark, const std::string& kind) {
  const auto [known, fresh] = current_.try_emplace({mark, kind});
  if (fresh)
    for (const Record& r : find(mark))
      if (r.kind == kind && r.replaced_by == 0) known->second.push_back(r);
  return known->second;
}

const Record* Lookup::record(std::int64_t seq) const {
  for (const auto& [mark, all] : found_) {
    const auto found =
        std::lower_bound(all.begin(), all.end(), seq,
                         [](const Record& r, std::int64_t wanted) { return r.entry.seq < wanted; });
    if (found != all.end() && found->entry.seq == seq) return &*found;
  }
  return nullptr;
}

std::vector<Mark> carried_by_records(const std::vector<Record>& of_frame) {
  std::set<Mark> all;
  for (const Record& r : of_frame)
    if (r.current())
      for (Mark& m : carried_by(content_of(r.entry.kind, r.entry.payload))) all.insert(std::move(m));
  return {all.begin(), all.end()};
}

std::vector<Mark> marks_behind(const std::vector<Mark>& carried) {
  std::vector<Mark> all = carried;
  for (const Mark& m : carried) {
    if (m.name == mark::machine || m.name == mark::tool) all.push_back({mark::calibrated, m.value});
    if (m.name == mark::welder) all.push_back({mark::person, m.value});
  }
  return all;
}

std::vector<Mark> certificate_marks(Lookup& lookup, const std::vector<Mark>& carried) {
  std::vector<Mark> all;
  for (const Mark& m : carried)
    if (m.name == mark::welder)
      for (const Record& r : lookup.find(m))
        if (r.kind == kind::certificate) all.push_back({mark::certificate, r.text_of(field::id)});
  return all;
}

}  // namespace seamwright::book
