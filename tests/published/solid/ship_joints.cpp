// SPDX-License-Identifier: GPL-3.0-or-later
// ship_joints JOB FILE: works out all joints of a job anew, and writes them as they come with the program.
#include <cstdio>
#include <exception>
#include <set>

#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/models/shipped.h"
#include "catalog/models/wire.h"
#include "catalog/models/worker_client.h"
#include "catalog/published/published_data.h"
#include "engine/rating/progress.h"
#include "engine/sites/joint_readings.h"

using namespace seamwright;

int main(int count, char** words) {
  if (count != 3) return std::fprintf(stderr, "usage: ship_joints JOB FILE\n"), 2;
  try {
    const design::Design design = files::read_design(files::design_path(words[1]), published::catalog());
    std::vector<models::Task> tasks;
    std::set<std::string> seen;
    for (const solid::FrameJoint& j : solid::joints_to_model(sites::frame_joints(design).joints))
      if (seen.insert(models::bytes_of(models::Task(j.task))).second) tasks.emplace_back(j.task);
    models::WorkerClient worker(SEAMWRIGHT_WORKER_PROGRAM, {std::chrono::minutes(10), models::workers_by_memory(2500)});
    const std::vector<models::Answer> answers = worker.work(tasks, {});
    for (const models::Answer& a : answers)
      if (const auto* failed = std::get_if<models::Failed>(&a)) return std::fprintf(stderr, "%s\n", failed->why.c_str()), 1;
    files::write_text(words[2], models::shipped_file(tasks, answers));
    return 0;
  } catch (const std::exception& e) {
    return std::fprintf(stderr, "%s\n", e.what()), 1;
  }
}
