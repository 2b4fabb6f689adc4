// SPDX-License-Identifier: GPL-3.0-or-later
// The tables that follow from the entries: people, marks, what frames carry, what was replaced.
#include <set>

#include "catalog/book/inside.h"

namespace seamwright::book {

namespace {

void derive_person(Database& db, const Entry& e) {
  const std::string id = word_at(e.payload, "id");
  if (e.kind == "person")
    Statement(db, "INSERT OR REPLACE INTO person VALUES(?1, ?2, ?3, ?4, ?5, 0)")
        .bind(1, id)
        .bind(2, word_at(e.payload, "stamp"))
        .bind(3, word_at(e.payload, "role"))
        .bind(4, word_at(e.payload, "public_key"))
        .bind(5, e.seq)
        .step();
  else if (e.kind == "revoke")
    Statement(db, "UPDATE person SET revoked = ?2 WHERE id = ?1").bind(1, id).bind(2, e.seq).step();
  else if (e.kind == "role")
    Statement(db, "UPDATE person SET role = ?2 WHERE id = ?1")
        .bind(1, id)
        .bind(2, word_at(e.payload, "role"))
        .step();
  else if (e.kind == "key")
    Statement(db, "UPDATE person SET public_key = ?2 WHERE id = ?1")
        .bind(1, id)
        .bind(2, word_at(e.payload, "public_key"))
        .step();
}

void carry(Database& db, const Content& content) {
  const std::vector<Mark> carried = carried_by(content);
  if (carried.empty()) return;
  for (const Mark& frame : marks_of(content))
    if (frame.name == "frame")
      for (const Mark& m : carried)
        Statement(db, "INSERT OR IGNORE INTO carried VALUES(?1, ?2, ?3)")
            .bind(1, m.name)
            .bind(2, m.value)
            .bind(3, frame.value)
            .step();
}

// Works out anew what a frame carries, from its entries that still hold.
void carry_anew(Database& db, const std::string& frame) {
  Statement(db, "DELETE FROM carried WHERE frame = ?1").bind(1, frame).step();
  std::vector<std::int64_t> seqs;
  {
    Statement s(
        db,
        "SELECT seq FROM mark WHERE name = 'frame' AND value = ?1 AND seq NOT IN (SELECT seq FROM replaced)");
    s.bind(1, frame);
    while (s.step()) seqs.push_back(s.number(0));
  }
  for (const std::int64_t seq : seqs)
    if (const auto r = record_in(db, seq)) carry(db, content_of(r->entry.kind, r->entry.payload));
}

}  // namespace

void derive(Database& db, const Entry& e) {
  derive_person(db, e);
  const Content content = content_of(e.kind, e.payload);
  std::set<std::string> stale;
  if (content.replaces > 0) {
    Statement(db, "INSERT OR IGNORE INTO replaced VALUES(?1, ?2)")
        .bind(1, content.replaces)
        .bind(2, e.seq)
        .step();
    if (const auto old = record_in(db, content.replaces))
      for (const Mark& m : marks_of(content_of(old->entry.kind, old->entry.payload)))
        if (m.name == "frame") stale.insert(m.value);
  }
  for (const Mark& m : marks_of(content))
    Statement(db, "INSERT OR IGNORE INTO mark VALUES(?1, ?2, ?3)")
        .bind(1, m.name)
        .bind(2, m.value)
        .bind(3, e.seq)
        .step();
  carry(db, content);
  for (const std::string& frame : stale) carry_anew(db, frame);
}

void derive_all(Database& db) {
  db.run("DELETE FROM replaced; DELETE FROM carried; DELETE FROM mark; DELETE FROM person");
  Statement s(db, "SELECT seq, time, author, kind, payload, prev, hash, signature FROM entry ORDER BY seq");
  while (s.step()) derive(db, entry_of(s));
}

}  // namespace seamwright::book
