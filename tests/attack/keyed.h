// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration's book with everyone's key at hand: what each of them may not do is tried.
#pragma once

#include <map>
#include <memory>
#include <stdexcept>
#include <string>

#include "catalog/book/demo_book.h"
#include "catalog/book/records.h"
#include "tests/catalog/book/shop.h"

namespace seamwright::book {

struct Keyed {
  Folder folder;
  Book book;
  std::map<std::string, std::unique_ptr<OpenKey>> keys;
  Keyed()
      : book([this] {
          copy_demo(folder.book());
          return Book::open(folder.book());
        }()) {
    for (const Person& p : book.people()) keys[p.id] = book.unlock(p.id, demo_passphrase);
  }
  std::string says(const std::string& by, const std::string& kind, const Json& payload,
                   const std::string& time = noon) {
    return refusal([&] { book.append(by, *keys.at(by), kind, payload, time); });
  }
  /// Refused by the rule at the door, and told by verify when it was signed past it.
  void breaks(MessageId rule, const std::string& by, const std::string& kind, const Json& payload,
              const std::string& time = noon) {
    INFO(rule.text() << " " << kind << " " << payload.dump());
    const std::string head = book.head();
    CHECK(says(by, kind, payload, time) == rule.text());
    CHECK(book.head() == head);
    const std::string path = folder.path + "/forced";
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path + end);
    book.copy_to(path);
    CHECK(refused(path, rule, force(path, by, *keys.at(by), kind, payload, time)));
  }
  Record weld_of(const std::string& serial, const std::string& welder) const {
    for (const Record& r : book.current({"frame", serial}, "weld"))
      if (r.text_of("welder") == welder) return r;
    throw std::runtime_error("no weld of " + welder);
  }
  Json correction(const Record& of, Json content) const {
    return {{"of", of.entry.seq}, {"kind", of.kind}, {"reason", "r"}, {"payload", std::move(content)}};
  }
};

inline Json look_at(const std::string& serial, const std::string& weld, const std::string& method) {
  return {{"frame", serial}, {"weld", weld}, {"method", method}, {"result", "accept"}, {"on", today}};
}

}  // namespace seamwright::book
