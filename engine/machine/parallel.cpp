// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/machine/parallel.h"

#include <malloc.h>

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>
#include <vector>

namespace seamwright::machine {

namespace {

thread_local bool working = false;  // this thread is one of a split

std::size_t processors() { return std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, 16); }

// Runs on every thread of a split and passes on the first exception.
void on_threads(std::size_t threads, const std::function<void(std::size_t)>& run) {
  std::vector<std::exception_ptr> failed(threads);
  {
    std::vector<std::jthread> workers;
    for (std::size_t t = 0; t < threads; ++t)
      workers.emplace_back([&, t] {
        working = true;
        try {
          run(t);
        } catch (...) {
          failed[t] = std::current_exception();
        }
      });
  }
  for (const auto& e : failed)
    if (e) std::rethrow_exception(e);
}

}  // namespace

void over_sites(Eigen::Index sites, const std::function<void(Eigen::Index, Eigen::Index)>& work) {
  if (working) return work(0, sites);
  const auto threads = static_cast<Eigen::Index>(processors());
  on_threads(processors(), [&](std::size_t t) {
    const auto i = static_cast<Eigen::Index>(t);
    work(sites * i / threads, sites * (i + 1) / threads);
  });
}

void over_tasks(std::size_t tasks, std::size_t threads, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next = 0;
  const std::size_t count = std::min(tasks, threads > 0 ? threads : processors());
  if (count == 0) return;
  if (working) {
    for (std::size_t i = 0; i < tasks; ++i) work(i);
    return;
  }
  on_threads(count, [&](std::size_t) {
    try {
      for (std::size_t i = next++; i < tasks; i = next++) work(i);
    } catch (...) {
      next = tasks;
      throw;
    }
  });
}

void keep_freed_memory() {
  mallopt(M_TRIM_THRESHOLD, 512 << 20);
  mallopt(M_MMAP_THRESHOLD, 32 << 20);
}

}  // namespace seamwright::machine
