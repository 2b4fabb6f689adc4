// SPDX-License-Identifier: GPL-3.0-or-later
// A book that is only added to, and every way of changing one that we could think of.
#include "catalog/book/verify.h"

#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <random>
#include <set>

#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

// Owner, a welder, and a few entries of the welder's.
void fill(const std::string& path, int welds) {
  Book b = Book::create(path, "O1", "OW", "owner's secret", noon);
  const auto owner = b.unlock("O1", "owner's secret");
  b.admit_person("O1", *owner, "W1", "WW", "welder", "welder's secret", noon);
  const auto welder = b.unlock("W1", "welder's secret");
  for (int i = 0; i < welds; ++i)
    b.append("W1", *welder, "weld",
             {{"frame", "F1"}, {"weld", "W" + std::to_string(i)}, {"amperes", 55.5}, {"reason", "a test"}},
             noon);
}

bool finds(const std::string& path, MessageId what, std::int64_t seq, const std::string& head = {}) {
  const Verification v = verify(Book::open_read(path, Tables::as_they_are), head);
  return std::any_of(v.problems.begin(), v.problems.end(),
                     [&](const Problem& p) { return p.what == what && p.seq == seq; });
}

}  // namespace

TEST_CASE("a book adds up, and its file is its owner's alone") {
  const Folder f;
  fill(f.book(), 5);
  const Book b = Book::open_read(f.book());
  const Verification v = verify(b);
  CHECK(v.problems.empty());
  CHECK(v.entries == 7);
  CHECK(v.head.starts_with("7:"));
  CHECK(verify(b, v.head).problems.empty());
  CHECK(verify(b, v.head.substr(0, v.head.find(':') + 33)).problems.empty());
  struct stat status {};
  REQUIRE(::stat(f.book().c_str(), &status) == 0);
  CHECK((status.st_mode & 0777) == 0600);
  CHECK(b.person("W1")->role == "welder");
  CHECK_FALSE(b.person("W2"));
}

TEST_CASE("only who may sign does") {
  const Folder f;
  fill(f.book(), 1);
  Book b = Book::open(f.book());
  const auto owner = b.unlock("O1", "owner's secret"), welder = b.unlock("W1", "welder's secret");
  CHECK(refusal([&] { b.append("W1", *welder, "person", {{"id", "X"}}, noon); }) == "book.role");
  CHECK(refusal([&] { b.append("W1", *welder, "inspection", {}, noon); }) == "book.role");
  CHECK(refusal([&] { b.append("W1", *owner, "weld", {}, noon); }) ==
        "book.unknown-person");  // another's key
  CHECK(refusal([&] { b.append("X9", *owner, "weld", {}, noon); }) == "book.unknown-person");
  CHECK(refusal([&] { (void)b.unlock("W1", "wrong secret"); }) == "book.wrong-passphrase");
  CHECK(refusal([&] { b.admit_person("O1", *owner, "W1", "WW", "welder", "again and again", noon); }) ==
        "book.known-person");
  CHECK(b.unlock("W1", "welder's secret")->public_hex() ==
        welder->public_hex());  // the refused one left the key alone
  CHECK(refusal([&] { b.append("O1", *owner, "person", {{"id", "X"}}, noon); }) == "book.missing-key");
  CHECK(refusal([&] {
          b.append("O1", *owner, "person",
                   {{"id", "W1"}, {"role", "owner"}, {"public_key", welder->public_hex()}}, noon);
        }) == "book.known-person");
  CHECK(refusal([&] { b.admit_person("O1", *owner, "Z1", "ZZ", "king", "long enough for all", noon); }) ==
        "book.unknown-role");
  CHECK(refusal([&] {
          b.append("W1", *welder, "weld", {{"frame", "F1"}, {"weld", std::string("\xff")}}, noon);
        }) == "book.not-text");
  b.append("O1", *owner, "revoke", {{"id", "W1"}}, noon);
  CHECK(refusal([&] { b.append("W1", *welder, "weld", {}, noon); }) == "book.revoked");
  CHECK(verify(b).problems.empty());  // what was refused left nothing
  CHECK(verify(b).entries == 4);
}

