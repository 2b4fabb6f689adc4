// SPDX-License-Identifier: GPL-3.0-or-later
// One table of attacks on a book. Each is told by verify() and by catalog/book/check.py alike, which shares no line with the program.
#include <cstdlib>
#include <sys/wait.h>

#include <array>
#include <chrono>
#include <cstdio>
#include <functional>
#include <regex>

#include "catalog/book/gaps.h"
#include "catalog/book/records/names.h"
#include "catalog/book/transitions.h"
#include "tests/attack/keyed.h"
#include "tests/catalog/book/server.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

struct Checked {
  int code = 0;
  std::string said;
};

Checked checked_from_outside(const std::string& path) {
  const std::string command = "/usr/bin/python3 -B '" SEAMWRIGHT_SOURCE_DIR "/catalog/book/check.py' '" + path + "' 2>&1";
  Checked result;
  std::FILE* pipe = ::popen(command.c_str(), "r");
  REQUIRE(pipe);
  std::array<char, 4096> buffer{};
  while (const std::size_t got = std::fread(buffer.data(), 1, buffer.size(), pipe)) result.said.append(buffer.data(), got);
  const int status = ::pclose(pipe);
  result.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return result;
}

// The attacks are made on a book in a file and on one on a server, where there is one.
std::vector<std::string> places(const std::string& file) {
  std::vector<std::string> all{file};
  if (Server::running()) all.push_back(Server::where());
  return all;
}

void copy_anew(const std::string& from, const std::string& to) {
  if (is_path(to))
    remove_store(to);
  else
    Server::running()->make_empty();
  Book::open_read(from).copy_to(to);
}

// SQL from outside; on a server from somebody whom no trigger stops.
void change(const std::string& where, const std::string& sql) {
  if (is_path(where)) return tamper(where, sql);
  Server::running()->sql(std::regex_replace(sql, std::regex("X'([0-9a-f]*)'"), "'\\x$1'"));
}

/// A small shop with a frame that is welded, inspected and annulled in part; everyone's key is at hand.
struct Target {
  Folder folder;
  std::string saved = folder.path + "/saved";
  std::unique_ptr<OpenKey> owner, engineer, inspector, welder;
  Target() {
    Shop s = open_shop(folder.book());
    s.book.append("E", *s.engineer, "frame", {{"serial", "F1"}, {"design", "D"}, {"revision", "1"}}, noon);
    s.book.append("W", *s.welder, "weld", {{"frame", "F1"}, {"weld", "W1"}, {"welder", "W"}}, noon);
    s.book.append("E", *s.engineer, "weld", {{"frame", "F1"}, {"weld", "W2"}, {"welder", "E"}}, noon);
    s.book.append("I", *s.inspector, "inspection", {{"frame", "F1"}, {"weld", "W1"}, {"method", "VT"}, {"result", "reject"}, {"on", today}}, noon);
    s.book.append_all("I", *s.inspector, {{"lot", {{"id", "L1"}, {"heat", "H1"}}, Attachment{"c.txt", "3.1"}}}, noon);
    s.book.append("W", *s.welder, "note", {{"text", "a bad root"}, {"frame", "F1"}}, noon);
    s.book.append("W", *s.welder, "void", {{"of", 10}, {"reason", "said in haste"}}, noon);
    s.book.append("W", *s.welder, "note", {{"text", "the end"}, {"frame", "F1"}}, noon);
    s.book.copy_to(saved);
    owner = std::move(s.owner);
    engineer = std::move(s.engineer);
    inspector = std::move(s.inspector);
    welder = std::move(s.welder);
  }
  const OpenKey& key_of(const std::string& id) const { return id == "O" ? *owner : id == "E" ? *engineer : id == "I" ? *inspector : *welder; }
};

struct Attack {
  const char* name;
  std::function<void(const Target&, const std::string& path)> act;
  MessageId told;       ///< by verify, as a problem or as refused by the rules
  const char* outside;  ///< in what check.py says
  bool a_fault = true;  ///< else it holds, and the rules would have refused it
};

Attack edit(const char* name, const char* sql, MessageId told, const char* outside) {
  return {name, [sql](const Target&, const std::string& path) { change(path, sql); }, told, outside};
}

