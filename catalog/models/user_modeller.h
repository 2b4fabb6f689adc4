// SPDX-License-Identifier: GPL-3.0-or-later
// The modellers of the programs: workers behind the user's cache.
#pragma once

#include "catalog/models/cache.h"
#include "catalog/models/shipped.h"
#include "catalog/models/worker_client.h"

namespace seamwright::models {

/// Works out solids. Safe to use from several threads at once.
class UserModeller : public Modeller {
 public:
  UserModeller() : UserModeller("solids", {}, std::uint64_t{256} << 20) {}
  using Modeller::work;
  std::vector<Answer> work(const std::vector<Task>& tasks, const rating::Progress& progress, const Told& told) override {
    return cache_.work(tasks, progress, told);
  }

 protected:
  UserModeller(const char* folder, WorkerLimits limits, std::uint64_t most_bytes, Cache::Known known = nullptr)
      : worker_(worker_program(), limits), cache_(cache_folder(folder), worker_, most_bytes, known) {}

 private:
  WorkerClient worker_;
  Cache cache_;
};

/// Works out joints: they take longer, and as many run at a time as memory allows at 2.5 GB each.
class UserJoints : public UserModeller {
 public:
  UserJoints() : UserModeller("joints", {std::chrono::minutes(10), workers_by_memory(2500)}, std::uint64_t{200} << 20, shipped_answer) {}
};

}  // namespace seamwright::models