TEST_CASE("files that are there, are not, or are no book") {
  const Folder f;
  fill(f.book(), 0);
  CHECK(refusal([&] { Book::create(f.book(), "O1", "OW", "owner's secret", noon); }) == "book.exists");
  CHECK(refusal([&] { Book::open(f.path + "/none"); }) == "book.missing");
  std::ofstream(f.path + "/text") << std::string(4096, 'x');
  CHECK(refusal([&] { Book::open(f.path + "/text"); }) == "book.not-a-book");
  tamper(f.book(), "PRAGMA user_version = 99");
  CHECK(refusal([&] { Book::open(f.book()); }) == "book.newer");
  CHECK(Book::open_read(f.book()).last_entry()->seq == 2);  // but read
  CHECK(finds(f.book(), "book.newer-schema", 0));
}

TEST_CASE("every change is found") {
  const auto changed = [](const std::string& sql, MessageId what, std::int64_t seq) {
    const Folder f;
    fill(f.book(), 4);
    tamper(f.book(), sql);
    return finds(f.book(), what, seq);
  };
  CHECK(changed("UPDATE entry SET payload = replace(payload, '55.5', '54.5') WHERE seq = 4", "book.altered",
                4));
  CHECK(changed("UPDATE entry SET time = '2020-01-01T00:00:00Z' WHERE seq = 4", "book.altered", 4));
  CHECK(changed("UPDATE entry SET author = 'O1' WHERE seq = 4", "book.altered", 4));
  CHECK(changed("UPDATE entry SET kind = 'repair' WHERE seq = 4", "book.altered", 4));
  CHECK(changed("UPDATE entry SET payload = '{' WHERE seq = 4", "book.altered", 4));
  CHECK(changed("DELETE FROM entry WHERE seq = 4", "book.gap", 5));
  CHECK(changed("DELETE FROM entry WHERE seq = 4; UPDATE entry SET seq = seq - 1 WHERE seq > 4",
                "book.broken-chain", 4));
  CHECK(
      changed("UPDATE entry SET seq = 100 WHERE seq = 4; UPDATE entry SET seq = 4 WHERE seq = 5; UPDATE "
              "entry SET seq = 5 WHERE "
              "seq = 100",
              "book.broken-chain", 4));
  CHECK(changed("UPDATE entry SET signature = (SELECT signature FROM entry WHERE seq = 3) WHERE seq = 4",
                "book.bad-signature", 4));
  CHECK(changed("UPDATE entry SET signature = '' WHERE seq = 4", "book.bad-signature", 4));
  CHECK(changed("UPDATE book SET id = 'another'", "book.altered", 1));
  CHECK(changed("DELETE FROM entry", "book.empty", 0));
  CHECK(changed("UPDATE person SET role = 'owner' WHERE id = 'W1'", "book.derived-differs", 2));
  CHECK(changed("INSERT INTO person VALUES('X1', 'XX', 'owner', '', 3, 0)", "book.derived-differs", 3));
  CHECK(changed("DELETE FROM person WHERE id = 'W1'", "book.derived-differs", 2));
}

TEST_CASE("a cut tail is found by a head that was printed") {
  const Folder f;
  fill(f.book(), 4);
  const std::string head = verify(Book::open_read(f.book())).head;
  tamper(f.book(), "DELETE FROM entry WHERE seq = 6; DELETE FROM mark WHERE seq = 6");
  CHECK(verify(Book::open_read(f.book())).problems.empty());  // by itself a chain cannot know
  CHECK(finds(f.book(), "book.head-not-found", 0, head));
}

TEST_CASE("time that runs backwards is told and not wrong") {
  const Folder f;
  fill(f.book(), 1);
  Book b = Book::open(f.book());
  const auto welder = b.unlock("W1", "welder's secret");
  b.append("W1", *welder, "weld", {{"frame", "F1"}, {"weld", "W9"}, {"reason", "a test"}},
           "2019-01-01T00:00:00Z");
  CHECK(verify(b).problems.empty());
  CHECK(verify(b).backwards == 1);
}

