// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/solids.h"

#include "app/cli/progress_bar.h"
#include "catalog/models/frame_solids.h"
#include "catalog/models/user_modeller.h"
#include "engine/rating/progress.h"
#include "engine/shape/plan.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/frame_picture.h"

namespace seamwright::cli {

namespace {

// By the corners of the triangles, which lie on the bodies.
std::vector<std::array<frame::Vec3, 2>> furthest_mm(const models::BuiltFrame& solids) {
  std::vector<std::array<frame::Vec3, 2>> all;
  for (const auto* bodies : {&solids.parts, &solids.welds})
    for (const shape::Built& b : *bodies) {
      const std::vector<float>& c = b.solid.mesh.points;
      for (std::size_t i = 0; i + 2 < c.size(); i += 3) {
        const frame::Vec3 place(c[i], c[i + 1], c[i + 2]);
        if (all.empty()) all.assign(3, {place, place});
        for (int axis = 0; axis < 3; ++axis) {
          auto& [least, most] = all[static_cast<std::size_t>(axis)];
          if (place[axis] < least[axis]) least = place;
          if (place[axis] > most[axis]) most = place;
        }
      }
    }
  return all;
}

}  // namespace

reports::DrawnViews drawn_views(const design::Design& design, std::initializer_list<const char*> names) {
  reports::DrawnViews views;
  try {
    models::UserModeller modeller;
    Bar bar;
    const shape::Plan plan = shape::plan_of(design);
    const models::BuiltFrame solids = models::frame_solids(modeller, plan, bar.progress());
    for (std::size_t i = 0; i < plan.parts.size(); ++i)
      if (const shape::Built& b = solids.parts[i]; b.body.empty())
        views.notes.push_back({"shape.not-built", {text("part", plan.parts[i].id), text("why", b.why)}});
    views.furthest_mm = furthest_mm(solids);
    for (const char* name : names) {
      const reports::Eye eye = reports::eye_of(reports::view_of(name));
      views.lines[name] = models::frame_view(modeller, plan, solids, eye.towards, eye.up, bar.progress());
    }
  } catch (const Fault& fault) {  // no worker, or it failed: what is drawn otherwise is right all the same
    views = {};
    views.notes = {reports::message_of("shape.plain-views"), fault.message};
  }
  return views;
}

reports::DrawnJoint drawn_joint(const design::Design& design, const std::string& weld) {
  reports::DrawnJoint drawn{shape::joint_plan(design, shape::plan_of(design), weld), {}};
  try {
    models::UserModeller modeller;
    Bar bar;
    const models::BuiltFrame solids = models::frame_solids(modeller, drawn.joint.plan, bar.progress());
    for (const reports::JointEye& eye : reports::joint_eyes(drawn.joint))
      drawn.views.push_back(
          models::frame_view(modeller, drawn.joint.plan, solids, eye.towards, eye.up, bar.progress()));
  } catch (const Fault& fault) {  // as above
    drawn.views.clear();
    drawn.notes = {fault.message};
  }
  return drawn;
}

}  // namespace seamwright::cli