Attack forced(const char* name, const char* by, const char* kind, Json payload, MessageId told, const char* outside, bool a_fault,
              const char* time = noon) {
  return {name, [=](const Target& t, const std::string& path) { force(path, by, t.key_of(by), kind, payload, time); }, told, outside, a_fault};
}

// The last entry once more behind itself, as somebody without any key can put it there.
void replay(const Target&, const std::string& path) {
  const Book b = Book::open_read(path, Tables::as_they_are);
  const Entry last = *b.last_entry();
  Entry again = last;
  again.seq = last.seq + 1;
  again.prev = last.hash;
  again.links = links_of(frames_about(again, nullptr), [&](const std::string& frame) { return last_about(path, frame); });
  again.hash = entry_hash(b.id(), again, canonical(again.payload));
  change(path, "INSERT INTO entry VALUES(" + std::to_string(again.seq) + ", '" + again.time + "', '" + again.author + "', '" + again.kind + "', '" +
                   canonical(again.payload) + "', '" + again.prev + "', '" + again.hash + "', '" + again.signature +
                   "'); INSERT INTO statement VALUES(" + std::to_string(again.seq) + ", '" + again.seen + "', '" + again.links + "')");
}

// Somebody with a key goes back to the form of older programs, which names no entry before it.
void older_form(const Target& t, const std::string& path) {
  const Book b = Book::open_read(path, Tables::as_they_are);
  const Entry last = *b.last_entry();
  Entry e{last.seq + 1, noon, "W", "note", {{"text", "x"}}, last.hash, "", ""};
  const std::string payload = canonical(e.payload);
  e.hash = entry_hash(b.id(), e, payload);
  e.signature = t.key_of("W").sign(e.hash);
  change(path, "INSERT INTO entry VALUES(" + std::to_string(e.seq) + ", '" + e.time + "', 'W', 'note', '" + payload + "', '" + e.prev + "', '" + e.hash + "', '" + e.signature + "')");
}

