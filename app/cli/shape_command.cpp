// SPDX-License-Identifier: GPL-3.0-or-later
// shape and export: the frame as solids.
#include <algorithm>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/progress_bar.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/models/frame_solids.h"
#include "catalog/models/shape_report.h"
#include "catalog/models/user_modeller.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"
#include "engine/rating/progress.h"
#include "engine/shape/plan.h"
#include "reports/content/shape_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct ShapeOptions {
  std::string job, out;
  bool json = false, fused = false;
};

int shape_of(const ShapeOptions& o, const Session& session) {
  const design::Design design = files::read_design(files::design_path(o.job), published::catalog());
  Bar bar;
  models::UserModeller modeller;
  const models::ShapeReport report = models::shape_report(modeller, design, bar.progress());
  if (o.json)
    print(reports::to_json(report));
  else
    print(reports::shape_document(report), session);
  return report.findings.empty() ? 0 : 1;
}

int export_frame(const ShapeOptions& o) {
  const design::Design design = files::read_design(files::design_path(o.job), published::catalog());
  Bar bar;
  models::UserModeller modeller;
  const shape::Plan plan = shape::plan_of(design);
  const models::BuiltFrame solids = models::frame_solids(modeller, plan, bar.progress());
  files::write_text(o.out, models::step_file(modeller, plan, solids, design.identity.name, o.fused,
                                             bar.progress()));
  const auto missing = [](const shape::Built& b) { return b.body.empty(); };
  return std::any_of(solids.parts.begin(), solids.parts.end(), missing) ||
         std::any_of(solids.welds.begin(), solids.welds.end(), missing);
}

}  // namespace

void add_shape(CLI::App& app, Session& session) {
  auto o = std::make_shared<ShapeOptions>();
  CLI::App* c = app.add_subcommand("shape", "The frame as solids: parts, masses, weld metal, overlaps");
  c->add_option("job", o->job, "job folder or design file")->required();
  c->add_flag("--json", o->json, "one JSON document");
  c->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, "", [&] { return shape_of(*o, session); }); };
  });
}

void add_export(CLI::App& app, Session& session) {
  auto o = std::make_shared<ShapeOptions>();
  CLI::App* c = app.add_subcommand("export", "Export the frame's solids as a STEP file (ISO 10303-21), for any CAD program");
  c->add_option("job", o->job, "job folder or design file")->required();
  c->add_option("--out", o->out, "file to write: .step or .stp")
      ->required()
      ->check([](const std::string& name) {
        return name.ends_with(".step") || name.ends_with(".stp") ? "" : "an exchange file is written as .step";
      });
  c->add_flag("--fused", o->fused, "fuse tubes and plates into one body; welds remain separate bodies beside it");
  c->callback([o, &session] {
    session.run = [o] { return on_job(o->job, "", [&] { return export_frame(*o); }); };
  });
}

}  // namespace seamwright::cli
