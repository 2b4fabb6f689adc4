// SPDX-License-Identifier: GPL-3.0-or-later
// Solids of the demonstration, in seconds of processor time of the workers: tubes and common parts cold (aim 10),
// weld bodies (20), all from the cache (0.2), one changed tube (2); a hidden-line view of the frame and of one
// joint.
#include <sys/resource.h>
#include <unistd.h>

#include <filesystem>

#include "catalog/files/job_reader.h"
#include "catalog/models/cache.h"
#include "catalog/models/frame_solids.h"
#include "catalog/models/worker_client.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"
#include "engine/rating/progress.h"
#include "engine/shape/plan.h"
#include "tests/timing/line.h"

using namespace seamwright;

namespace {

double processor_seconds() {
  double sum = 0;
  for (const int who : {RUSAGE_SELF, RUSAGE_CHILDREN}) {
    rusage used{};
    getrusage(who, &used);
    sum += static_cast<double>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
           1e-6 * static_cast<double>(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
  }
  return sum;
}

// A worker's time counts when it has ended: each work() ends its own.
double seconds(const auto& work) {
  const double before = processor_seconds();
  work();
  return processor_seconds() - before;
}

}  // namespace

int main() {
  const auto folder = std::filesystem::temp_directory_path() / fmt::format("seamwright-timing-{}", getpid());
  models::WorkerClient worker(SEAMWRIGHT_WORKER_PROGRAM);
  models::Cache modeller(folder.string(), worker);
  design::Design design =
      files::read_design(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike/design.toml", published::catalog());
  const shape::Plan plan = shape::plan_of(design);
  shape::Plan tubes = plan, welds = plan;
  tubes.welds.clear();
  welds.parts.clear();
  models::BuiltFrame built;
  const double parts = seconds([&] { built = models::frame_solids(modeller, tubes, {}); });
  const double shared = seconds([&] { models::frame_findings(modeller, tubes, built, {}); });
  timing::aim(fmt::format("{} tubes and plates with their common parts, cold", plan.parts.size()), parts + shared, "s", 10);
  timing::aim(fmt::format("{} weld bodies, cold", plan.welds.size()),
              seconds([&] { models::frame_solids(modeller, welds, {}); }), "s", 20);
  timing::aim("all solids and common parts from the cache", seconds([&] {
                built = models::frame_solids(modeller, plan, {});
                models::frame_findings(modeller, plan, built, {});
              }),
              "s", 0.2);
  for (frame::Tube& t : design.frame.tubes)
    if (t.id == "riser") std::get<frame::RoundTube>(t.section).wall_mm = 2.5;
  const shape::Plan changed = shape::plan_of(design);
  timing::aim("the wall of one tube changed: solids anew", seconds([&] { models::frame_solids(modeller, changed, {}); }),
              "s", 2);
  timing::aim("hidden-line view of the frame, oblique",
              seconds([&] { models::frame_view(modeller, plan, built, {0.5, 0.8, -0.3}, {0, 0, 1}, {}); }), "s", 2);
  shape::Plan joint;
  models::BuiltFrame of_joint;
  for (std::size_t i = 0; i < plan.parts.size(); ++i)
    for (const char* id : {"axle-tube", "riser.L", "fore.L", "aft.L", "keel-brace.L"})
      if (plan.parts[i].id == id) {
        joint.parts.push_back(plan.parts[i]);
        of_joint.parts.push_back(built.parts[i]);
      }
  timing::aim("hidden-line view of one joint of five tubes",
              seconds([&] { models::frame_view(modeller, joint, of_joint, {0.5, 0.8, -0.3}, {0, 0, 1}, {}); }), "s", 1);
  std::error_code ignored;
  std::filesystem::remove_all(folder, ignored);
}
