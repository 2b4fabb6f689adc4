// SPDX-License-Identifier: GPL-3.0-or-later
// The same book on three stores: with the same keys, salts and clock every entry, every hash and every answer
// is the same, and a question about a frame is a handful of questions to the store.
#include <algorithm>
#include <sstream>

#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "catalog/book/store/stores.h"
#include "tests/catalog/book/fixed_bytes.h"
#include "tests/catalog/book/memory_store.h"
#include "tests/catalog/book/server.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

const char* const asked_day = "2026-11-26";

// The demonstration leaves these out: corrections, a void, drafts, a role, a key, an erasure, a refusal.
void go_on(Book& b) {
  const auto owner = b.unlock("O", demo_passphrase), engineer = b.unlock("E-1", demo_passphrase),
             inspector = b.unlock("I-1", demo_passphrase);
  const Record weld = b.current({"frame", "OT-0004"}, "weld").at(0);
  const auto welder = b.unlock(weld.entry.author, demo_passphrase);
  Json corrected = weld.content;
  corrected["amperes"] = 61.5;
  b.append(weld.entry.author, *welder, "correction",
           {{"of", weld.entry.seq}, {"kind", "weld"}, {"reason", "misread"}, {"payload", corrected}}, noon);
  const auto note = b.append("E-1", *engineer, "note", {{"text", "not so"}, {"frame", "OT-0004"}}, noon);
  b.append("E-1", *engineer, "void", {{"of", note.seq}, {"reason", "not so"}}, noon);
  b.keep_draft("E-1", {"note", {{"text", "a draft"}}, Attachment{"d.txt", "bytes of a draft"}}, noon);
  b.drop_draft(b.keep_draft("E-1", {"note", {{"text", "another"}}}, noon));
  b.sign_drafts("E-1", *engineer, digest_of(b.drafts("E-1")), noon);
  b.append("I-1", *inspector, "nonconformity", {{"id", "N-1"}, {"frame", "OT-0004"}, {"what", "bent"}}, noon);
  b.append("O", *owner, "role", {{"id", "A-1"}, {"role", "engineer"}}, noon);
  b.renew_key("O", *owner, "A-1", "another passphrase", noon);
  b.append("O", *owner, "revoke", {{"id", "W-C"}, {"reason", "left"}}, noon);
  b.erase("O", *owner, "W-C", noon);
  CHECK(refusal([&] { release(b, "OT-0004", "E-1", *engineer, noon); }) == "book.gaps");
  CHECK(refusal([&] {
          b.append_all("E-1", *engineer, {{"note", {{"text", "one"}}}, {"design", {{"name", "x"}}}}, noon);
        }) == "book.missing-key");
}

void tell(std::ostream& out, const char* what, const std::vector<Record>& all) {
  out << what << ":";
  for (const Record& r : all)
    out << ' ' << r.entry.seq << ' ' << r.kind << ' ' << r.replaced_by << ' ' << r.content.dump();
  out << '\n';
}

// Everything that a book says of itself, in words.
std::string told(const Book& b) {
  std::ostringstream out;
  b.for_each_entry([&](const Entry& e) {
    out << e.seq << ' ' << e.time << ' ' << e.author << ' ' << e.kind << ' ' << e.written << ' ' << e.prev
        << ' ' << e.hash << ' ' << e.signature << '\n';
    return true;
  });
  for (const Person& p : b.people())
    out << p.id << p.stamp << p.role << p.public_key << p.from << ' ' << p.revoked << '\n';
  for (const std::string& serial : b.values_of("frame")) {
    tell(out, "own", trace(b, serial).own);
    tell(out, "behind", trace(b, serial).behind);
    for (const Gap& g : gaps(b, serial, asked_day))
      out << g.key << ' ' << g.since << ' ' << g.excepted_by << ' ' << g.reason << '\n';
    out << state_of(b, serial, asked_day).verdict << ' ' << b.carried(serial).size() << '\n';
  }
  for (const Carrier& c : recall(b, {"heat", demo_heat}, asked_day))
    out << c.serial << c.to << c.km << ' ' << c.used << c.by << '\n';
  for (const Mark& m : search(b, "ot", 100)) {
    out << m.name << ' ' << m.value << '\n';
    tell(out, "story", records_behind(b, m));
  }
  tell(out, "then", b.before(400).find({"frame", "OT-0002"}));
  for (const std::string& name : b.names_of("M-1")) out << name << '\n';
  const Verification v = verify(b);
  out << v.entries << ' ' << v.attachments << ' ' << v.backwards << ' ' << v.head << ' ' << v.erased.size()
      << '\n';
  for (const auto* all : {&v.problems, &v.refused})
    for (const Problem& p : *all) out << p.seq << ' ' << p.what.text() << '\n';
  b.each_mark([&](const Mark& m, std::int64_t seq) { out << m.name << m.value << seq << ' '; });
  return out.str();
}

