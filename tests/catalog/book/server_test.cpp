// SPDX-License-Identifier: GPL-3.0-or-later
// A book on a server: the tables that the schema makes, accounts that try what they may not, several writers, clients and servers that die.
#include <signal.h>
#include <sys/wait.h>

#include <chrono>
#include <cstdlib>
#include <set>

#include "catalog/book/copies.h"
#include "catalog/book/records.h"
#include "catalog/book/server_setup.h"
#include "catalog/book/store/postgres_store.h"
#include "tests/catalog/book/server.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

constexpr const char* secret_of_all = "one for all of them";

std::string head_on_server() { return Book::open_read(Server::where()).head(); }

// Keys are slow to seal by intent: one shop is made, and copied.
void begin_shop(Server& server) {
  static const Folder made;
  if (!std::filesystem::exists(made.book())) open_shop(made.book());
  server.make_empty();
  Book::open_read(made.book()).copy_to(Server::where());
}

// Another process writes notes until it is ended; each number that it was told of goes through the pipe.
struct Writer {
  pid_t process = -1;
  int told = -1;
};
Writer begin_writing(int notes) {
  int ends[2];
  REQUIRE(::pipe(ends) == 0);
  const pid_t child = ::fork();
  if (child == 0) {
    try {
      Book b = Book::open(Server::where());
      const auto key = b.unlock("W", secret_of_all);
      for (int i = 0; i < notes; ++i) {
        const std::int64_t seq = b.append("W", *key, "note", {{"text", std::to_string(::getpid()) + " " + std::to_string(i)}}, noon).seq;
        if (::write(ends[1], &seq, sizeof seq) != sizeof seq) ::_exit(2);
      }
    } catch (...) {
      ::_exit(1);
    }
    ::_exit(0);
  }
  ::close(ends[1]);
  return {child, ends[0]};
}
std::vector<std::int64_t> told_by(const Writer& w, std::size_t most = SIZE_MAX) {
  std::vector<std::int64_t> all;
  std::int64_t first = 0;
  while (all.size() < most && ::read(w.told, &first, sizeof first) == sizeof first) all.push_back(first);
  if (most != SIZE_MAX) return all;
  ::close(w.told);
  return all;
}

// Every number is acknowledged once, and the book holds and has each.
void check_kept(const std::vector<std::vector<std::int64_t>>& told, std::int64_t before, bool all_acknowledged) {
  std::set<std::int64_t> once;
  std::size_t count = 0;
  for (const auto& one : told) {
    once.insert(one.begin(), one.end());
    count += one.size();
  }
  CHECK(once.size() == count);
  const Book b = Book::open_read(Server::where());
  const Verification v = verify(b);
  CHECK(v.problems.empty());
  for (const std::int64_t seq : once) CHECK(b.entry_at(seq).has_value());
  if (all_acknowledged) CHECK(v.entries == before + static_cast<std::int64_t>(count));
}

}  // namespace

TEST_CASE("a new schema is the one that is known, and one that differs is told") {
  Server* server = Server::running();
  if (!server) return;
  server->make_empty();
  const auto strange = [] { return open_store(Server::where(), Access::create)->form().strange; };
  CHECK(strange() == std::vector<std::string>{});
  server->sql("ALTER TABLE entry DISABLE TRIGGER only_grows");
  CHECK(strange() == std::vector<std::string>{"entry"});
  server->sql("ALTER TABLE entry ENABLE TRIGGER only_grows; CREATE VIEW seamwright.more AS SELECT 1 AS a");
  CHECK(strange() == std::vector<std::string>{"more"});
  server->sql("DROP VIEW more; CREATE OR REPLACE FUNCTION seamwright.follows() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NEW; END'");
  CHECK(strange() == std::vector<std::string>{"follows"});
}

TEST_CASE("a book goes to a server and back with its head, and no second one takes its place") {
  Server* server = Server::running();
  if (!server) return;
  server->make_empty();
  const Folder f;
  open_shop(f.book());
  const std::string head = Book::open_read(f.book()).head(), back = f.path + "/back";
  CHECK(copy_verified(f.book(), Server::where()).head == head);
  CHECK(refusal([&] { copy_verified(f.book(), Server::where()); }) == "book.exists");
  CHECK(refusal([&] { open_shop(Server::where()); }) == "book.exists");
  CHECK(copy_verified(Server::where(), back).head == head);
  CHECK(Book::open_read(back).details("W").value() == Book::open_read(f.book()).details("W").value());
  CHECK(Book::open_read(back).unlock("W", secret_of_all));
  // What is named on a command line is a name, and nothing that libpq would read as more.
  for (const char* where : {"postgres:", "postgres:a b", "postgres:host=elsewhere", "postgres:a\nb"})
    CHECK(refusal([&] { Book::open_read(where); }) == "book.bad-service");
  CHECK(refusal([&] { Book::open_read("postgres:nobody"); }) == "book.no-server");
  server->sql("DROP SCHEMA seamwright CASCADE");
  CHECK(refusal([&] { Book::open_read(Server::where()); }) == "book.missing-on-server");
}

