// SPDX-License-Identifier: GPL-3.0-or-later
// Joint models of the demonstration by two workers: all of them cold, all kept, those that one changed wall asks for; what they
// weigh on the disk; and a rating by them beside one by equations. Prints figures; judges nothing.
#include <unistd.h>

#include <chrono>
#include <filesystem>

#include "catalog/files/job_reader.h"
#include "catalog/models/cache.h"
#include "catalog/models/joint_library.h"
#include "catalog/models/worker_client.h"
#include "catalog/published/published_data.h"
#include "engine/rating/progress.h"
#include "engine/rating/rate.h"
#include "engine/sites/joint_readings.h"
#include "tests/timing/line.h"

using namespace seamwright;

namespace {

namespace fs = std::filesystem;

double seconds(const auto& work) {
  const auto begin = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

double kept_mb(const fs::path& folder) {
  double bytes = 0;
  for (const auto& file : fs::directory_iterator(folder)) bytes += static_cast<double>(file.file_size());
  return bytes / 1e6;
}

}  // namespace

int main() {
  rating::Job job = files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());
  const fs::path folder = fs::temp_directory_path() / ("seamwright-joints-" + std::to_string(getpid()));
  models::WorkerClient workers(SEAMWRIGHT_WORKER_PROGRAM, {std::chrono::minutes(10), 2});
  models::Cache cache(folder.string(), workers);
  solid::FrameJoints joints;
  timing::aim("joints of the demonstration found", seconds([&] { joints = sites::frame_joints(job.design); }), "s", 0.1);
  solid::JointLibrary library;
  timing::aim(fmt::format("all {} joints cold, two workers, h = t", joints.joints.size()),
              seconds([&] { library = models::joint_library(cache, joints, {}); }), "s", 240);
  fmt::print("models {}, failed {}, welds without {}\n", library.models.size(), library.failed.size(), joints.without.size());
  timing::aim("all kept", seconds([&] { models::joint_library(cache, joints, {}); }), "s", 1);
  timing::aim("the cache", kept_mb(folder), "MB", 200);
  rating::Job changed = job;
  for (frame::Tube& t : changed.design.frame.tubes)
    if (t.id == "bridge") std::get<frame::RoundTube>(t.section).wall_mm += 0.2;
  timing::aim("one brace's wall changed", seconds([&] { models::joint_library(cache, sites::frame_joints(changed.design), {}); }), "s", 15);
  changed = job;
  for (frame::Tube& t : changed.design.frame.tubes)
    if (t.id == "rail") std::get<frame::RoundTube>(t.section).wall_mm += 0.2;
  timing::aim("a tube used at many nodes changed", seconds([&] { models::joint_library(cache, sites::frame_joints(changed.design), {}); }), "s", 60);
  const auto rated = [&](rating::Method method) {
    return seconds([&] { rating::rate(job, published::catalog().data, method, {}); });
  };
  for (const auto& [method, name] : {std::pair(rating::Method::spectral, "spectral"), {rating::Method::time, "histories"}}) {
    job.joint_models = nullptr;
    const double by_equations = rated(method);
    job.joint_models = std::make_shared<const solid::JointLibrary>(library);
    const double by_models = rated(method);
    timing::beside(fmt::format("a rating by kept models, {}", name), by_models, "s", by_models / by_equations, "of one by equations");
  }
  fs::remove_all(folder);
  return 0;
}
