// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/book.h"

#include "catalog/book/inside.h"
#include "catalog/published/sha256.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

Entry entry_of(const Statement& s) {
  Entry e;
  e.seq = s.number(0);
  e.time = s.text(1);
  e.author = s.text(2);
  e.kind = s.text(3);
  e.written = s.text(4);
  e.payload = read_json(e.written);  // what cannot be read is found by verify()
  e.prev = s.text(5);
  e.hash = s.text(6);
  e.signature = s.text(7);
  return e;
}

void write_entry(Database& db, const Entry& e) {
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
}

std::string entry_hash(const std::string& book_id, const Entry& e, const std::string& payload) {
  std::string whole("seamwright-entry-1\n{\"author\":");  // members in the order of RFC 8785
  whole.append(canonical(e.author)).append(",\"book\":").append(canonical(book_id));
  whole.append(",\"kind\":").append(canonical(e.kind)).append(",\"payload\":").append(payload);
  whole.append(",\"prev\":").append(canonical(e.prev)).append(",\"schema\":1,\"seq\":");
  whole.append(std::to_string(e.seq)).append(",\"time\":").append(canonical(e.time)).append("}");
  return sha256_hex(whole);
}

std::string entry_hash(const std::string& book_id, const Entry& e) {
  return entry_hash(book_id, e, canonical(e.payload));
}

namespace {

std::string id_of(const Database& db) {
  Statement s(db, "SELECT id FROM book");
  if (!s.step()) throw Fault{Message{"book.not-a-book", {text("why", "no id")}}};
  return s.text(0);
}

// A person is admitted once, with a known role and a key.
void check_person(const Database& db, const Json& p) {
  if (word_at(p, "public_key").size() != 64) throw Fault{Message{"book.bad-person", {}}};
  if (person_in(db, word_at(p, "id")))
    throw Fault{Message{"book.known-person", {text("person", word_at(p, "id"))}}};
  if (!is_role(word_at(p, "role")))
    throw Fault{Message{"book.unknown-role", {text("role", word_at(p, "role"))}}};
}

// Entries about people must fit the people who are there. The book keeps an owner.
void check_people(const Database& db, const std::string& kind, const Json& p) {
  if (kind == "person") return check_person(db, p);
  if (kind != "revoke" && kind != "role" && kind != "key" && kind != "erase") return;
  const auto who = person_in(db, word_at(p, "id"));
  if (!who) throw Fault{Message{"book.unknown-person", {text("person", word_at(p, "id"))}}};
  if (kind == "role" && !is_role(word_at(p, "role")))
    throw Fault{Message{"book.unknown-role", {text("role", word_at(p, "role"))}}};
  const bool leaves = kind == "revoke" || (kind == "role" && word_at(p, "role") != "owner");
  if (!leaves || who->role != "owner" || who->revoked > 0) return;
  Statement s(db, "SELECT count(*) FROM person WHERE role = 'owner' AND revoked = 0");
  if (s.step() && s.number(0) < 2) throw Fault{Message{"book.last-owner", {text("person", who->id)}}};
}

// The corrected entry must be there, of that kind, signed for by the role, and not corrected before.
void check_replaced(const Database& db, const std::string& role, const std::string& kind, const Json& p) {
  if (kind != "correction" && kind != "void") return;
  const std::int64_t of = p["of"].get<std::int64_t>();
  const auto old = record_in(db, of);
  const Argument seq = number("seq", static_cast<double>(of), "");
  if (!old) throw Fault{Message{"book.no-such-entry", {seq}}};
  if (old->replaced_by > 0)
    throw Fault{
        Message{"book.corrected-already", {seq, number("by", static_cast<double>(old->replaced_by), "")}}};
  if (kind == "correction" && old->kind != word_at(p, "kind"))
    throw Fault{Message{"book.other-kind", {seq, text("kind", old->kind)}}};
  if (!may_be_corrected(old->kind)) throw Fault{Message{"book.not-correctable", {text("kind", old->kind)}}};
  if (!may_sign(role, old->kind))
    throw Fault{Message{"book.role", {text("person", ""), text("role", role), text("kind", old->kind)}}};
}

void keep_file(Database& db, const std::string& sha256, const std::string& bytes) {
  if (bytes.size() > largest_attachment)
    throw Fault{
        Message{"book.attachment-too-large", {number("most", static_cast<double>(largest_attachment), "")}}};
  Statement(db, "INSERT OR IGNORE INTO attachment VALUES(?1, ?2)")
      .bind(1, sha256)
      .bind_bytes(2, bytes)
      .step();
}

// The payload as it is written: with its file, checked, in canonical form.
Json payload_of(Database& db, const New& what) {
  Json payload = what.payload;
  if (what.file && payload.is_object()) {
    const std::string sha256 = sha256_hex(what.file->bytes);
    payload["file"] = {{"sha256", sha256}, {"name", what.file->name}};
    keep_file(db, sha256, what.file->bytes);
  }
  canonical(payload);  // throws for what is not text before anything looks at it
  check_payload(what.kind, payload);
  for (const std::string& sha256 : files_of(content_of(what.kind, payload))) {
    Statement s(db, "SELECT 1 FROM attachment WHERE sha256 = ?1");
    s.bind(1, sha256);
    if (!s.step()) throw Fault{Message{"book.attachment-missing", {text("sha256", sha256)}}};
  }
  return payload;
}

}  // namespace

