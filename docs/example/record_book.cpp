// SPDX-License-Identifier: GPL-3.0-or-later
// A record book: the demonstration's is written, verified and asked: record_book FILE. A book of one's own
// begins with Book::create(); here the demonstration's owner signs one more entry.
#include <cstdio>

#include "catalog/book/book.h"
#include "catalog/book/demo_book.h"
#include "catalog/book/gaps.h"
#include "catalog/book/keys.h"
#include "catalog/book/records.h"
#include "catalog/book/records/names.h"
#include "catalog/book/verify.h"

using namespace seamwright;

int main(int, char** arguments) {
  const std::string file = arguments[1], today = "2026-11-26";
  const std::vector<book::DemoFrame> frames = book::write_demo(file, "example");
  book::Book open = book::Book::open(file);
  std::string owner;
  for (const book::Person& person : open.people())
    if (person.role == "owner") owner = person.id;
  const std::unique_ptr<book::OpenKey> key = open.unlock(owner, book::demo_passphrase);
  const book::Entry entry = open.append(owner, *key, book::kind::note,
                                        {{book::field::text, "seen"}, {book::field::frame, frames[0].serial}},
                                        today + "T18:00:00Z");
  std::printf("entry %lld by %s\n", static_cast<long long>(entry.seq), entry.author.c_str());

  const book::Verification verified = book::verify(open);
  std::printf("%lld entries, %zu problems\n", static_cast<long long>(verified.entries),
              verified.problems.size());
  for (const book::Carrier& carrier : book::recall(open, {"heat", book::demo_heat}, today))
    std::printf("heat %s: %s\n", book::demo_heat, carrier.serial.c_str());
  for (const book::DemoFrame& frame : frames) {
    const book::Trace trace = book::trace(open, frame.serial);
    const std::vector<book::Gap> gaps = book::gaps(open, frame.serial, today);
    std::printf("%s: %zu records, %zu behind them, %zu gaps, %zu open\n", frame.serial.c_str(),
                trace.own.size(), trace.behind.size(), gaps.size(), book::open_gaps(gaps).size());
  }
}
