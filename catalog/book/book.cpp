// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/book.h"

#include <algorithm>
#include <set>

#include "catalog/book/inside.h"
#include "catalog/book/records/names.h"
#include "catalog/book/store/stores.h"
#include "catalog/published/sha256.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

Entry entry_of(EntryRow row) {
  Entry e;
  e.seq = row.seq;
  e.time = std::move(row.time);
  e.author = std::move(row.author);
  e.kind = std::move(row.kind);
  e.written = std::move(row.payload);
  e.payload = read_json(e.written);  // what cannot be read is found by verify()
  e.prev = std::move(row.prev);
  e.hash = std::move(row.hash);
  e.signature = std::move(row.signature);
  e.form = row.form;
  e.seen = std::move(row.seen);
  e.links = std::move(row.links);
  return e;
}

EntryRow row_of(const Entry& e) {
  return {e.seq, e.time, e.author, e.kind, canonical(e.payload), e.prev, e.hash, e.signature, e.form, e.seen, e.links};
}

std::string signed_hash(const std::string& book_id, const Entry& e, const std::string& payload) {
  if (e.form == 1) return e.hash;
  std::string statement("seamwright-statement-2\n{\"author\":");  // members in the order of RFC 8785
  statement.append(canonical(e.author)).append(",\"book\":").append(canonical(book_id));
  statement.append(",\"kind\":").append(canonical(e.kind)).append(",\"payload\":").append(payload);
  statement.append(",\"schema\":2,\"seen\":").append(canonical(e.seen));
  statement.append(",\"time\":").append(canonical(e.time)).append("}");
  return sha256_hex(statement);
}

std::string entry_hash(const std::string& book_id, const Entry& e, const std::string& payload) {
  if (e.form == 2) {
    std::string placed("seamwright-entry-2\n{\"links\":");
    placed.append(e.links).append(",\"prev\":").append(canonical(e.prev)).append(",\"seq\":").append(std::to_string(e.seq));
    placed.append(",\"signature\":").append(canonical(e.signature));
    placed.append(",\"statement\":").append(canonical(signed_hash(book_id, e, payload))).append("}");
    return sha256_hex(placed);
  }
  std::string whole("seamwright-entry-1\n{\"author\":");
  whole.append(canonical(e.author)).append(",\"book\":").append(canonical(book_id));
  whole.append(",\"kind\":").append(canonical(e.kind)).append(",\"payload\":").append(payload);
  whole.append(",\"prev\":").append(canonical(e.prev)).append(",\"schema\":1,\"seq\":");
  whole.append(std::to_string(e.seq)).append(",\"time\":").append(canonical(e.time)).append("}");
  return sha256_hex(whole);
}

std::vector<std::string> frames_about(const Entry& entry, const Entry* named) {
  std::set<std::string> frames;
  for (const Entry* e : {&entry, named})
    if (e)
      for (const Mark& m : marks_of(content_of(e->kind, e->payload)))
        if (m.name == mark::frame) frames.insert(m.value);
  return {frames.begin(), frames.end()};
}

std::string links_of(const std::vector<std::string>& frames, const std::function<std::int64_t(const std::string&)>& last_about) {
  Json links = Json::object();
  for (const std::string& frame : frames) links[frame] = last_about(frame);
  return canonical(links);
}