Entry Book::add(const std::string& author, const Signer& key, const New& what, const std::string& time) {
  Inside& in = *inside_;
  const auto who = person_in(in.db, author);
  if (!who || who->public_key != key.public_hex())
    throw Fault{Message{"book.unknown-person", {text("person", author)}}};
  if (who->revoked > 0) throw Fault{Message{"book.revoked", {text("person", author)}}};
  if (kind_of(what.kind) && !may_sign(who->role, what.kind))
    throw Fault{
        Message{"book.role", {text("person", author), text("role", who->role), text("kind", what.kind)}}};
  const Json payload = payload_of(in.db, what);
  check_people(in.db, what.kind, payload);
  check_replaced(in.db, who->role, what.kind, payload);
  const auto before = last_entry(in.db);
  Entry e{before ? before->seq + 1 : 1, time, author, what.kind, read_json(canonical(payload)),
          before ? before->hash : "",   "",   ""};
  for (const Message& broken : broken_rules(e, who->role, StandingOf(*this, in.drawings)))
    throw Fault{broken};
  e.hash = entry_hash(in.id, e);
  e.signature = key.sign(e.hash);
  write_entry(in.db, e);
  derive(in.db, e);
  return e;
}

Book::Book(std::shared_ptr<Inside> inside) : inside_(std::move(inside)) {}
Book::~Book() = default;
Book::Book(Book&&) noexcept = default;

Book Book::create(const std::string& path, const std::string& owner, const std::string& stamp,
                  const std::string& passphrase, const std::string& time) {
  const KeyPair keys = new_keys(passphrase);  // before there is a file
  Entry first{1,
              time,
              owner,
              "person",
              {{"id", owner}, {"stamp", stamp}, {"role", "owner"}, {"public_key", keys.public_hex}},
              "",
              "",
              ""};
  canonical(first.payload);
  check_payload("person", first.payload);
  auto inside = std::make_shared<Inside>(Inside{Database(path, Database::Mode::create), random_hex(16), {}});
  try {
    const OpenKey key(keys.sealed_hex, passphrase);
    first.hash = entry_hash(inside->id, first);
    first.signature = key.sign(first.hash);
    Transaction t(inside->db);
    Statement(inside->db, "INSERT INTO book VALUES(?1)").bind(1, inside->id).step();
    Statement(inside->db, "INSERT INTO sealed_key VALUES(?1, ?2)")
        .bind(1, owner)
        .bind(2, keys.sealed_hex)
        .step();
    write_entry(inside->db, first);
    derive(inside->db, first);
    t.commit();
  } catch (const Fault&) {  // nothing half-made stays
    inside.reset();
    remove_file(path);
    throw;
  }
  return Book(std::move(inside));
}

namespace {

void check_tables(const Database& db, const std::string& path) {
  if (!db.strange().empty())
    throw Fault{Message{"book.strange-table", {text("file", path), text("name", db.strange().front())}}};
}

}  // namespace

Book Book::open(const std::string& path, Tables tables) {
  auto inside = std::make_shared<Inside>(Inside{Database(path, Database::Mode::write), "", {}});
  if (tables == Tables::as_written) check_tables(inside->db, path);
  inside->id = id_of(inside->db);
  if (inside->db.strange().empty() && inside->db.schema() == 1) {
    Transaction t(inside->db);
    if (inside->db.add_tables()) derive_all(inside->db);
    t.commit();
  }
  return Book(std::move(inside));
}

