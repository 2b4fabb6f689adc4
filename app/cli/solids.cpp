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
    for (const char* name : names) {
      const reports::Eye eye = reports::eye_of(reports::view_of(name));
      views.lines[name] = models::frame_view(modeller, plan, solids, eye.towards, eye.up, bar.progress());
    }
  } catch (const Fault& fault) {  // no worker, or it failed: what is drawn otherwise is right all the same
    views.lines.clear();
    views.notes = {reports::message_of("shape.plain-views"), fault.message};
  }
  return views;
}

}  // namespace seamwright::cli
