// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/entry_check.h"

#include <algorithm>

#include "catalog/book/inside.h"
#include "catalog/book/records/names.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

constexpr std::size_t most_held = 1u << 20;

bool tells_of_people(const std::string& kind) {
  return kind == kind::person || kind == kind::key || kind == kind::role || kind == kind::revoke;
}

// Empty for what has no canonical form, or not the one in which it stands.
std::string payload_as_signed(const Entry& e) {
  try {
    const std::string written = e.payload.is_discarded() ? "" : canonical(e.payload);
    return written == e.written ? written : std::string();
  } catch (const Fault&) {
    return {};
  }
}

}  // namespace

const std::vector<Entry>& EntryCheck::told_of(const std::string& person, std::int64_t up_to) {
  if (known_to_ < up_to) {  // everyone at once: it is asked of all who signed
    const auto last = store_.last();
    known_to_ = std::max(up_to, last ? last->seq : 0);
    people_.clear();
    const std::string name = mark::person;
    for (Store::FoundEntry& found : store_.marked(store_.marks({&name, 1}, unbounded), {}, unbounded)) {
      Entry e = entry_of(std::move(found.entry));
      if (tells_of_people(e.kind)) people_[word_at(e.payload, field::id)].push_back(std::move(e));
    }
  }
  return people_[person];
}

// Each of the entries that admit, change or revoke a person must hold itself; all lie before, so that this ends.
EntryCheck::Standing EntryCheck::standing_before(const std::string& person, std::int64_t seq) {
  Standing now;
  const std::vector<Entry> told = told_of(person, seq);
  for (const Entry& e : told) {
    const bool themself = seq == 1 && e.seq == 1;  // the first owner signs themself in
    if (!themself && (e.seq >= seq || fault_of(e))) continue;
    if (e.kind == kind::person || e.kind == kind::key) now.public_key = word_at(e.payload, field::public_key);
    if (e.kind == kind::person || e.kind == kind::role) now.role = word_at(e.payload, field::role);
    now.revoked = now.revoked || e.kind == kind::revoke;
  }
  return now;
}

std::optional<MessageId> EntryCheck::author_fault(const Entry& e, const std::string& payload) {
  const Standing author = standing_before(e.author, e.seq);
  if (author.role.empty()) return MessageId("book.unknown-author");
  if (author.revoked) return MessageId("book.revoked-author");
  if (!may_sign(author.role, e.kind)) return MessageId("book.no-role");
  if (!signature_holds(author.public_key, signed_hash(book_id_, e, payload), e.signature)) return MessageId("book.bad-signature");
  return std::nullopt;
}

std::optional<MessageId> EntryCheck::fault_of(const Entry& e) {
  const std::string payload = payload_as_signed(e);
  if (payload.empty() || entry_hash(book_id_, e, payload) != e.hash) return MessageId("book.altered");
  const auto held = held_.find(e.seq);
  if (held != held_.end() && held->second == e.hash + e.signature) return std::nullopt;
  const auto fault = author_fault(e, payload);
  if (fault) return fault;
  if (held_.size() >= most_held) held_.clear();
  held_[e.seq] = e.hash + e.signature;
  return std::nullopt;
}

}  // namespace seamwright::book
