// SPDX-License-Identifier: GPL-3.0-or-later
// Every write, sync, truncate and new file fails once, or from then on, with a full disk and with an I/O
// error: a clear fault, the book as it was, and the same entry goes in when the store works again. With
// SEAMWRIGHT_NIGHT set the script is longer.
#include <cstdlib>

#include "tests/catalog/book/faulty_store.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

bool sound(const std::string& path, std::int64_t least) {
  const Book b = Book::open_read(path);
  const Verification v = verify(b);
  return v.problems.empty() && v.entries >= least && b.damage().empty();
}

// Opens and appends; gives how many were acknowledged, and the id of the fault that ended it.
std::pair<int, std::string> session(const std::string& path, const OpenKey& key, int entries) {
  int acknowledged = 0;
  const std::string id = refusal([&] {
    Book b = Book::open(path);
    for (int i = 0; i < entries; ++i) {
      b.append_all(
          "W", key,
          {{"weld",
            {{"frame", "F1"}, {"weld", "W" + std::to_string(i)}, {"lots", {"L1"}}, {"reason", "a test"}},
            std::nullopt},
           {"note", {{"text", std::string(6000, 'n')}}, Attachment{"a", std::to_string(i)}}},
          noon);
      acknowledged += 2;
    }
  });
  return {acknowledged, id};
}

}  // namespace

TEST_CASE("a store that fails at any call leaves the book whole and says why") {
  const Folder f;
  std::unique_ptr<OpenKey> key;
  {
    Shop s = open_shop(f.book());
    key = std::move(s.welder);
  }
  const std::string saved = f.path + "/saved";
  { Book::open_read(f.book()).copy_to(saved); }
  const int entries = std::getenv("SEAMWRIGHT_NIGHT") ? 12 : 2;
  FaultyStore store;
  int points = 0, faults = 0;
  for (const auto kind : {FaultyStore::Kind::full, FaultyStore::Kind::io})
    for (const bool on : {false, true})
      for (int n = 1;; ++n) {
        for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(f.book() + end);
        std::filesystem::copy_file(saved, f.book());
        store.fail_at(n, on, kind);
        const auto [acknowledged, id] = session(f.book(), *key, entries);
        const bool failed = store.has_failed();
        store.fail_at(0, false, kind);
        INFO("call " << n << (on ? " and on, " : " once, ")
                     << (kind == FaultyStore::Kind::full ? "full" : "io") << ", " << id);
        if (!id.empty()) {
          ++faults;
          CHECK((id == "book.full" || id == "book.sql" || id == "book.read-only" || id == "book.busy"));
          CHECK(failed);
        }
        CHECK(sound(f.book(), 4 + acknowledged));
        const auto [again, why] = session(f.book(), *key, 1);
        CHECK(why.empty());
        CHECK(again == 2);
        CHECK(sound(f.book(), 4 + acknowledged + 2));
        ++points;
        if (!failed) break;
      }
  CHECK(points > 40);
  CHECK(faults > points / 4);
  std::printf("%d points of failure, %d of them told\n", points, faults);
}

TEST_CASE("a book that could not be made leaves no file behind") {
  const Folder f;
  FaultyStore store;
  for (int n = 1;; ++n) {
    store.fail_at(n, true, FaultyStore::Kind::full);
    const std::string id = refusal([&] { Book::create(f.book(), "O", "OW", "one for all of them", noon); });
    const bool failed = store.has_failed();
    store.fail_at(0, false, FaultyStore::Kind::full);
    INFO("call " << n << ": " << id);
    if (id.empty()) break;  // made: what fails from here on is the tidying up at the close
    CHECK(failed);
    CHECK(std::filesystem::is_empty(f.path));
    REQUIRE(n < 200);
  }
  CHECK(sound(f.book(), 1));
}
