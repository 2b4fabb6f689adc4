// SPDX-License-Identifier: GPL-3.0-or-later
// Runs every file of corpus/TARGET through its target, whole and cut short, and with single bytes changed.
#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/fuzz/targets.h"

using namespace seamwright::fuzz;

TEST_CASE("the corpus is answered or refused and every promise kept") {
  for (const Target& target : targets()) {
    std::size_t files = 0;
    const auto folder = std::filesystem::path(SEAMWRIGHT_SOURCE_DIR) / "tests/fuzz/corpus" / target.name;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
      INFO(entry.path());
      std::ifstream in(entry.path(), std::ios::binary);
      const std::string input{std::istreambuf_iterator<char>(in), {}};
      CHECK_NOTHROW(run(target, input));
      for (std::size_t i = 0; i < 24; ++i) {
        const std::size_t at = input.size() * i / 24;
        CHECK_NOTHROW(run(target, input.substr(0, at)));
        std::string changed = input;
        if (!changed.empty()) changed[at] = static_cast<char>(changed[at] ^ (1 << (i % 8)));
        CHECK_NOTHROW(run(target, changed));
      }
      ++files;
    }
    INFO(target.name);
    CHECK(files > 0);
  }
}