const std::vector<Attack>& attacks() {
  static const std::vector<Attack> all{
      edit("a payload edited", "UPDATE entry SET payload = replace(payload, 'reject', 'accept') WHERE kind = 'inspection'", "book.altered", "is not what was hashed"),
      edit("an author edited", "UPDATE entry SET author = 'E' WHERE seq = 6", "book.altered", "is not what was hashed"),
      edit("a time edited", "UPDATE entry SET time = '2026-11-26T12:00:01Z' WHERE seq = 8", "book.altered", "is not what was hashed"),
      edit("another's signature", "UPDATE entry SET signature = (SELECT signature FROM entry WHERE seq = 6) WHERE seq = 8", "book.bad-signature", "is not signed by its author"),
      edit("an entry removed", "DELETE FROM statement WHERE seq = 8; DELETE FROM entry WHERE seq = 8", "book.gap", "does not continue"),
      edit("two entries swapped", "UPDATE entry SET seq = 900 WHERE seq = 6; UPDATE entry SET seq = 6 WHERE seq = 8; UPDATE entry SET seq = 8 WHERE seq = 900", "book.broken-chain", "does not continue"),
      edit("what an author knew edited", "UPDATE statement SET seen = '' WHERE seq = 8", "book.altered", "is not what was hashed"),
      edit("a link edited", "UPDATE statement SET links = '{\"F1\":6}' WHERE seq = 8", "book.altered", "is not what was hashed"),
      edit("a statement's row removed", "DELETE FROM statement WHERE seq = 8", "book.altered", "is not what was hashed"),
      edit("a file exchanged", "UPDATE attachment SET bytes = X'2e'", "book.attachment-differs", "is another"),
      {"a statement placed twice", replay, "book.placed-twice", "stands there twice"},
      {"back to the older form", older_form, "book.other-form", "form"},
      forced("a welder releases", "W", "release", {{"frame", "F1"}, {"on", today}, {"design_sha256", "x"}}, "book.no-role", "role may not sign", true),
      forced("a welder admits somebody", "W", "person", {{"id", "X"}, {"role", "owner"}, {"public_key", std::string(64, 'a')}}, "book.no-role", "role may not sign", true),
      forced("a welder makes themself an engineer", "W", "role", {{"id", "W"}, {"role", "engineer"}}, "book.no-role", "role may not sign", true),
      forced("an owner excepts", "O", "exception", {{"frame", "F1"}, {"gap", "gap.rejected:W1:VT"}, {"reason", "r"}}, "book.no-role", "role may not sign", true),
      forced("a correction of nothing", "W", "void", {{"of", 900}, {"reason", "r"}}, "book.bad-replacement", "not there", true),
      forced("annulled twice", "W", "void", {{"of", 10}, {"reason", "r"}}, "book.bad-replacement", "replaced before", true),
      forced("another's inspection annulled", "O", "void", {{"of", 8}, {"reason", "r"}}, "rule.not-theirs", "may not replace", false),
      forced("an engineer's weld annulled by a welder", "W", "void", {{"of", 7}, {"reason", "r"}}, "rule.not-theirs", "may not replace", false),
      forced("a weld signed for another", "E", "weld", {{"frame", "F1"}, {"weld", "W3"}, {"welder", "W"}}, "rule.other-welder", "not signed by the welder", false),
      forced("an own weld excepted", "E", "exception", {{"frame", "F1"}, {"gap", "gap.rejected:W2:VT"}, {"reason", "r"}}, "rule.own-exception", "welded what it judges", false),
      forced("a frame excepted by one of its welders", "E", "exception", {{"frame", "F1"}, {"gap", "gap.rating-not-covered"}, {"reason", "r"}}, "rule.own-exception", "welded what it judges", false),
      forced("an own frame's finding decided", "E", "disposition", {{"nonconformity", "N"}, {"frame", "F1"}, {"decision", "use-as-is"}, {"reason", "r"}}, "rule.own-disposition", "welded what it judges", false),
      forced("a method without a certificate", "I", "inspection", {{"frame", "F1"}, {"weld", "W1"}, {"method", "PT"}, {"result", "accept"}, {"on", today}}, "rule.method-not-held", "holds no certificate", false),
      forced("shipped before it was released", "E", "shipment", {{"order", "B"}, {"frames", {"F1"}}, {"on", today}}, "rule.not-released", "was not released", false),
      forced("a day that lies ahead", "W", "weld", {{"frame", "F1"}, {"weld", "W3"}, {"on", "2026-12-24"}}, "rule.day-ahead", "lies ahead", false),
      forced("a time that is none", "W", "note", {{"text", "n"}}, "rule.bad-time", "time is none", false, "noon"),
  };
  return all;
}

bool tells(const std::string& path, const Attack& a) {
  const Verification v = verify(Book::open_read(path, Tables::as_they_are));
  const auto& all = a.a_fault ? v.problems : v.refused;
  return std::any_of(all.begin(), all.end(), [&](const Problem& p) { return p.what == a.told; });
}

}  // namespace

TEST_CASE("every attack on a book is told by verify and from outside alike") {
  const Target t;
  const Checked whole = checked_from_outside(t.saved);
  INFO(whole.said);
  CHECK(whole.code == 0);
  CHECK(whole.said.starts_with("all 12 entries hold"));
  CHECK(verify(Book::open_read(t.saved)).problems.empty());
  CHECK(verify(Book::open_read(t.saved)).refused.empty());
  const std::size_t step_on_server = std::getenv("SEAMWRIGHT_NIGHT") ? 1 : 5;  // the rules are the same: the day takes a sample
  for (const std::string& path : places(t.folder.path + "/attacked"))
    for (std::size_t i = 0; i < attacks().size(); i += is_path(path) ? 1 : step_on_server) {
      const Attack& a = attacks()[i];
      INFO(a.name << " at " << path);
      copy_anew(t.saved, path);
      a.act(t, path);
      CHECK(tells(path, a));
      std::string file = path;
      if (!is_path(path)) {
        file = t.folder.path + "/from-server";
        remove_store(file);
        // A file refuses rows that speak of an entry that is not there; what was taken away is told by that.
        if (refusal([&] { Book::open_read(path, Tables::as_they_are).copy_to(file); }) == "book.sql") continue;
      }
      const Checked outside = checked_from_outside(file);
      INFO(outside.said);
      CHECK(outside.code == (a.a_fault ? 1 : 0));
      CHECK_THAT(outside.said, Catch::Contains(a.outside));
    }
}

