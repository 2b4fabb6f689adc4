// SPDX-License-Identifier: GPL-3.0-or-later
// People, their keys, and their details that can be erased.
#include "catalog/book/inside.h"
#include "catalog/book/records/names.h"
#include "catalog/published/sha256.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

std::optional<Person> Book::person(const std::string& id) const { return inside_->store->person(id); }

std::vector<Person> Book::people() const { return inside_->store->people(); }

std::string Book::sealed_key(const std::string& person) const {
  auto sealed = inside_->store->sealed_key(person);
  if (!sealed) throw Fault{Message{"book.unknown-person", {text("person", person)}}};
  return std::move(*sealed);
}

std::unique_ptr<OpenKey> Book::unlock(const std::string& person, const std::string& passphrase) const {
  return std::make_unique<OpenKey>(sealed_key(person), passphrase);
}

Entry Book::admit_person(const std::string& owner, const Signer& key, const std::string& id,
                         const std::string& stamp, const std::string& role, const std::string& passphrase,
                         const std::string& time, const Json& details) {
  const KeyPair keys = new_keys(passphrase);
  Json payload{{field::id, id}, {field::stamp, stamp}, {field::role, role}, {field::public_key, keys.public_hex}};
  Transaction t(*inside_->store);
  if (!details.is_null()) {
    const std::string salt = random_hex(16), written = canonical(details);
    payload[field::details_sha256] = sha256_hex(salt + written);
    inside_->store->keep_details(id, salt, written);
  }
  Entry e = add(owner, key, {kind::person, payload}, time);
  inside_->store->seal(id, keys.sealed_hex);
  t.commit();
  return e;
}

void Book::change_passphrase(const std::string& person, const OpenKey& key, const std::string& passphrase) {
  const std::string sealed = key.sealed(passphrase);
  Transaction t(*inside_->store);
  const auto who = inside_->store->person(person);
  if (!who || who->public_key != key.public_hex())
    throw Fault{Message{"book.unknown-person", {text("person", person)}}};
  inside_->store->seal(person, sealed);
  t.commit();
}

Entry Book::renew_key(const std::string& owner, const Signer& key, const std::string& id,
                      const std::string& passphrase, const std::string& time) {
  const KeyPair keys = new_keys(passphrase);
  Transaction t(*inside_->store);
  Entry e = add(owner, key, {kind::key, {{field::id, id}, {field::public_key, keys.public_hex}}}, time);
  inside_->store->seal(id, keys.sealed_hex);
  t.commit();
  return e;
}

Entry Book::erase(const std::string& owner, const Signer& key, const std::string& id,
                  const std::string& time) {
  Transaction t(*inside_->store);
  Entry e = add(owner, key, {kind::erase, {{field::id, id}}}, time);
  inside_->store->erase_details(id);
  t.commit();
  if (!inside_->store->clear_log()) throw Fault{Message{"book.log-in-use", {text("person", id)}}};
  return e;
}

void Book::each_sealed_key(const std::function<void(const std::string&, const std::string&)>& visit) const {
  inside_->store->each_sealed_key(visit);
}

void Book::each_salted_details(
    const std::function<void(const std::string&, const std::string&)>& visit) const {
  inside_->store->each_salted_details(visit);
}

std::optional<Json> Book::details(const std::string& person) const {
  const auto kept = inside_->store->details(person);
  return kept ? std::optional(read_json(*kept)) : std::nullopt;
}

}  // namespace seamwright::book