TEST_CASE("no account changes or removes an entry, writes for another, forges or leaves a number out") {
  Server* server = Server::running();
  if (!server) return;
  begin_shop(*server);
  server->sql("DROP ROLE IF EXISTS welder, engineer, reader, seamwright_station, seamwright_reader");
  server->sql(server_setup_files()[1].text);
  server->sql("CREATE ROLE welder LOGIN IN ROLE seamwright_station; CREATE ROLE reader LOGIN IN ROLE seamwright_reader; "
              "INSERT INTO account VALUES('welder', 'W')");
  const std::string head = head_on_server();
  const char* const refused_to_all[] = {
      "UPDATE entry SET author = 'E' WHERE seq = 2", "DELETE FROM entry WHERE seq = 5", "TRUNCATE entry", "UPDATE statement SET seen = ''",
      "DELETE FROM attachment", "DELETE FROM book", "ALTER TABLE entry DISABLE TRIGGER ALL", "DROP TABLE entry", "INSERT INTO account VALUES('welder', 'O')",
      "SET session_replication_role = replica", "CREATE TABLE seamwright.more(a int)",
      "INSERT INTO entry SELECT seq + 1, time, 'O', kind, payload, hash, repeat('a', 64), signature FROM entry ORDER BY seq DESC LIMIT 1"};
  for (const char* login : {"welder", "reader"})
    for (const char* script : refused_to_all) {
      INFO(login << ": " << script);
      CHECK(server->refusal_of(login, script) == "42501");
    }
  // The owner of the tables is stopped by the triggers.
  for (const char* script : {"UPDATE entry SET author = 'E' WHERE seq = 2", "DELETE FROM entry WHERE seq = 5", "TRUNCATE entry"})
    CHECK(server->refusal_of("keeper", script) == "42501");
  // An own entry in another place than the next, or after another than the last.
  CHECK(server->refusal_of("welder", "INSERT INTO entry SELECT seq + 2, time, 'W', kind, payload, hash, repeat('a', 64), signature FROM entry ORDER BY seq DESC LIMIT 1") == "23000");
  CHECK(server->refusal_of("welder", "INSERT INTO entry SELECT seq + 1, time, 'W', kind, payload, prev, repeat('a', 64), signature FROM entry ORDER BY seq DESC LIMIT 1") == "23000");
  CHECK(server->refusal_of("welder", "INSERT INTO statement VALUES(2, '', '{}')") == "23000");
  CHECK(head_on_server() == head);
  // They can do what they may.
  Book b = Book::open(Server::where("welder"));
  b.append("W", *b.unlock("W", secret_of_all), "note", {{"text", "n"}}, noon);
  CHECK(refusal([&] { b.append("O", *b.unlock("O", secret_of_all), "note", {{"text", "n"}}, noon); }) == "book.read-only");
  CHECK(verify(Book::open_read(Server::where("reader"))).problems.empty());
  // A signature that is none passes the server, and verify tells it.
  CHECK(server->refusal_of("welder", "INSERT INTO entry SELECT seq + 1, time, 'W', kind, payload, hash, repeat('a', 64), signature FROM entry ORDER BY seq DESC LIMIT 1").empty());
  CHECK(finds(Server::where(), "book.altered"));
}

TEST_CASE("two stations write one chain, with every acknowledged entry once") {
  Server* server = Server::running();
  if (!server) return;
  begin_shop(*server);
  const bool night = std::getenv("SEAMWRIGHT_NIGHT") != nullptr;
  const int stations = night ? 4 : 2, notes = night ? 2500 : 25;
  const auto begun = std::chrono::steady_clock::now();
  std::vector<Writer> writers;
  for (int i = 0; i < stations; ++i) writers.push_back(begin_writing(notes));
  std::vector<std::vector<std::int64_t>> told;
  for (const Writer& w : writers) {
    told.push_back(told_by(w));
    int status = 1;
    ::waitpid(w.process, &status, 0);
    CHECK(status == 0);
    CHECK(static_cast<int>(told.back().size()) == notes);
  }
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
  WARN(stations << " stations: " << stations * notes / seconds << " entries a second");
  check_kept(told, 4, true);
}

TEST_CASE("a station that dies in the middle of an entry leaves none, and keeps nobody out") {
  Server* server = Server::running();
  if (!server) return;
  begin_shop(*server);
  for (int round = 0; round < 4; ++round) {
    const Writer w = begin_writing(1000000);
    auto told = told_by(w, 2);
    ::usleep(static_cast<useconds_t>(7000 * round));
    ::kill(w.process, SIGKILL);
    ::waitpid(w.process, nullptr, 0);
    const auto rest = told_by(w);
    told.insert(told.end(), rest.begin(), rest.end());
    CHECK(told.size() >= 2);
    check_kept({told}, 4, false);
  }
  Book b = Book::open(Server::where());
  b.append("W", *b.unlock("W", secret_of_all), "note", {{"text", "goes on"}}, noon);
}

TEST_CASE("a server that is killed comes back with every entry that it acknowledged") {
  Server* server = Server::running();
  if (!server) return;
  begin_shop(*server);
  const Writer w = begin_writing(1000000);
  auto told = told_by(w, 3);
  server->kill();
  const auto rest = told_by(w);
  told.insert(told.end(), rest.begin(), rest.end());
  int status = 0;
  ::waitpid(w.process, &status, 0);
  CHECK(WEXITSTATUS(status) == 1);
  server->start();
  CHECK(told.size() >= 3);
  check_kept({told}, 4, false);
}