TEST_CASE("what is read is held against hash, signature, role and links before it is shown") {
  const Target t;
  for (const std::string& path : places(t.folder.path + "/read")) {
    const auto shown = [&](const std::string& sql) {
      copy_anew(t.saved, path);
      change(path, sql);
      return refusal([&] { (void)trace(Book::open_read(path), "F1"); });
    };
    CHECK(shown("SELECT 1").empty());
    CHECK(shown("UPDATE entry SET payload = replace(payload, 'reject', 'accept') WHERE kind = 'inspection'") == "book.not-intact");
    CHECK(shown("UPDATE entry SET signature = (SELECT signature FROM entry WHERE seq = 6) WHERE seq = 8") == "book.not-intact");
    CHECK(shown("UPDATE entry SET payload = replace(payload, 'inspector', 'engineer') WHERE kind = 'person'") == "book.not-intact");
    CHECK(shown("DELETE FROM mark WHERE name = 'frame' AND seq = 8") == "book.left-out");
    CHECK(shown("DELETE FROM mark WHERE name = 'person' AND value = 'I'") == "book.not-intact");
    // A hidden annulment shows as soon as another entry follows on that frame.
    CHECK(shown("DELETE FROM replaced") == "book.left-out");
  }
  // An entry of another frame is in the way of none.
  CHECK(refusal([&] { (void)trace(Book::open_read(t.saved), "F2"); }) == "book.unknown-frame");
}

TEST_CASE("an older copy shows against a printed head, and no short head is taken") {
  const Target t;
  const std::string head = Book::open_read(t.saved).head(), path = t.folder.path + "/older";
  Book::open_read(t.saved).copy_to(path);
  tamper(path, "DELETE FROM mark WHERE seq = 12; DELETE FROM statement WHERE seq = 12; DELETE FROM entry WHERE seq = 12");
  const Book older = Book::open_read(path, Tables::as_they_are);
  CHECK(verify(older).problems.empty());
  const auto problems = verify(older, head).problems;
  CHECK(std::any_of(problems.begin(), problems.end(), [](const Problem& p) { return p.what == "book.head-not-found"; }));
  // Another chain that ends in the same figures is found by trying: so long for each figure more.
  const Entry last = *older.last_entry();
  const auto begun = std::chrono::steady_clock::now();
  constexpr int tries = 20000;
  Entry ground = last;
  std::string nearest;
  for (int i = 0; i < tries; ++i) {
    ground.signature = std::to_string(i);
    nearest = std::max(nearest, entry_hash(older.id(), ground, "{}"));
  }
  const double each_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count() / tries;
  WARN("a head of 8 figures is ground out in " << each_s * 4294967296.0 / 3600 << " h by one core, one of 32 in " << each_s * 3.4e38 / 3.15e7 << " years");
  CHECK(each_s * 3.4e38 / 3.15e7 > 1e15);
  CHECK(refusal([&] { (void)verify(older, head.substr(0, head.find(':') + 9)); }) == "book.bad-head");
}

TEST_CASE("a shop of one is told apart and may do what nobody else can") {
  const Target t;
  Book b = Book::open(t.saved);
  const Json own{{"frame", "F1"}, {"weld", "W4"}, {"method", "VT"}, {"result", "accept"}, {"on", today}};
  b.append("O", *t.owner, "weld", {{"frame", "F1"}, {"weld", "W4"}, {"welder", "O"}}, noon);
  CHECK(refusal([&] { b.append("O", *t.owner, "inspection", own, noon); }) == "rule.own-weld");
  CHECK(refusal([&] { b.append("E", *t.engineer, "shop", {{"people", "one"}, {"reason", "r"}}, noon); }) == "book.role");
  b.append("O", *t.owner, "shop", {{"people", "one"}, {"reason", "nobody else is here"}}, noon);
  CHECK(is_shop_of_one(b));
  b.append("O", *t.owner, "inspection", own, noon);
  CHECK(verify(b).refused.empty());
  CHECK(checked_from_outside(t.saved).code == 0);
  b.append("O", *t.owner, "shop", {{"people", "several"}, {"reason", "a colleague came"}}, noon);
  CHECK_FALSE(is_shop_of_one(b));
  CHECK(refusal([&] { b.append("O", *t.owner, "inspection", own, noon); }) == "rule.own-weld");
}
