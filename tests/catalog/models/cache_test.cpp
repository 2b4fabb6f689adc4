// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies that were built once are not built again, and a spoilt file is built anew.
#include "catalog/models/cache.h"

#include <unistd.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <thread>

#include "catalog/models/user_counts.h"
#include "catalog/models/wire.h"
#include "tests/catalog/models/answers.h"

namespace seamwright::models {

namespace {

namespace fs = std::filesystem;

struct CacheFolder {
  fs::path path = fs::temp_directory_path() / ("seamwright-cache-" + std::to_string(getpid()));
  CacheFolder() { fs::remove_all(path); }
  ~CacheFolder() { fs::remove_all(path); }
  std::vector<fs::path> files() const {
    std::vector<fs::path> all;
    if (!fs::exists(path)) return all;
    for (const auto& entry : fs::directory_iterator(path)) all.push_back(entry.path());
    return all;
  }
};

double volume(const Answer& a) { return std::get<shape::Built>(a).solid.quantities.volume_mm3; }

}  // namespace

TEST_CASE("only what changed is asked for again") {
  const CacheFolder folder;
  Counting source;
  Cache cache(folder.path.string(), source);
  const std::vector<Task> tasks{tube("a", 100), tube("b", 200), CommonTask{"x", "y"}};
  cache.work(tasks, {});
  CHECK(source.asked == 3);
  const std::vector<Answer> again = cache.work(tasks, {});
  CHECK(source.asked == 3);
  CHECK(volume(again[0]) == 100);
  CHECK(volume(again[1]) == 200);
  CHECK(std::get<shape::Common>(again[2]).volume_mm3 == 50);
  CHECK(volume(cache.work({tube("a", 100), tube("b", 201)}, {})[1]) == 201);
  CHECK(source.asked == 4);
}

TEST_CASE("a flipped byte anywhere in a kept file means that it is built anew") {
  const CacheFolder folder;
  Counting source;
  Cache cache(folder.path.string(), source);
  cache.work({tube("a")}, {});
  const fs::path file = folder.files().at(0);
  std::ifstream in(file, std::ios::binary);
  const std::string good((std::istreambuf_iterator<char>(in)), {});
  for (std::size_t i = 0; i < good.size(); ++i) {
    std::string bad = good;
    bad[i] = static_cast<char>(bad[i] ^ 4);
    std::ofstream(file, std::ios::binary) << bad;
    const std::size_t before = source.asked;
    CHECK(volume(cache.work({tube("a")}, {})[0]) == 100);
    CHECK(source.asked == before + (i == 64 ? 0U : 1U));  // byte 64 parts the hash from the rest
  }
  std::ofstream(file, std::ios::binary) << "";
  CHECK(volume(cache.work({tube("a")}, {})[0]) == 100);
}

TEST_CASE("failures and exports are not kept, and without a folder nothing is") {
  const CacheFolder folder;
  Counting source;
  Cache cache(folder.path.string(), source);
  const std::vector<Task> failing{ExportTask{"f", {}, 0}, ViewTask{{}, {0, 1, 0}, {0, 0, 1}}};
  cache.work(failing, {});
  cache.work(failing, {});
  CHECK(source.asked == 4);
  CHECK(folder.files().empty());
  for (const char* nowhere : {"", "/proc/nowhere"}) {
    Cache none(nowhere, source);
    const std::size_t before = source.asked;
    none.work({tube("a")}, {});
    CHECK(volume(none.work({tube("a")}, {})[0]) == 100);
    CHECK(source.asked == before + 2);
  }
}

TEST_CASE("the folder stays within its bound, and what was used last stays") {
  const CacheFolder folder;
  Counting source;
  Cache wide(folder.path.string(), source);
  wide.work({tube("a", 1)}, {});
  const std::uint64_t one = fs::file_size(folder.files().at(0));
  Cache narrow(folder.path.string(), source, 8 * one);
  for (int i = 2; i < 40; ++i) {
    narrow.work({tube("a", i)}, {});
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  CHECK(folder.files().size() <= 8);
  const std::size_t before = source.asked;
  narrow.work({tube("a", 39)}, {});
  CHECK(source.asked == before);
}

TEST_CASE("two programs at once read whole answers") {
  const CacheFolder folder;
  std::vector<std::jthread> programs;
  std::atomic<int> wrong{0};
  for (int p = 0; p < 4; ++p)
    programs.emplace_back([&] {
      Counting source;
      Cache cache(folder.path.string(), source, 4096);  // so small that each throws away what others keep
      for (int i = 0; i < 60; ++i)
        wrong += volume(cache.work({tube("a", 1 + i % 7)}, {})[0]) != 1 + i % 7;
    });
  programs.clear();
  CHECK(wrong == 0);
}

TEST_CASE("counts are found by all of their inputs, and not once their file is touched") {
  const CacheFolder folder;
  UserCounts counts(folder.path.string());
  CHECK_FALSE(counts.find("of these"));
  counts.keep("of these", std::string("bytes\0more", 10));
  CHECK(UserCounts(folder.path.string()).find("of these") == std::string("bytes\0more", 10));
  CHECK_FALSE(counts.find("of thes"));
  CHECK_FALSE(counts.find("of these "));
  for (const fs::path& file : folder.files()) std::ofstream(file, std::ios::app) << "x";
  CHECK_FALSE(counts.find("of these"));
  UserCounts nowhere("");
  nowhere.keep("of these", "bytes");
  CHECK_FALSE(nowhere.find("of these"));
}

}  // namespace seamwright::models
