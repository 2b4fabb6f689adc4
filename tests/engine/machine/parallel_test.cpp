// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/machine/parallel.h"

#include <atomic>
#include <catch2/catch.hpp>
#include <stdexcept>
#include <thread>
#include <vector>

using namespace seamwright::machine;

TEST_CASE("work that is split is done once, and split again inside it stays on its thread") {
  std::vector<std::atomic<int>> done(60);
  std::atomic<bool> strayed = false;
  over_tasks(3, 0, [&](std::size_t i) {
    const std::thread::id here = std::this_thread::get_id();
    over_tasks(10, 4, [&](std::size_t k) {
      ++done[10 * i + k];
      if (std::this_thread::get_id() != here) strayed = true;
    });
    over_sites(10, [&](Eigen::Index first, Eigen::Index last) {
      for (Eigen::Index k = first; k < last; ++k) ++done[30 + 10 * i + static_cast<std::size_t>(k)];
      if (std::this_thread::get_id() != here) strayed = true;
    });
  });
  for (const std::atomic<int>& times : done) CHECK(times == 1);
  CHECK_FALSE(strayed);
}

TEST_CASE("a task that fails ends the others, and its exception comes out") {
  std::atomic<int> begun = 0;
  const auto fail = [&](std::size_t) {
    ++begun;
    throw std::runtime_error("no");
  };
  CHECK_THROWS_WITH(over_tasks(1000, 2, fail), "no");
  CHECK(begun <= 2);
  begun = 0;
  over_tasks(1, 1, [&](std::size_t) { CHECK_THROWS_WITH(over_tasks(5, 2, fail), "no"); });
  CHECK(begun == 1);
  over_tasks(0, 0, fail);
  CHECK(begun == 1);
}
