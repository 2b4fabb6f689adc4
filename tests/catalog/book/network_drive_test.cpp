// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/network_drive.h"

#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

TEST_CASE("a book on a network drive is read, and not written") {
  const Folder f;
  open_shop(f.book());
  CHECK(network_drive_of(f.book()).empty());
  struct Restore {
    ~Restore() { file_system_of = nullptr; }
  } restore;
  static FileSystem there;
  file_system_of = [](const std::string&) { return there; };
  const auto says = [&](long type, const char* mounted_as = "") {
    there = {type, mounted_as};
    CHECK(verify(Book::open_read(f.book())).problems.empty());
    const std::string fresh = refusal([&] { Book::open_read(f.book()).copy_to(f.path + "/new"); });
    if (fresh.empty()) remove_store(f.path + "/new");
    CHECK(refusal([&] { Book::open(f.book()); }) == fresh);
    return fresh;
  };
  // Numbers of statfs(2), its manual page [from memory].
  for (const long type : {0x6969L, 0x517BL, 0xFF534D42L, 0xFE534D42L}) CHECK(says(type) == "book.network-drive");
  CHECK(says(0x65735546, "fuse.sshfs") == "book.network-drive");
  CHECK(says(0x65735546, "fuseblk").empty());
  CHECK(says(0xEF53).empty());  // ext4
  CHECK_FALSE(std::filesystem::exists(f.path + "/new"));
}
