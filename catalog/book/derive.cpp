// SPDX-License-Identifier: GPL-3.0-or-later
// The tables that follow from the entries: people, marks, what frames carry, what was replaced.
#include <set>

#include "catalog/book/inside.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

void derive_person(Store& store, const Entry& e) {
  const std::string id = word_at(e.payload, field::id);
  if (e.kind == kind::person)
    return store.put_person({id, word_at(e.payload, field::stamp), word_at(e.payload, field::role),
                             word_at(e.payload, field::public_key), e.seq, 0});
  if (e.kind != kind::revoke && e.kind != kind::role && e.kind != kind::key) return;
  auto who = store.person(id);
  if (!who) return;
  if (e.kind == kind::revoke) who->revoked = e.seq;
  if (e.kind == kind::role) who->role = word_at(e.payload, field::role);
  if (e.kind == kind::key) who->public_key = word_at(e.payload, field::public_key);
  store.put_person(*who);
}

void carry(Store& store, const Content& content) {
  const std::vector<Mark> carried = carried_by(content);
  if (carried.empty()) return;
  for (const Mark& frame : marks_of(content))
    if (frame.name == mark::frame) store.carry(carried, frame.value);
}

// What a frame carries, from its entries that still hold.
void carry_anew(Store& store, const std::string& frame) {
  store.drop_carried(frame);
  const Mark mark{mark::frame, frame};
  for (Store::FoundEntry& f : store.marked({&mark, 1}, {}, unbounded)) {
    if (f.replaced_by > 0) continue;
    const Entry e = entry_of(std::move(f.entry));
    carry(store, content_of(e.kind, e.payload));
  }
}

}  // namespace

void derive(Store& store, const Entry& e, const Entry* named) {
  derive_person(store, e);
  const Content content = content_of(e.kind, e.payload);
  std::set<std::string> stale;
  if (content.replaces > 0 && named) {  // of nothing there is nothing to replace; verify() tells it
    store.replace(content.replaces, e.seq);
    for (const Mark& m : marks_of(content_of(named->kind, named->payload)))
      if (m.name == mark::frame) stale.insert(m.value);
  }
  store.mark(marks_of(content), e.seq);
  carry(store, content);
  for (const std::string& frame : stale) carry_anew(store, frame);
}

void Book::derive_all() {
  each_with_named([&](const Entry& e, const Record* named) {
    derive(*inside_->store, e, named ? &named->entry : nullptr);
    return true;
  });
}

}  // namespace seamwright::book
