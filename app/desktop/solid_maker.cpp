// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/solid_maker.h"

#include <utility>

#include "catalog/models/frame_solids.h"
#include "engine/rating/job.h"
#include "engine/shape/plan.h"

namespace seamwright::desktop {

namespace {

std::shared_ptr<const shape::FrameSolids> shown(models::BuiltFrame built) {
  auto solids = std::make_shared<shape::FrameSolids>();
  for (shape::Built& b : built.parts) solids->parts.push_back(std::move(b.solid));
  for (shape::Built& b : built.welds) solids->welds.push_back(std::move(b.solid));
  return solids;
}

}  // namespace

SolidMaker::SolidMaker(models::Modeller* modeller, QObject* parent) : QObject(parent), modeller_(modeller) {
  pause_.setSingleShot(true);
  pause_.setInterval(500);
  connect(&pause_, &QTimer::timeout, this, &SolidMaker::start);
  connect(&task_, &Task::ended, this, [this] {
    if (wanted_) pause_.start();
  });
}

void SolidMaker::request(std::shared_ptr<const rating::Job> job) {
  if (!modeller_) return;
  wanted_ = std::move(job);
  task_.cancel();
  pause_.start();
}

// A view without the kernel's solids is whole: its failure is no message.
void SolidMaker::start() {
  if (!wanted_ || task_.is_running()) return;
  const std::shared_ptr<const rating::Job> job = std::exchange(wanted_, nullptr);
  task_.start([this, job](const rating::Progress& progress) -> Task::Then {
    auto solids = shown(models::frame_solids(*modeller_, shape::plan_of(job->design), progress));
    return [this, solids] {
      if (!wanted_) emit made(solids);
    };
  });
}

}  // namespace seamwright::desktop
