// SPDX-License-Identifier: GPL-3.0-or-later
// Every byte of a small book changed, one at a time: a change of what was recorded never goes unseen, and
// nothing crashes. With SEAMWRIGHT_NIGHT set every bit is flipped, else one of each byte.
#include <cstdio>
#include <cstdlib>
#include <fstream>

#include "catalog/book/copies.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

TEST_CASE("no byte of a record changes unseen") {
  const Folder f;
  std::vector<Entry> entries;
  {
    Shop s = open_shop(f.book());
    s.book.append("W", *s.welder, "weld",
                  {{"frame", "F1"}, {"weld", "W1"}, {"lots", {"L1"}}, {"reason", "r"}}, noon);
    s.book.for_each_entry([&](const Entry& e) {
      entries.push_back(e);
      return true;
    });
  }
  const std::string copy = f.path + "/copy";
  copy_verified(f.book(), copy);
  std::string bytes;
  {
    std::ifstream in(copy, std::ios::binary);
    bytes.assign(std::istreambuf_iterator<char>(in), {});
  }
  // The rows of entries lie here: payload, hash and signature as they stand in the file.
  std::vector<bool> recorded(bytes.size());
  for (const Entry& e : entries)
    for (const std::string& part : {canonical(e.payload), e.signature})
      for (std::size_t at = bytes.find(part); at != std::string::npos; at = bytes.find(part, at + 1))
        std::fill_n(recorded.begin() + static_cast<std::ptrdiff_t>(at), part.size(), true);
  const int bits = std::getenv("SEAMWRIGHT_NIGHT") ? 8 : 1;
  std::size_t seen = 0, unseen = 0, missed = 0;
  const std::string path = f.path + "/flipped";
  for (std::size_t i = 0; i < bytes.size(); ++i)
    for (int bit = 0; bit < bits; ++bit) {
      // Pages of free space and of indexes are many: by day only every 41st byte that no record holds.
      if (bits == 1 && !recorded[i] && i % 41 != 0) continue;
      std::string changed = bytes;
      changed[i] = static_cast<char>(changed[i] ^ (1 << (bits == 1 ? i % 8 : static_cast<std::size_t>(bit))));
      std::ofstream(path, std::ios::binary) << changed;
      bool holds = false;
      try {
        holds = verify(Book::open_read(path, Tables::as_they_are)).problems.empty();
      } catch (const Fault&) {
      }
      for (const char* end : {"-wal", "-shm"}) std::filesystem::remove(path + end);
      (holds ? unseen : seen) += 1;
      if (holds && recorded[i]) ++missed;
    }
  CHECK(missed == 0);
  CHECK(seen > 1000);
  std::printf("%zu changes seen; %zu lie where nothing is recorded, of %zu bytes\n", seen, unseen,
              bytes.size());
}
