// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/quality.h"

#include <algorithm>
#include <map>
#include <sstream>

#include "catalog/book/records/names.h"

namespace seamwright::book {

bool QualityRow::is_answered() const {
  return (kept == "here" && entries > 0) || (kept == "elsewhere" && !place.empty()) || (kept == "not-applicable" && !reason.empty());
}

namespace {

std::vector<AuditFinding> findings_of(const Book& book) {
  std::vector<AuditFinding> all;
  std::vector<Mark> marks;
  for (std::string& id : book.values_of(mark::audit_finding)) marks.push_back({mark::audit_finding, std::move(id)});
  for (const std::vector<Record>& of_one : book.find_all(marks)) {
    AuditFinding finding;
    for (const Record& r : of_one) {
      if (!r.current()) continue;
      if (r.kind == kind::audit_finding)
        finding = {r.text_of(field::id), r.text_of(field::what), r.text_of(field::frame), r.entry.author, r.text_of(field::on), false, "", ""};
      if (r.kind == kind::corrective_action) finding.acted = true;
      if (r.kind == kind::audit_closing) {
        finding.closed_on = r.text_of(field::on);
        finding.closed_by = r.entry.author;
      }
    }
    if (!finding.id.empty()) all.push_back(std::move(finding));
  }
  return all;
}

// Certificates that name no examiner.
std::vector<std::string> without_examiner(const Book& book) {
  std::vector<Mark> marks;
  for (std::string& id : book.values_of(mark::certificate)) marks.push_back({mark::certificate, std::move(id)});
  std::vector<std::string> all;
  for (const std::vector<Record>& of_one : book.current_all(marks, {kind::certificate}))
    for (const Record& r : of_one)
      if (r.text_of(field::examiner).empty()) all.push_back(r.text_of(field::id));
  return all;
}

}  // namespace

std::vector<Coordinator> coordinators_of(const Book& book, const std::string& today) {
  std::vector<Mark> marks;
  for (std::string& person : book.values_of(mark::coordinator)) marks.push_back({mark::coordinator, std::move(person)});
  std::vector<Coordinator> all;
  for (const std::vector<Record>& of_one : book.current_all(marks, {kind::coordinator})) {
    if (of_one.empty()) continue;
    const Record& r = of_one.back();  // the last word on each person
    Coordinator c{r.text_of(field::person), r.text_of(field::knowledge), r.text_of(field::on), r.text_of(field::until), true};
    const auto person = book.person(c.person);
    c.acts = person && person->revoked == 0 && c.on <= today && (c.until.empty() || today <= c.until);
    all.push_back(std::move(c));
  }
  std::stable_partition(all.begin(), all.end(), [](const Coordinator& c) { return c.acts; });
  return all;
}

QualityIndex quality_index(const Book& book, const std::string& today) {
  QualityIndex index;
  std::map<std::string, std::int64_t> counts;
  book.for_each_entry([&](const Entry& e) {
    ++counts[e.kind];
    return true;
  });
  for (const QualityRequirement& of : quality_records) {
    QualityRow row{of, "", "", "", 0};
    std::istringstream kinds(of.kinds);
    for (std::string k; kinds >> k;) row.entries += counts[k];
    for (const Record& r : book.current({mark::requirement, of.id}, kind::quality_statement)) {
      row.kept = r.text_of(field::kept);
      row.place = r.text_of(field::place);
      row.reason = r.text_of(field::reason);
      index.part = r.text_of(field::part);
    }
    index.rows.push_back(std::move(row));
  }
  index.findings = findings_of(book);
  index.coordinators = coordinators_of(book, today);
  index.no_examiner = without_examiner(book);
  return index;
}

}  // namespace seamwright::book