namespace {

std::string id_of(const Store& store) {
  const std::vector<std::string> ids = store.ids();
  if (ids.empty()) throw Fault{Message{"book.not-a-book", {text("file", "")}}};
  return ids.front();
}

// A person is admitted once, with a known role and a key.
void check_person(const Store& store, const Json& p) {
  if (word_at(p, field::public_key).size() != 64) throw Fault{Message{"book.bad-person", {}}};
  if (store.person(word_at(p, field::id)))
    throw Fault{Message{"book.known-person", {text("person", word_at(p, field::id))}}};
  if (!is_role(word_at(p, field::role)))
    throw Fault{Message{"book.unknown-role", {text("role", word_at(p, field::role))}}};
}

// An entry about people must fit who is there. The book keeps an owner.
void check_people(const Store& store, const std::string& kind, const Json& p) {
  if (kind == kind::person) return check_person(store, p);
  if (kind != kind::revoke && kind != kind::role && kind != kind::key && kind != kind::erase) return;
  const auto who = store.person(word_at(p, field::id));
  if (!who) throw Fault{Message{"book.unknown-person", {text("person", word_at(p, field::id))}}};
  if (kind == kind::role && !is_role(word_at(p, field::role)))
    throw Fault{Message{"book.unknown-role", {text("role", word_at(p, field::role))}}};
  const bool leaves = kind == kind::revoke || (kind == kind::role && word_at(p, field::role) != "owner");
  if (!leaves || who->role != "owner" || who->revoked > 0) return;
  const std::vector<Person> all = store.people();
  if (std::count_if(all.begin(), all.end(),
                    [](const Person& one) { return one.role == "owner" && one.revoked == 0; }) < 2)
    throw Fault{Message{"book.last-owner", {text("person", who->id)}}};
}

// What is corrected must be there, of that kind, signed for by the role, and not corrected before. Gives it.
std::optional<Record> replaced_by(const Book& book, const std::string& role, const std::string& kind,
                                  const Json& p) {
  if (kind != kind::correction && kind != kind::annulment) return std::nullopt;
  const std::int64_t corrected = p[field::of].get<std::int64_t>();
  auto old = book.record(corrected);
  const Argument seq = number("seq", static_cast<double>(corrected), "");
  if (!old) throw Fault{Message{"book.no-such-entry", {seq}}};
  if (old->replaced_by > 0)
    throw Fault{
        Message{"book.corrected-already", {seq, number("by", static_cast<double>(old->replaced_by), "")}}};
  if (kind == kind::correction && old->kind != word_at(p, field::kind))
    throw Fault{Message{"book.other-kind", {seq, text("kind", old->kind)}}};
  if (!may_be_corrected(old->kind)) throw Fault{Message{"book.not-correctable", {text("kind", old->kind)}}};
  if (!may_sign(role, old->kind))
    throw Fault{Message{"book.role", {text("person", ""), text("role", role), text("kind", old->kind)}}};
  return old;
}

void keep_file(Store& store, const std::string& sha256, const std::string& bytes) {
  if (bytes.size() > largest_attachment)
    throw Fault{
        Message{"book.attachment-too-large", {number("most", static_cast<double>(largest_attachment), "")}}};
  store.keep_file(sha256, bytes);
}

// The payload as it is written: with its file, checked, in canonical form.
Json payload_of(Store& store, const NewEntry& what) {
  Json payload = what.payload;
  if (what.file && payload.is_object()) {
    const std::string sha256 = sha256_hex(what.file->bytes);
    payload[field::file] = {{field::sha256, sha256}, {field::name, what.file->name}};
    keep_file(store, sha256, what.file->bytes);
  }
  canonical(payload);  // throws for what is not text before anything looks at it
  check_payload(what.kind, payload);
  const std::vector<std::string> asked = files_of(content_of(what.kind, payload));
  if (asked.empty()) return payload;
  const std::set<std::string> kept = store.kept_files(asked);
  for (const std::string& sha256 : asked)
    if (!kept.contains(sha256)) throw Fault{Message{"book.attachment-missing", {text("sha256", sha256)}}};
  return payload;
}

}  // namespace

namespace {

// The place of a new entry, whose author knows all before it.
Entry placed_after(const std::optional<EntryRow>& before, const std::string& time, const std::string& author, const std::string& kind,
                   Json payload) {
  Entry e{before ? before->seq + 1 : 1, time, author, kind, std::move(payload), before ? before->hash : "", "", ""};
  e.form = 2;
  if (before) e.seen = std::to_string(before->seq) + ":" + before->hash;
  e.links = "{}";
  return e;
}

void sign(Entry& e, const std::string& book_id, const Signer& key) {
  const std::string payload = canonical(e.payload);
  e.signature = key.sign(signed_hash(book_id, e, payload));
  e.hash = entry_hash(book_id, e, payload);
}

}  // namespace

