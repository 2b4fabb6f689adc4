// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/repairs.h"

#include <algorithm>

#include "catalog/book/records.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

std::optional<std::string> asked_repair(const Book& book, const std::string& serial, const std::string& weld) {
  const std::vector<Record> repairs = book.current({mark::frame, serial}, kind::repair);
  for (const Record& n : book.current({mark::frame, serial}, kind::nonconformity)) {
    if (n.text_of(field::weld) != weld) continue;
    const std::string id = n.text_of(field::id);
    const std::vector<Record> decided = book.current({mark::nonconformity, id}, kind::disposition);
    if (decided.empty() || decided.back().text_of(field::decision) != "repair") continue;
    // A repair before the decision answers another question.
    if (std::none_of(repairs.begin(), repairs.end(),
                     [&](const Record& r) { return r.text_of(field::nonconformity) == id && r.entry.seq > decided.back().entry.seq; }))
      return id;
  }
  return std::nullopt;
}

}  // namespace seamwright::book
