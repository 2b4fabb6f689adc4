// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/joint_maker.h"

#include <algorithm>
#include <set>
#include <utility>

#include "catalog/models/joint_library.h"
#include "catalog/models/wire.h"
#include "engine/sites/joint_readings.h"

namespace seamwright::desktop {

namespace {

constexpr int rest_ms = 300;
constexpr std::size_t most_models = 300;  // of designs before; about 100 MB

// The joint's weld that stands first in the list.
std::size_t rank_of(const solid::FrameJoint& joint, const std::vector<std::string>& worst_first) {
  std::size_t rank = worst_first.size();
  for (const std::string& weld : joint.welds)
    rank = std::min(rank, static_cast<std::size_t>(std::find(worst_first.begin(), worst_first.end(), weld) - worst_first.begin()));
  return rank;
}

// Each joint without a model or a reason once.
std::vector<solid::FrameJoint> missing_joints(const design::Design& design, const solid::JointLibrary& known, const std::vector<std::string>& worst_first) {
  std::vector<solid::FrameJoint> missing;
  std::set<std::string> seen;
  for (solid::FrameJoint& j : solid::joints_to_model(sites::frame_joints(design).joints)) {
    if (known.find(j.task) || known.why_failed(j.task)) continue;
    if (seen.insert(models::bytes_of(models::Task(j.task))).second) missing.push_back(std::move(j));
  }
  std::stable_sort(missing.begin(), missing.end(),
                   [&](const auto& a, const auto& b) { return rank_of(a, worst_first) < rank_of(b, worst_first); });
  return missing;
}

}  // namespace

JointMaker::JointMaker(models::Modeller* modeller, QObject* parent) : QObject(parent), modeller_(modeller) {
  if (modeller_) change([](solid::JointLibrary& library) { library.scale_like = true; });
  pause_.setSingleShot(true);
  pause_.setInterval(rest_ms);
  connect(&pause_, &QTimer::timeout, this, &JointMaker::came);
  connect(&task_, &Task::ended, this, &JointMaker::go_on);
  // There is no worker: the rating says why.
  connect(&task_, &Task::failed, this, [this](const Message& message) {
    modeller_ = nullptr;
    left_ = 0;
    change([&](solid::JointLibrary& library) { library.unavailable = message; });
    pause_.start();
    emit failed(message);
  });
}

void JointMaker::change(const std::function<void(solid::JointLibrary&)>& add) {
  solid::JointLibrary changed = library_ ? *library_ : solid::JointLibrary{};
  add(changed);
  if (changed.models.size() > most_models)
    changed.models.erase(changed.models.begin(), changed.models.end() - static_cast<std::ptrdiff_t>(most_models));
  library_ = std::make_shared<const solid::JointLibrary>(std::move(changed));
}

std::shared_ptr<const rating::Job> JointMaker::with_models(const std::shared_ptr<const rating::Job>& job) const {
  if (!job || !library_) return job;
  auto with = std::make_shared<rating::Job>(*job);
  with->joint_models = library_;
  return with;
}

void JointMaker::request(const std::shared_ptr<const rating::Job>& job, const std::vector<std::string>& worst_first) {
  if (!modeller_ || job == asked_) return;
  wanted_ = asked_ = job;
  worst_first_ = worst_first;
  if (task_.is_running())
    task_.cancel();
  else
    go_on();
}

void JointMaker::go_on() {
  if (!wanted_ || !modeller_ || task_.is_running()) return;
  task_.start([this, modeller = modeller_, job = std::exchange(wanted_, nullptr), known = library_, order = worst_first_](const rating::Progress& progress) -> Task::Then {
    const std::vector<solid::FrameJoint> missing = missing_joints(job->design, *known, order);
    std::vector<models::Task> tasks;
    for (const solid::FrameJoint& j : missing) tasks.emplace_back(j.task);
    const auto in_window = [this](std::function<void()> then) { QMetaObject::invokeMethod(this, std::move(then), Qt::QueuedConnection); };
    in_window([this, count = static_cast<int>(tasks.size())] { left_ = count; });
    modeller->work(tasks, progress, [&](std::size_t i, const models::Answer& answer) {
      in_window([this, joint = missing[i], answer] {
        --left_;
        change([&](solid::JointLibrary& library) { models::add_answer(joint, answer, library); });
        pause_.start();
      });
    });
    return {};
  });
}

}  // namespace seamwright::desktop
