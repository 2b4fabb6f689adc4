// SPDX-License-Identifier: GPL-3.0-or-later
// A record book of 10 000 frames with 60 welds: adding, verifying, tracing, recalling. The first argument
// gives other numbers of frames.
#include <fmt/format.h>
#include <sqlite3.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <thread>

#include "catalog/book/records.h"
#include "catalog/book/verify.h"
#include "tests/timing/line.h"

using namespace seamwright::book;

namespace {

constexpr const char* noon = "2026-11-26T12:00:00Z";

double seconds(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

std::vector<NewEntry> welds_of(int frame) {
  const std::string serial = fmt::format("F{:05}", frame);
  std::vector<NewEntry> all{{"frame", {{"serial", serial}, {"design", "D"}, {"revision", "1"}}}};
  for (int w = 0; w < 60; ++w)
    all.push_back({"weld",
                   {{"frame", serial},
                    {"weld", fmt::format("W{:02}", w)},
                    {"procedure", "TIG-1"},
                    {"revision", "A"},
                    {"welder", "O"},
                    {"machine", "M-1"},
                    {"filler", fmt::format("B-{}", frame / 100)},
                    {"lots", {fmt::format("L-{}", frame / 50), fmt::format("K-{}", frame / 70)}},
                    {"on", "2026-11-26"},
                    {"amperes", 58.5},
                    {"volts", 10.2},
                    {"speed_mm_s", 1.6}}});
  return all;
}

// The same bytes into a bare table, by one prepared statement.
double plain_inserts(const std::string& path, int rows) {
  sqlite3* db = nullptr;
  sqlite3_open(path.c_str(), &db);
  sqlite3_exec(
      db,
      "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE t(a INTEGER PRIMARY KEY, b TEXT)",
      nullptr, nullptr, nullptr);
  const std::string row(900, 'x');
  const double took = seconds([&] {
    sqlite3_exec(db, "BEGIN", nullptr, nullptr, nullptr);
    sqlite3_stmt* s = nullptr;
    sqlite3_prepare_v2(db, "INSERT INTO t(b) VALUES(?1)", -1, &s, nullptr);
    for (int i = 0; i < rows; ++i) {
      sqlite3_bind_text(s, 1, row.data(), static_cast<int>(row.size()), SQLITE_STATIC);
      sqlite3_step(s);
      sqlite3_reset(s);
    }
    sqlite3_finalize(s);
    sqlite3_exec(db, "COMMIT", nullptr, nullptr, nullptr);
  });
  sqlite3_close(db);
  return took;
}

// A bare loop of signature checks over the same entries on all cores.
double bare_signatures(const Book& book) {
  std::vector<std::pair<std::string, std::string>> all;
  book.for_each_entry([&](const Entry& e) {
    all.emplace_back(signed_hash(book.id(), e, e.written), e.signature);
    return true;
  });
  const std::string key = book.person("O")->public_key;
  return seconds([&] {
    std::vector<std::jthread> threads;
    const std::size_t workers = std::max(1U, std::thread::hardware_concurrency());
    for (std::size_t w = 0; w < workers; ++w)
      threads.emplace_back([&, w] {
        for (std::size_t i = w; i < all.size(); i += workers)
          if (!signature_holds(key, all[i].first, all[i].second)) std::abort();
      });
  });
}

void run(const std::string& path, int frames) {
  Book b = Book::create(path, "O", "OW", "a long secret", noon);
  const auto key = b.unlock("O", "a long secret");
  std::vector<NewEntry> lots;
  for (int i = 0; i <= frames / 50; ++i) {
    lots.push_back({"lot", {{"id", fmt::format("L-{}", i)}, {"heat", fmt::format("H-{}", i / 4)}}});
    lots.push_back({"lot", {{"id", fmt::format("K-{}", i)}, {"heat", fmt::format("G-{}", i)}}});
  }
  b.append_all("O", *key, lots, noon);
  const double adding = seconds([&] {
    for (int f = 0; f < frames; f += 10) {
      std::vector<NewEntry> all;
      for (int g = f; g < std::min(f + 10, frames); ++g)
        for (NewEntry& n : welds_of(g)) all.push_back(std::move(n));
      b.append_all("O", *key, all, noon);
    }
  });
  const int entries = 61 * frames;
  const double plain = plain_inserts(path + ".plain", entries);
  const double one = seconds([&] {
                       for (int i = 0; i < 100; ++i) b.append("O", *key, "note", {{"text", "one"}}, noon);
                     }) /
                     100;
  const double bytes = static_cast<double>(std::filesystem::file_size(path)) / entries;
  fmt::print("book: {} frames of 60 welds, {:.0f} bytes a weld\n", frames, bytes);
  seamwright::timing::beside("bulk append, one entry", 1e3 * adding / entries, "ms", adding / plain,
                             "of a plain insert loop");
  seamwright::timing::beside("durable signed append", 1e3 * one, "ms", one / (adding / entries),
                             "of one in bulk");
  const double bare = bare_signatures(b);
  Verification v;
  const double verified = seconds([&] { v = verify(b); });
  if (!v.problems.empty()) std::abort();
  seamwright::timing::beside("verify", verified, "s", verified / bare, "of bare signature checks", 1.3);
  double tracing = 0, recalling = 0;
  std::size_t found = 0;
  for (int i = 0; i < 20; ++i) {
    tracing += seconds([&] { trace(b, fmt::format("F{:05}", i * frames / 20)); }) / 20;
    recalling += seconds([&] {
                   found = recall(b, {"heat", fmt::format("H-{}", i * frames / 4000)}, "2026-11-26").size();
                 }) /
                 20;
  }
  seamwright::timing::aim("trace", 1e3 * tracing, "ms", 50);
  seamwright::timing::aim(fmt::format("recall by heat, {} frames", found), 1e3 * recalling, "ms", 100);
  const std::string shell = "command -v sqlite3 >/dev/null && sqlite3 -readonly '" + path +
                            "' \"SELECT count(*), sum(length(payload)) FROM mark JOIN entry USING(seq) WHERE "
                            "name='frame' AND value='F00001'\" >/dev/null 2>&1";
  int status = 0;
  const double asked = seconds([&] { status = std::system(shell.c_str()); });
  if (status == 0)
    seamwright::timing::beside("trace", 1e3 * tracing, "ms", tracing / asked,
                               "of the sqlite3 shell, started anew");
}

}  // namespace

int main(int argc, char** argv) {
  char folder[] = "/tmp/seamwright-timing-XXXXXX";
  if (!::mkdtemp(folder)) return 1;
  run(std::string(folder) + "/shop.book", argc > 1 ? std::atoi(argv[1]) : 10000);
  std::filesystem::remove_all(folder);
}
