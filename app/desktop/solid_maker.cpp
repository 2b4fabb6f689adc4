// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/solid_maker.h"

#include <utility>

#include "app/desktop/frame_view.h"
#include "catalog/models/frame_solids.h"
#include "engine/rating/job.h"
#include "engine/shape/plan.h"
#include "reports/content/frame_picture.h"

namespace seamwright::desktop {

struct SolidMaker::Bodies {
  shape::Plan plan;
  models::BuiltFrame built;  ///< its solids are with the view
};

namespace {

std::shared_ptr<const shape::FrameSolids> taken_from(models::BuiltFrame& built) {
  auto solids = std::make_shared<shape::FrameSolids>();
  for (shape::Built& b : built.parts) solids->parts.push_back(std::move(b.solid));
  for (shape::Built& b : built.welds) solids->welds.push_back(std::move(b.solid));
  return solids;
}

}  // namespace

SolidMaker::SolidMaker(models::Modeller* modeller, QObject* parent) : QObject(parent), modeller_(modeller) {
  pause_.setSingleShot(true);
  pause_.setInterval(500);
  connect(&pause_, &QTimer::timeout, this, &SolidMaker::go_on);
  connect(&task_, &Task::ended, this, [this] {
    if (wanted_) pause_.start();
  });
}

void SolidMaker::serve(FrameView& view) {
  connect(this, &SolidMaker::made, &view, &FrameView::set_solids);
  connect(this, &SolidMaker::drawn, &view, &FrameView::set_lines);
  connect(&view, &FrameView::lines_wanted, this, &SolidMaker::request_lines);
}

void SolidMaker::request(std::shared_ptr<const rating::Job> job) {
  if (!modeller_) return;
  wanted_ = std::move(job);
  bodies_.reset();
  task_.cancel();
  pause_.start();
}

void SolidMaker::request_lines(double turn_deg, double tip_deg) {
  if (!modeller_) return;
  wanted_lines_ = Direction{turn_deg, tip_deg};
  if (!wanted_) go_on();
}

void SolidMaker::go_on() {
  if (task_.is_running()) return;
  if (wanted_)
    build(std::exchange(wanted_, nullptr));
  else if (wanted_lines_ && bodies_)
    draw(*std::exchange(wanted_lines_, std::nullopt));
}

// A view without the kernel's solids or lines is whole: their failure is no message.
void SolidMaker::build(std::shared_ptr<const rating::Job> job) {
  task_.start([this, job = std::move(job)](const rating::Progress& progress) -> Task::Then {
    auto bodies = std::make_shared<Bodies>();
    bodies->plan = shape::plan_of(job->design);
    bodies->built = models::frame_solids(*modeller_, bodies->plan, progress);
    auto solids = taken_from(bodies->built);
    return [this, bodies, solids] {
      if (wanted_) return;
      bodies_ = bodies;
      emit made(solids);
      go_on();
    };
  });
}

void SolidMaker::draw(Direction direction) {
  task_.start([this, direction, bodies = bodies_](const rating::Progress& progress) -> Task::Then {
    reports::FrameView view;
    view.turn_deg = direction.turn_deg;
    view.tip_deg = direction.tip_deg;
    const reports::Eye eye = reports::eye_of(view);
    auto lines = std::make_shared<reports::TurnedLines>();
    *lines = {direction.turn_deg, direction.tip_deg, models::frame_view(*modeller_, bodies->plan, bodies->built, eye.towards, eye.up, progress)};
    return [this, bodies, lines] {
      if (bodies == bodies_ && !wanted_) emit drawn(lines);
      go_on();
    };
  });
}

}  // namespace seamwright::desktop