Entry Book::add(const std::string& author, const Signer& key, const NewEntry& what, const std::string& time) {
  Store& store = *inside_->store;
  if (standing_of(*this) == Standing::older_copy) throw Fault{Message{"book.older-copy-closed", {text("day", inside_->memory->day)}}};
  const auto who = store.person(author);
  if (!who || who->public_key != key.public_hex())
    throw Fault{Message{"book.unknown-person", {text("person", author)}}};
  if (who->revoked > 0) throw Fault{Message{"book.revoked", {text("person", author)}}};
  if (kind_of(what.kind) && !may_sign(who->role, what.kind))
    throw Fault{
        Message{"book.role", {text("person", author), text("role", who->role), text("kind", what.kind)}}};
  const Json payload = payload_of(store, what);
  check_people(store, what.kind, payload);
  const auto old = replaced_by(*this, who->role, what.kind, payload);
  const auto before = store.last();
  // Where an older program left off, an entry of its own says that statements begin.
  if (before && before->form == 1 && what.kind != kind::format) {
    add(author, key, {kind::format, {{field::form, 2}}}, time);
    return add(author, key, what, time);
  }
  Entry e = placed_after(before, time, author, what.kind, read_json(canonical(payload)));
  e.links = links_of(frames_about(e, old ? &old->entry : nullptr),
                     [&](const std::string& frame) { return store.last_about({mark::frame, frame}, unbounded); });
  for (const Message& broken : broken_rules(e, who->role, BookFacts(*this, inside_->frozen_designs)))
    throw Fault{broken};
  sign(e, inside_->id, key);
  store.add(row_of(e));
  derive(store, e, old ? &old->entry : nullptr);
  return e;
}

Book::Book(std::shared_ptr<Inside> inside) : inside_(std::move(inside)) {}
Book::Book(std::unique_ptr<Store> store) : inside_(std::make_shared<Inside>()) {
  inside_->store = std::move(store);
  inside_->id = id_of(*inside_->store);
  inside_->check = std::make_unique<EntryCheck>(*inside_->store, inside_->id);
  inside_->memory = remembered(inside_->id);
}
Book::~Book() = default;
Book::Book(Book&&) noexcept = default;

Book Book::create(const std::function<std::unique_ptr<Store>()>& make, const std::string& owner,
                  const std::string& stamp, const std::string& passphrase, const std::string& time) {
  const KeyPair keys = new_keys(passphrase);  // before there is a store
  Entry first = placed_after(std::nullopt, time, owner, kind::person,
                             {{field::id, owner}, {field::stamp, stamp}, {field::role, "owner"}, {field::public_key, keys.public_hex}});
  canonical(first.payload);
  check_payload(kind::person, first.payload);
  std::unique_ptr<Store> store = make();
  const std::string id = random_hex(16);
  const OpenKey key(keys.sealed_hex, passphrase);
  sign(first, id, key);
  Transaction t(*store);
  store->set_id(id);
  store->seal(owner, keys.sealed_hex);
  store->add(row_of(first));
  derive(*store, first, nullptr);
  t.commit();
  return Book(std::move(store));
}

Book Book::create(const std::string& where, const std::string& owner, const std::string& stamp,
                  const std::string& passphrase, const std::string& time) {
  return create([&] { return open_store(where, Access::create); }, owner, stamp, passphrase, time);
}

namespace {

void check_tables(const Form& form, const std::string& where) {
  if (!form.strange.empty())
    throw Fault{Message{"book.strange-table", {text("file", where), text("name", form.strange.front())}}};
}

}  // namespace

Book Book::open(const std::string& where, Tables tables) {
  std::unique_ptr<Store> store = open_store(where, Access::write);
  const Form form = store->form();
  if (tables == Tables::as_written) check_tables(form, where);
  Book book(std::move(store));
  if (tables == Tables::as_they_are) book.inside_->check.reset();
  if (form.older) {
    Transaction t(*book.inside_->store);
    if (book.inside_->store->bring_up_to_date()) book.derive_all();
    t.commit();
  }
  return book;
}

