// SPDX-License-Identifier: GPL-3.0-or-later
// Books made with the same keys, salts and clock are the same to the last hash: what changes in the house may
// not change a record.
#include "tests/catalog/book/fixed_bytes.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

TEST_CASE("the demonstration's book made with fixed keys, salts and clock has the head that it always had") {
  const Folder f;
  copy_demo(f.book());
  const Book b = Book::open_read(f.book());
  // A change of the demonstration's files, of what its rating comes to, or of the catalog gives another one.
  CHECK(b.id() == "826ace2dff2a9d80e9ac64128a160b2d");
  CHECK(b.head() == "933:9ccbbad527c4bec2ecf14cc7fbbaf940719c291b21d9c7b99eccfb185983e581");
}

TEST_CASE("a shop's book made twice with fixed keys, salts and clock is the same twice") {
  std::string heads[2];
  for (std::string& head : heads) {
    const Folder f;
    const FixedBytes fixed;
    Shop s = open_shop(f.book());
    s.book.append("E", *s.engineer, "note", {{"text", "one"}}, noon);
    head = s.book.id() + " " + s.book.head();
  }
  CHECK(heads[0] == heads[1]);
  CHECK(
      heads[0] ==
      "826ace2dff2a9d80e9ac64128a160b2d 5:2690b82780b502d06b70cd94426f98003717f0c96c9cdd31a3e9f479ba457821");
}
