// SPDX-License-Identifier: GPL-3.0-or-later
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/study/duty_stability.h"
#include "reports/content/stability_blocks.h"
#include "reports/content/study_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct StabilityOptions {
  std::string job, duty;
  std::size_t angles = 5;
  double friction = 0.7;
  bool json = false;
};

int stability(const StabilityOptions& o, const Session& session) {
  const rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  const loads::Stability s = study::stability_of(job, o.angles);
  if (o.json)
    print(reports::to_json(s, o.friction));
  else
    print(reports::stability_document(job.design, s, o.friction), session);
  return s.tips_at_rest ? 1 : 0;
}

}  // namespace

void add_stability(CLI::App& app, Session& session) {
  auto o = std::make_shared<StabilityOptions>();
  CLI::App* command =
      app.add_subcommand("stability", "Tip-over and braking limits, empty and loaded, from steering stop to steering stop");
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  command->add_option("--angles", o->angles, "number of steering angles from stop to stop")
      ->check(CLI::Range(5, 181))
      ->capture_default_str();
  command->add_option("--friction", o->friction, "friction coefficient of the tyres on the road, to tell sliding from tipping")
      ->check(CLI::Range(0.05, 2.0))
      ->capture_default_str();
  command->add_flag("--json", o->json, "one JSON document on stdout");
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return stability(*o, session); }); };
  });
}

}  // namespace seamwright::cli
