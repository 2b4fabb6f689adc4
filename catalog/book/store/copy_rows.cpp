// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/copy_rows.h"

namespace seamwright::book {

namespace {

// This stands beside the chain. A store gives salt and details joined, and the details alone.
void copy_beside(const Store& from, Store& to) {
  from.each_sealed_key([&](const std::string& person, const std::string& sealed) { to.seal(person, sealed); });
  std::vector<std::pair<std::string, std::string>> salted;
  from.each_salted_details([&](const std::string& person, const std::string& both) { salted.emplace_back(person, both); });
  for (const auto& [person, both] : salted) {
    const std::string details = from.details(person).value_or("");
    to.keep_details(person, both.substr(0, both.size() - details.size()), details);
  }
  for (const DraftRow& d : from.drafts("")) to.keep_draft(d);
}

}  // namespace

void copy_rows(const Store& from, Store& to) {
  const Still still(from);
  Transaction t(to);
  for (const std::string& id : from.ids()) to.set_id(id);
  from.each_entry([&](EntryRow e) {
    to.add(e);
    return true;
  });
  for (const Person& p : from.people()) to.put_person(p);
  from.each_mark([&](const Mark& m, std::int64_t seq) { to.mark({&m, 1}, seq); });
  from.each_carried([&](const Mark& m, const std::string& frame) { to.carry({&m, 1}, frame); });
  from.each_replaced([&](std::int64_t seq, std::int64_t by) { to.replace(seq, by); });
  from.each_file([&](const std::string& sha256, const std::string& bytes) { to.keep_file(sha256, bytes); });
  copy_beside(from, to);
  t.commit();
}

}  // namespace seamwright::book
