// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies from the real worker, without any cache.
#pragma once

#include <numbers>

#include "catalog/models/frame_solids.h"
#include "catalog/models/worker_client.h"
#include "engine/rating/progress.h"
#include "catalog/models/wire.h"
#include "engine/shape/fibre.h"
#include "tests/published/outside/outside.h"

namespace seamwright::models {

inline constexpr double pi = std::numbers::pi;

inline Answer worked(const Task& task) {
  WorkerClient client(SEAMWRIGHT_WORKER_PROGRAM, {std::chrono::milliseconds(60000), 1});
  return client.work({task}, {}).at(0);
}

inline shape::Built body_of(const Task& task) {
  const Answer a = worked(task);
  REQUIRE(std::holds_alternative<shape::Built>(a));
  return std::get<shape::Built>(a);
}

inline shape::Stretch straight(const frame::Section& section, const shape::Vec3& from, const shape::Vec3& to) {
  const shape::Vec3 axis = (to - from).normalized();
  const shape::Vec3 off = std::abs(axis.z()) < 0.9 ? shape::Vec3(0, 0, 1) : shape::Vec3(1, 0, 0);
  return {section, from, to, (off - off.dot(axis) * axis).normalized()};
}

inline shape::Part part(std::vector<shape::Stretch> stretches, std::vector<shape::Cut> cuts = {}) {
  return {"part", "", shape::Hollow{std::move(stretches)}, std::move(cuts), "steel"};
}

}  // namespace seamwright::models
