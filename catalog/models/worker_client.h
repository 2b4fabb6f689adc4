// SPDX-License-Identifier: GPL-3.0-or-later
// A modeller that hands its tasks to worker programs. A worker that crashes, hangs or eats memory takes the
// task at hand with it and nothing else: that task has failed, another worker goes on with the next.
#pragma once

#include <chrono>
#include <string>

#include "catalog/models/modeller.h"

namespace seamwright::models {

struct WorkerLimits {
  std::chrono::milliseconds a_task{60000};  ///< without an answer, by the clock
  std::size_t workers = 0;                  ///< at one time; 0: as many as there are processors, at most four
};

/// This machine holds so many workers of these megabytes at a time: at least one, no more than it has processors.
std::size_t workers_by_memory(double megabytes);

class WorkerClient : public Modeller {
 public:
  explicit WorkerClient(std::string program, WorkerLimits limits = {});
  using Modeller::work;
  std::vector<Answer> work(const std::vector<Task>& tasks, const rating::Progress& progress, const Told& told) override;

 private:
  std::string program_;
  WorkerLimits limits_;
};

/// The worker that belongs to this program: SEAMWRIGHT_WORKER, else beside it as installed or as built.
std::string worker_program();

}  // namespace seamwright::models
