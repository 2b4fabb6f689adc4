// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/book.h"

#include <map>

#include "catalog/book/database.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

struct Book::Inside {
  Database db;
  std::string id;
};

namespace {

constexpr const char* columns = "SELECT seq, time, author, kind, payload, prev, hash, signature FROM entry ";

Entry entry_of(const Statement& s) {
  Entry e;
  e.seq = s.number(0);
  e.time = s.text(1);
  e.author = s.text(2);
  e.kind = s.text(3);
  e.payload = Json::parse(s.text(4), nullptr, false);  // what cannot be read is found by verify()
  e.prev = s.text(5);
  e.hash = s.text(6);
  e.signature = s.text(7);
  return e;
}

// What the entries up to one tell of people.
void learn(const Entry& e, std::map<std::string, Person>& people) {
  const auto word = [&](const char* key) {
    return e.payload.is_object() && e.payload.contains(key) && e.payload[key].is_string()
               ? e.payload[key].get<std::string>()
               : std::string();
  };
  if (e.kind == "person")
    people[word("id")] = {word("id"), word("stamp"), word("role"), word("public_key"), e.seq, 0};
  else if (e.kind == "revoke" && people.contains(word("id")))
    people[word("id")].revoked = e.seq;
}

// Puts an entry in, and what it tells of people into their table.
void write(Database& db, const Entry& e) {
  Statement(db, "INSERT INTO entry VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)")
      .bind(1, e.seq)
      .bind(2, e.time)
      .bind(3, e.author)
      .bind(4, e.kind)
      .bind(5, canonical(e.payload))
      .bind(6, e.prev)
      .bind(7, e.hash)
      .bind(8, e.signature)
      .step();
  std::map<std::string, Person> told;
  learn(e, told);
  for (const auto& [id, p] : told)
    Statement(db, "INSERT OR REPLACE INTO person VALUES(?1, ?2, ?3, ?4, ?5, 0)")
        .bind(1, id)
        .bind(2, p.stamp)
        .bind(3, p.role)
        .bind(4, p.public_key)
        .bind(5, p.from)
        .step();
  if (e.kind == "revoke" && e.payload.is_object() && e.payload.contains("id") && e.payload["id"].is_string())
    Statement(db, "UPDATE person SET revoked = ?2 WHERE id = ?1")
        .bind(1, e.payload["id"].get<std::string>())
        .bind(2, e.seq)
        .step();
}

}  // namespace

std::string entry_hash(const std::string& book_id, const Entry& e) {
  const Json whole{{"book", book_id},    {"schema", 1},    {"seq", e.seq},         {"time", e.time},
                   {"author", e.author}, {"kind", e.kind}, {"payload", e.payload}, {"prev", e.prev}};
  return sha256_hex("seamwright-entry-1\n" + canonical(whole));
}

bool may_sign(const std::string& role, const std::string& kind) {
  if (role == "owner") return true;
  if (kind == "person" || kind == "revoke") return false;
  if (kind == "field-report" || kind == "correction" || kind == "verification")
    return role != "auditor" || kind == "verification";
  if (role == "welder") return kind == "weld" || kind == "lot" || kind == "frame" || kind == "repair";
  if (role == "inspector")
    return kind == "inspection" || kind == "nonconformity" || kind == "tool" || kind == "lot";
  if (role == "engineer") return kind != "inspection";
  return false;
}

