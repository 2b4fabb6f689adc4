// SPDX-License-Identifier: GPL-3.0-or-later
// The modeller of the programs: workers behind the user's cache.
#pragma once

#include "catalog/models/cache.h"
#include "catalog/models/worker_client.h"

namespace seamwright::models {

/// Safe to use from several threads at once.
class UserModeller : public Modeller {
 public:
  std::vector<Answer> work(const std::vector<Task>& tasks, const rating::Progress& progress) override {
    return cache_.work(tasks, progress);
  }

 private:
  WorkerClient worker_{worker_program()};
  Cache cache_{cache_folder("solids"), worker_};
};

}  // namespace seamwright::models