struct Made {
  std::string told, told_again;  // and after all derived tables were made anew
  std::vector<Problem> problems;
};

Made went_on(Book b) {
  const FixedBytes fixed(1'000'000);
  go_on(b);
  Made m{told(b), "", verify(b).problems};
  b.rebuild();
  m.told_again = told(b);
  return m;
}

int questions_of(MemoryShelf& shelf, const auto& work) {
  const int before = shelf.questions;
  work();
  return shelf.questions - before;
}

void check_questions(const std::shared_ptr<MemoryShelf>& shelf) {
  const Book b{std::make_unique<MemoryStore>(shelf)};
  // People are asked for once in a book's life: the last entry, their names, the entries on them.
  CHECK(questions_of(*shelf, [&] { CHECK(b.find({"frame", "OT-0001"}).size() > 100); }) <= 4);
  for (const char* serial : {"OT-0001", "OT-0002", "OT-0003", "OT-0004"}) {
    INFO(serial);
    CHECK(questions_of(*shelf, [&] { CHECK(gaps(b, serial, asked_day).size() > 1); }) <= 6);
    CHECK(questions_of(*shelf, [&] { state_of(b, serial, asked_day); }) <= 6);
    CHECK(questions_of(*shelf, [&] { CHECK(trace(b, serial).behind.size() > 10); }) <= 3);
  }
  CHECK(questions_of(*shelf, [&] { CHECK(recall(b, {"heat", demo_heat}, asked_day).size() == 4); }) <= 4);
  CHECK(questions_of(*shelf, [&] { CHECK(search(b, "OT", 50).size() > 4); }) <= 2);
  // One pass, two releases, and the tables that follow; not one question for each of some 900 entries.
  CHECK(questions_of(*shelf, [&] { CHECK(verify(b).problems.empty()); }) <= 30);
}

}  // namespace

TEST_CASE("a book on another store has the same entries, hashes and answers, and a question to it is a handful") {
  const Folder f;
  copy_demo(f.book());
  const Made file = went_on(Book::open(f.book()));
  const auto shelf = std::make_shared<MemoryShelf>();
  {
    const FixedBytes fixed;
    write_demo([&] { return std::make_unique<MemoryStore>(shelf); }, "test");
  }
  check_questions(shelf);
  const Made memory = went_on(Book(std::make_unique<MemoryStore>(shelf)));
  CHECK(file.problems.empty());
  CHECK(file.told.size() > 500000);
  CHECK(file.told == file.told_again);
  CHECK((memory.told == file.told));  // in brackets: it would fill many pages
  CHECK((memory.told_again == file.told));
  if (Server* server = Server::running()) {
    server->make_empty();
    const std::string from = f.path + "/demo";
    copy_demo(from);
    Book::open_read(from).copy_to(Server::where());
    const Made on_server = went_on(Book::open(Server::where()));
    CHECK(on_server.problems.empty());
    CHECK((on_server.told == file.told));
    CHECK((on_server.told_again == file.told));
  }
  // A change that is not signed shows on either.
  shelf->tables.entries.at(7).payload += " ";
  const Book changed{std::make_unique<MemoryStore>(shelf)};
  const std::vector<Problem> found = verify(changed).problems;
  CHECK(std::any_of(found.begin(), found.end(),
                    [](const Problem& p) { return p.seq == 7 && p.what == "book.altered"; }));
  changed.copy_to("copy");
  CHECK(refusal([&] { changed.copy_to("copy"); }) == "book.exists");
}