Book Book::open_read(const std::string& where, Tables tables) {
  std::unique_ptr<Store> store = open_store(where, Access::read);
  if (tables == Tables::as_written) check_tables(store->form(), where);
  Book book(std::move(store));
  if (tables == Tables::as_they_are) book.inside_->check.reset();
  return book;
}

Book Book::before(std::int64_t seq) const {
  Book then(inside_);
  then.end_ = seq;
  return then;
}

namespace {

// One short transaction, done again where another station's came in between; a store that keeps its writers apart by a lock needs none.
template <typename Work>
auto kept_in_turn(Store& store, Work&& work) {
  constexpr int most_tries = 5;
  for (int tries = 1;; ++tries) {
    try {
      Transaction t(store);
      auto done = work();
      t.commit();
      return done;
    } catch (const Fault& f) {
      if (f.message.id != "book.collided" || tries == most_tries) throw;
    }
  }
}

}  // namespace

Entry Book::append(const std::string& author, const Signer& key, const std::string& kind, const Json& payload,
                   const std::string& time) {
  return kept_in_turn(*inside_->store, [&] { return add(author, key, {kind, payload}, time); });
}

Entry Book::append_made(const std::string& author, const Signer& key,
                        const std::function<NewEntry(const Book&)>& make, const std::string& time) {
  return kept_in_turn(*inside_->store, [&] { return add(author, key, make(*this), time); });
}

std::vector<Entry> Book::append_all(const std::string& author, const Signer& key,
                                    const std::vector<NewEntry>& all, const std::string& time) {
  return kept_in_turn(*inside_->store, [&] {
    std::vector<Entry> added;
    for (std::size_t i = 0; i < all.size(); ++i) {
      try {
        added.push_back(add(author, key, all[i], time));
      } catch (Fault& f) {
        f.message.arguments.push_back(number("item", static_cast<double>(i), ""));
        throw;
      }
    }
    return added;
  });
}

std::int64_t Book::keep_draft(const std::string& person, const NewEntry& what, const std::string& time) {
  Transaction t(*inside_->store);
  const auto who = inside_->store->person(person);
  if (!who) throw Fault{Message{"book.unknown-person", {text("person", person)}}};
  const Json payload = payload_of(*inside_->store, what);
  if (!may_sign(who->role, what.kind))
    throw Fault{
        Message{"book.role", {text("person", person), text("role", who->role), text("kind", what.kind)}}};
  const std::int64_t id = inside_->store->keep_draft({0, person, time, what.kind, canonical(payload)});
  t.commit();
  return id;
}

std::vector<Draft> Book::drafts(const std::string& person) const {
  std::vector<Draft> all;
  for (DraftRow& d : inside_->store->drafts(person))
    all.push_back({d.id, std::move(d.person), std::move(d.time), std::move(d.kind), read_json(d.payload)});
  return all;
}

bool Book::drop_draft(std::int64_t id) { return inside_->store->drop_draft(id); }

std::string digest_of(const std::vector<Draft>& drafts) {
  Json all = Json::array();
  for (const Draft& d : drafts) all.push_back({d.id, d.person, d.time, d.kind, d.payload});
  return sha256_hex(canonical(all)).substr(0, 16);
}

std::vector<Entry> Book::sign_drafts(const std::string& person, const Signer& key, const std::string& seen,
                                     const std::string& time) {
  return kept_in_turn(*inside_->store, [&] {
    std::vector<Entry> added;
    const std::vector<Draft> all = drafts(person);
    if (digest_of(all) != seen) throw Fault{Message{"book.drafts-changed", {text("person", person)}}};
    for (const Draft& d : all) {
      added.push_back(add(person, key, {d.kind, d.payload}, time));
      inside_->store->drop_draft(d.id);
    }
    return added;
  });
}

void Book::rebuild() {
  Transaction t(*inside_->store);
  inside_->store->clear_derived();
  check_tables(inside_->store->form(), "");
  derive_all();
  t.commit();
}

}  // namespace seamwright::book
