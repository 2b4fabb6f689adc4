// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/parallel.h"

#include <algorithm>
#include <exception>
#include <thread>
#include <vector>

namespace seamwright::rating {

void over_sites(Eigen::Index sites, const std::function<void(Eigen::Index, Eigen::Index)>& work) {
  const Eigen::Index threads = std::clamp<Eigen::Index>(std::thread::hardware_concurrency(), 1, 16);
  std::vector<std::exception_ptr> failed(static_cast<std::size_t>(threads));
  {
    std::vector<std::jthread> workers;
    for (Eigen::Index t = 0; t < threads; ++t)
      workers.emplace_back([&, t] {
        try {
          work(sites * t / threads, sites * (t + 1) / threads);
        } catch (...) {
          failed[static_cast<std::size_t>(t)] = std::current_exception();
        }
      });
  }
  for (const auto& e : failed)
    if (e) std::rethrow_exception(e);
}

}  // namespace seamwright::rating
