// SPDX-License-Identifier: GPL-3.0-or-later
// People, their keys, and their details that can be erased.
#include "catalog/book/inside.h"
#include "catalog/published/sha256.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

Person person_of(const Statement& s) {
  return {s.text(0), s.text(1), s.text(2), s.text(3), s.number(4), s.number(5)};
}

void seal(Database& db, const std::string& person, const std::string& sealed) {
  Statement(db, "INSERT OR REPLACE INTO sealed_key VALUES(?1, ?2)").bind(1, person).bind(2, sealed).step();
}

}  // namespace

std::optional<Person> person_in(const Database& db, const std::string& id) {
  Statement s(db, "SELECT id, stamp, role, public_key, since, revoked FROM person WHERE id = ?1");
  s.bind(1, id);
  if (!s.step()) return std::nullopt;
  return person_of(s);
}

std::optional<Person> Book::person(const std::string& id) const { return person_in(inside_->db, id); }

std::vector<Person> Book::people() const {
  std::vector<Person> all;
  Statement s(inside_->db, "SELECT id, stamp, role, public_key, since, revoked FROM person ORDER BY id");
  while (s.step()) all.push_back(person_of(s));
  return all;
}

std::string Book::sealed_key(const std::string& person) const {
  Statement s(inside_->db, "SELECT sealed FROM sealed_key WHERE person = ?1");
  s.bind(1, person);
  if (!s.step()) throw Fault{Message{"book.unknown-person", {text("person", person)}}};
  return s.text(0);
}

std::unique_ptr<OpenKey> Book::unlock(const std::string& person, const std::string& passphrase) const {
  return std::make_unique<OpenKey>(sealed_key(person), passphrase);
}

Entry Book::admit(const std::string& owner, const Signer& key, const std::string& id,
                  const std::string& stamp, const std::string& role, const std::string& passphrase,
                  const std::string& time, const Json& details) {
  const KeyPair keys = new_keys(passphrase);
  Json payload{{"id", id}, {"stamp", stamp}, {"role", role}, {"public_key", keys.public_hex}};
  Transaction t(inside_->db);
  if (!details.is_null()) {
    const std::string salt = random_hex(16), written = canonical(details);
    payload["details_sha256"] = sha256_hex(salt + written);
    Statement(inside_->db, "INSERT OR REPLACE INTO personal VALUES(?1, ?2, ?3)")
        .bind(1, id)
        .bind(2, salt)
        .bind(3, written)
        .step();
  }
  Entry e = add(owner, key, {"person", payload}, time);
  seal(inside_->db, id, keys.sealed_hex);
  t.commit();
  return e;
}

void Book::change_passphrase(const std::string& person, const OpenKey& key, const std::string& passphrase) {
  const std::string sealed = key.sealed(passphrase);
  Transaction t(inside_->db);
  const auto who = person_in(inside_->db, person);
  if (!who || who->public_key != key.public_hex())
    throw Fault{Message{"book.unknown-person", {text("person", person)}}};
  seal(inside_->db, person, sealed);
  t.commit();
}

Entry Book::renew_key(const std::string& owner, const Signer& key, const std::string& id,
                      const std::string& passphrase, const std::string& time) {
  const KeyPair keys = new_keys(passphrase);
  Transaction t(inside_->db);
  Entry e = add(owner, key, {"key", {{"id", id}, {"public_key", keys.public_hex}}}, time);
  seal(inside_->db, id, keys.sealed_hex);
  t.commit();
  return e;
}

Entry Book::erase(const std::string& owner, const Signer& key, const std::string& id,
                  const std::string& time) {
  Transaction t(inside_->db);
  Entry e = add(owner, key, {"erase", {{"id", id}}}, time);
  Statement(inside_->db, "DELETE FROM personal WHERE person = ?1").bind(1, id).step();
  t.commit();
  // Deleted bytes are overwritten in the file; the log beside it must not keep it either.
  Statement s(inside_->db, "PRAGMA wal_checkpoint(TRUNCATE)");
  if (s.step() && s.number(0) != 0) throw Fault{Message{"book.log-in-use", {text("person", id)}}};
  return e;
}

void Book::each_sealed_key(const std::function<void(const std::string&, const std::string&)>& take) const {
  Statement s(inside_->db, "SELECT person, sealed FROM sealed_key ORDER BY person");
  while (s.step()) take(s.text(0), s.text(1));
}

void Book::each_salted_details(
    const std::function<void(const std::string&, const std::string&)>& take) const {
  if (!inside_->db.has("personal")) return;
  Statement s(inside_->db, "SELECT person, salt || details FROM personal ORDER BY person");
  while (s.step()) take(s.text(0), s.text(1));
}

std::optional<Json> Book::details(const std::string& person) const {
  if (!inside_->db.has("personal")) return std::nullopt;
  Statement s(inside_->db, "SELECT details FROM personal WHERE person = ?1");
  s.bind(1, person);
  if (!s.step()) return std::nullopt;
  return read_json(s.text(0));
}

}  // namespace seamwright::book