TEST_CASE("hostile text goes in and comes out as it is") {
  const Folder f;
  fill(f.book(), 0);
  Book b = Book::open(f.book());
  const auto owner = b.unlock("O1", "owner's secret");
  for (const std::string& text :
       {std::string("'); DROP TABLE entry; --"), std::string("<script>"), std::string("=1+1"),
        std::string("\xE2\x80\xAEright to left"), std::string("a\0b", 3), std::string(1 << 20, 'n')}) {
    const Entry e = b.append("O1", *owner, "note", {{"text", text}}, noon);
    CHECK(b.last_entry()->payload["text"].get<std::string>() == text);
    CHECK(b.last_entry()->hash == e.hash);
  }
  CHECK(refusal([&] {
          b.append("O1", *owner, "note", {{"text", std::string((1 << 20) + 1, 'n')}}, noon);
        }) == "book.too-long");
  CHECK(verify(b).problems.empty());
}

TEST_CASE("four processes write in turn and make one chain") {
  const Folder f;
  fill(f.book(), 0);
  const int each = std::getenv("SEAMWRIGHT_NIGHT") ? 20000 : 2000;
  const auto owner = Book::open_read(f.book()).unlock("O1", "owner's secret");
  for (int child = 0; child < 4; ++child)
    if (::fork() == 0) {
      int code = 0;
      try {
        Book b = Book::open(f.book());
        for (int i = 0; i < each; ++i)
          b.append("O1", *owner, "note", {{"text", std::to_string(child) + " " + std::to_string(i)}}, noon);
      } catch (...) {
        code = 1;
      }
      ::_exit(code);
    }
  for (int child = 0; child < 4; ++child) {
    int status = 1;
    ::wait(&status);
    CHECK(status == 0);
  }
  const Book b = Book::open_read(f.book());
  const Verification v = verify(b);
  CHECK(v.problems.empty());
  CHECK(v.entries == 2 + 4 * each);
  std::set<std::string> texts;
  b.for_each_entry([&](const Entry& e) {
    if (e.kind == "note") texts.insert(e.payload["text"].get<std::string>());
    return true;
  });
  CHECK(texts.size() == static_cast<std::size_t>(4 * each));  // none lost, none twice
}

TEST_CASE("a writer that is killed loses no acknowledged entry and leaves no half") {
  const Folder f;
  fill(f.book(), 0);
  const auto owner = Book::open_read(f.book()).unlock("O1", "owner's secret");
  std::mt19937 random(20261126);
  // Moments from before the book is open to well into its writing, on a slow machine too.
  const auto start = std::chrono::steady_clock::now();
  std::int64_t acknowledged =
      Book::open(f.book()).append("O1", *owner, "note", {{"text", "first"}}, noon).seq;
  const std::chrono::duration<double, std::micro> once = std::chrono::steady_clock::now() - start;
  const auto latest_us = static_cast<unsigned>(std::max(6000.0, 6 * once.count()));
  const int rounds = std::getenv("SEAMWRIGHT_NIGHT") ? 1000 : 200;
  for (int round = 0; round < rounds; ++round) {
    int channel[2];
    REQUIRE(::pipe(channel) == 0);
    const pid_t child = ::fork();
    if (child == 0) {
      ::close(channel[0]);
      Book b = Book::open(f.book());
      for (;;) {
        const Entry e = b.append("O1", *owner, "note", {{"text", std::string(3000, 'x')}}, noon);
        if (::write(channel[1], &e.seq, sizeof e.seq) != sizeof e.seq) ::_exit(1);
      }
    }
    ::close(channel[1]);
    ::usleep(static_cast<useconds_t>(random() % latest_us));
    ::kill(child, SIGKILL);
    std::int64_t seq = 0;
    while (::read(channel[0], &seq, sizeof seq) == sizeof seq) acknowledged = seq;
    ::close(channel[0]);
    ::waitpid(child, nullptr, 0);
    const auto last = Book::open(f.book()).last_entry();
    CHECK(last->seq >= acknowledged);
    CHECK(last->seq <= acknowledged + 1);  // at most the one that was not told yet
    if (round % 20 == 0) CHECK(verify(Book::open(f.book())).problems.empty());
    acknowledged = last->seq;
  }
  CHECK(verify(Book::open(f.book())).problems.empty());
  CHECK(acknowledged > rounds / 4);  // the moments fell among writing, too
}