Book::Book(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Book::~Book() = default;
Book::Book(Book&&) noexcept = default;

Book Book::create(const std::string& path, const std::string& owner, const std::string& stamp,
                  const std::string& passphrase, const std::string& time) {
  const KeyPair keys = new_keys(passphrase);  // before there is a file
  auto inside = std::make_unique<Inside>(Inside{Database(path, Database::Mode::create), random_hex(16)});
  const OpenKey key(keys.sealed_hex, passphrase);
  Entry first{1,
              time,
              owner,
              "person",
              {{"id", owner}, {"stamp", stamp}, {"role", "owner"}, {"public_key", keys.public_hex}},
              "",
              "",
              ""};
  first.hash = entry_hash(inside->id, first);
  first.signature = key.sign(first.hash);
  Transaction t(inside->db);
  Statement(inside->db, "INSERT INTO book VALUES(?1)").bind(1, inside->id).step();
  Statement(inside->db, "INSERT INTO sealed_key VALUES(?1, ?2)")
      .bind(1, owner)
      .bind(2, keys.sealed_hex)
      .step();
  write(inside->db, first);
  t.commit();
  return Book(std::move(inside));
}

namespace {

std::string id_of(const Database& db) {
  Statement s(db, "SELECT id FROM book");
  if (!s.step()) throw Fault{Message{"book.not-a-book", {text("why", "no id")}}};
  return s.text(0);
}

}  // namespace

Book Book::open(const std::string& path) {
  auto inside = std::make_unique<Inside>(Inside{Database(path, Database::Mode::write), ""});
  inside->id = id_of(inside->db);
  return Book(std::move(inside));
}

Book Book::open_read(const std::string& path) {
  auto inside = std::make_unique<Inside>(Inside{Database(path, Database::Mode::read), ""});
  inside->id = id_of(inside->db);
  return Book(std::move(inside));
}

std::string Book::id() const { return inside_->id; }

std::optional<Entry> Book::last() const {
  Statement s(inside_->db, std::string(columns) + "ORDER BY seq DESC LIMIT 1");
  if (!s.step()) return std::nullopt;
  return entry_of(s);
}

void Book::each(const std::function<bool(const Entry&)>& take) const {
  Statement s(inside_->db, std::string(columns) + "ORDER BY seq");
  while (s.step())
    if (!take(entry_of(s))) return;
}

namespace {

constexpr const char* person_columns = "SELECT id, stamp, role, public_key, since, revoked FROM person ";

Person person_of(const Statement& s) {
  return {s.text(0), s.text(1), s.text(2), s.text(3), s.number(4), s.number(5)};
}

}  // namespace

std::optional<Person> Book::person(const std::string& id) const {
  Statement s(inside_->db, std::string(person_columns) + "WHERE id = ?1");
  s.bind(1, id);
  if (!s.step()) return std::nullopt;
  return person_of(s);
}

std::vector<Person> Book::people() const {
  std::vector<Person> all;
  Statement s(inside_->db, std::string(person_columns) + "ORDER BY id");
  while (s.step()) all.push_back(person_of(s));
  return all;
}

std::unique_ptr<OpenKey> Book::unlock(const std::string& person, const std::string& passphrase) const {
  Statement s(inside_->db, "SELECT sealed FROM sealed_key WHERE person = ?1");
  s.bind(1, person);
  if (!s.step()) throw Fault{Message{"book.unknown-person", {text("person", person)}}};
  return std::make_unique<OpenKey>(s.text(0), passphrase);
}

namespace {

// A person is admitted once, with a known role and a key.
void check_person(const Book& book, const Json& p) {
  const auto word = [&](const char* key) {
    return p.is_object() && p.contains(key) && p[key].is_string() ? p[key].get<std::string>() : std::string();
  };
  const std::string id = word("id"), role = word("role");
  if (id.empty() || word("public_key").size() != 64) throw Fault{Message{"book.bad-person", {}}};
  if (role != "welder" && role != "engineer" && role != "inspector" && role != "auditor" && role != "owner")
    throw Fault{Message{"book.unknown-role", {text("role", role)}}};
  if (book.person(id)) throw Fault{Message{"book.known-person", {text("person", id)}}};
}

}  // namespace

Entry Book::append(const std::string& author, const OpenKey& key, const std::string& kind,
                   const Json& payload, const std::string& time, const std::string& sealed_key) {
  const std::string written =
      canonical(payload);  // refuses what has no canonical form before anything is written
  Transaction t(inside_->db);
  const auto who = person(author);
  if (!who || who->public_key != key.public_hex())
    throw Fault{Message{"book.unknown-person", {text("person", author)}}};
  if (who->revoked > 0) throw Fault{Message{"book.revoked", {text("person", author)}}};
  if (!may_sign(who->role, kind))
    throw Fault{Message{"book.role", {text("person", author), text("role", who->role), text("kind", kind)}}};
  if (kind == "person") check_person(*this, payload);
  const auto before = last();
  Entry e{before ? before->seq + 1 : 1, time, author, kind, Json::parse(written),
          before ? before->hash : "",   "",   ""};
  e.hash = entry_hash(inside_->id, e);
  e.signature = key.sign(e.hash);
  if (!sealed_key.empty())
    Statement(inside_->db, "INSERT INTO sealed_key VALUES(?1, ?2)")
        .bind(1, payload["id"].get<std::string>())
        .bind(2, sealed_key)
        .step();
  write(inside_->db, e);
  t.commit();
  return e;
}

Entry Book::admit(const std::string& owner, const OpenKey& key, const std::string& id,
                  const std::string& stamp, const std::string& role, const std::string& passphrase,
                  const std::string& time) {
  const KeyPair keys = new_keys(passphrase);
  return append(owner, key, "person",
                {{"id", id}, {"stamp", stamp}, {"role", role}, {"public_key", keys.public_hex}}, time,
                keys.sealed_hex);
}

Verified verify(const Book& book, const std::string& known_head) {
  Verified v;
  std::map<std::string, Person> people;
  std::string prev, time;
  std::int64_t expected = 1;
  bool head_seen = known_head.empty();
  book.each([&](const Entry& e) {
    const auto wrong = [&](const char* what) { v.problems.push_back({e.seq, what}); };
    ++v.entries;
    if (e.seq != expected) wrong("book.gap");
    expected = e.seq + 1;
    if (e.prev != prev) wrong("book.broken-chain");
    std::string hash;
    try {
      hash = e.payload.is_discarded() ? "" : entry_hash(book.id(), e);
    } catch (const Fault&) {  // no canonical form: not what was signed
    }
    if (hash != e.hash) wrong("book.altered");
    if (e.seq == 1) learn(e, people);  // the owner signs themself in
    const auto who = people.find(e.author);
    if (who == people.end())
      wrong("book.unknown-author");
    else {
      if (!signature_holds(who->second.public_key, e.hash, e.signature)) wrong("book.bad-signature");
      if (who->second.revoked > 0) wrong("book.revoked-author");
      if (!may_sign(who->second.role, e.kind)) wrong("book.no-role");
    }
    if (e.seq != 1) learn(e, people);
    if (e.time < time) ++v.backwards;
    time = e.time;
    prev = e.hash;
    v.head = std::to_string(e.seq) + ":" + e.hash;
    head_seen = head_seen || v.head.starts_with(known_head);
    return true;
  });
  for (const Person& kept : book.people())
    if (!people.contains(kept.id)) v.problems.push_back({kept.from, "book.derived-differs"});
  for (const auto& [id, told] : people) {
    const auto kept = book.person(id);
    if (!kept || kept->role != told.role || kept->public_key != told.public_key ||
        kept->stamp != told.stamp || kept->from != told.from || kept->revoked != told.revoked)
      v.problems.push_back({told.from, "book.derived-differs"});
  }
  if (v.entries == 0) v.problems.push_back({0, "book.empty"});
  if (!head_seen) v.problems.push_back({0, "book.head-not-found"});
  return v;
}

}  // namespace seamwright::book