Book Book::open_read(const std::string& path, Tables tables) {
  auto inside = std::make_shared<Inside>(Inside{Database(path, Database::Mode::read), "", {}});
  if (tables == Tables::as_written) check_tables(inside->db, path);
  inside->id = id_of(inside->db);
  return Book(std::move(inside));
}

Book Book::before(std::int64_t seq) const {
  Book then(inside_);
  then.end_ = seq;
  return then;
}

Entry Book::append(const std::string& author, const Signer& key, const std::string& kind, const Json& payload,
                   const std::string& time) {
  Transaction t(inside_->db);
  Entry e = add(author, key, {kind, payload}, time);
  t.commit();
  return e;
}

Entry Book::append_made(const std::string& author, const Signer& key,
                        const std::function<New(const Book&)>& make, const std::string& time) {
  Transaction t(inside_->db);
  Entry e = add(author, key, make(*this), time);
  t.commit();
  return e;
}

std::vector<Entry> Book::append_all(const std::string& author, const Signer& key, const std::vector<New>& all,
                                    const std::string& time) {
  std::vector<Entry> added;
  Transaction t(inside_->db);
  for (std::size_t i = 0; i < all.size(); ++i) {
    try {
      added.push_back(add(author, key, all[i], time));
    } catch (Fault& f) {
      f.message.arguments.push_back(number("item", static_cast<double>(i), ""));
      throw;
    }
  }
  t.commit();
  return added;
}

std::int64_t Book::keep_draft(const std::string& person, const New& what, const std::string& time) {
  Transaction t(inside_->db);
  const auto who = person_in(inside_->db, person);
  if (!who) throw Fault{Message{"book.unknown-person", {text("person", person)}}};
  const Json payload = payload_of(inside_->db, what);
  if (!may_sign(who->role, what.kind))
    throw Fault{
        Message{"book.role", {text("person", person), text("role", who->role), text("kind", what.kind)}}};
  Statement(inside_->db, "INSERT INTO draft(person, time, kind, payload) VALUES(?1, ?2, ?3, ?4)")
      .bind(1, person)
      .bind(2, time)
      .bind(3, what.kind)
      .bind(4, canonical(payload))
      .step();
  const std::int64_t id = sqlite3_last_insert_rowid(inside_->db.handle());
  t.commit();
  return id;
}

std::vector<Draft> Book::drafts(const std::string& person) const {
  std::vector<Draft> all;
  Statement s(inside_->db,
              "SELECT id, person, time, kind, payload FROM draft WHERE ?1 IN ('', person) ORDER BY id");
  s.bind(1, person);
  while (s.step()) all.push_back({s.number(0), s.text(1), s.text(2), s.text(3), read_json(s.text(4))});
  return all;
}

bool Book::drop_draft(std::int64_t id) {
  Statement(inside_->db, "DELETE FROM draft WHERE id = ?1").bind(1, id).step();
  return sqlite3_changes(inside_->db.handle()) > 0;
}

std::string digest_of(const std::vector<Draft>& drafts) {
  Json all = Json::array();
  for (const Draft& d : drafts) all.push_back({d.id, d.person, d.time, d.kind, d.payload});
  return sha256_hex(canonical(all)).substr(0, 16);
}

std::vector<Entry> Book::sign_drafts(const std::string& person, const Signer& key, const std::string& seen,
                                     const std::string& time) {
  std::vector<Entry> added;
  Transaction t(inside_->db);
  const std::vector<Draft> all = drafts(person);
  if (digest_of(all) != seen) throw Fault{Message{"book.drafts-changed", {text("person", person)}}};
  for (const Draft& d : all) {
    added.push_back(add(person, key, {d.kind, d.payload}, time));
    Statement(inside_->db, "DELETE FROM draft WHERE id = ?1").bind(1, d.id).step();
  }
  t.commit();
  return added;
}

void Book::rebuild() {
  Transaction t(inside_->db);
  inside_->db.make_derived_tables();
  check_tables(inside_->db, "");
  derive_all(inside_->db);
  t.commit();
}

}  // namespace seamwright::book
