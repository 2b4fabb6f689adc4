// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <filesystem>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/rig_reader.h"
#include "reports/content/measured_blocks.h"
#include "reports/content/rig_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct RigOptions {
  std::string job, duty, rig;
  bool json = false, equations = false;
};

int rig(const RigOptions& o, const Session& session) {
  const published::Catalog& catalog = published::catalog();
  rating::Job job = files::read_job(o.job, o.duty, catalog);
  const std::string path = o.rig.empty() ? std::filesystem::path(files::design_path(o.job))
                                               .replace_filename("rig")
                                               .replace_extension("toml")
                                               .string()
                                         : o.rig;
  const auto cases = files::read_rigs(path, job, catalog);
  if (!o.equations) add_joint_models(job, session.language);
  const rating::Rating service = rating::rate(job, catalog.data, rating::Method::spectral, {});
  const auto results = measured::rate_rigs(job, catalog.data, cases, service);
  if (o.json)
    print(reports::to_json(results));
  else
    print(reports::rig_document(service, results), session);
  const auto fine = [](const auto& r) { return r.passes || !r.not_applicable.empty(); };
  return std::all_of(results.begin(), results.end(), fine) ? 0 : 1;
}

}  // namespace

void add_rig(CLI::App& app, Session& session) {
  auto o = std::make_shared<RigOptions>();
  CLI::App* command = app.add_subcommand(
      "rig", "Calculate rig cases: predicted result, and what on the rig is equivalent to the service");
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  command->add_option("--rig", o->rig, "rig file in place of the job's rig.toml");
  add_equations(*command, o->equations);
  command->add_flag("--json", o->json, "one JSON document on stdout");
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return rig(*o, session); }); };
  });
}

}  // namespace seamwright::cli
