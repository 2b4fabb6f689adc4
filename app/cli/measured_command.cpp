// SPDX-License-Identifier: GPL-3.0-or-later
// gauges and calibrate.
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "app/cli/progress_bar.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/returns_reader.h"
#include "catalog/published/published_data.h"
#include "engine/study/recalibration.h"
#include "reports/content/measured_blocks.h"
#include "reports/content/study_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct MeasuredOptions {
  std::string job, duty, measured, returns;
  std::size_t count = 6;
  bool json = false, equations = false;
};

int gauges(const MeasuredOptions& o, const Session& session) {
  rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  if (!o.equations) add_joint_models(job, session.language);
  const measured::GaugePlan plan = measured::gauge_plan(job, o.count);
  std::optional<measured::GaugeResult> result;
  if (!o.measured.empty()) result = measured::judge_readings(plan, files::read_readings(o.measured, plan));
  if (o.json)
    print(reports::to_json(plan, result));
  else
    print(reports::gauges_document(job, plan, result), session);
  return 0;
}

int calibrate(const MeasuredOptions& o, const Session& session) {
  rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  study::Recalibration result;
  const files::ReturnsFile file = files::read_returns(o.returns, job.design);
  if (!o.equations) add_joint_models(job, session.language);
  {
    Bar bar;
    result = study::recalibrate(job, published::catalog().data, file.returns, file.prior, bar.progress());
  }
  if (o.json)
    print(reports::to_json(result));
  else
    print(reports::calibration_document(result, file), session);
  return result.after.verdict == rating::Verdict::meets ? 0 : 1;
}

CLI::App* with_job(CLI::App& app, const char* name, const char* what,
                   const std::shared_ptr<MeasuredOptions>& o) {
  CLI::App* command = app.add_subcommand(name, what);
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  command->add_flag("--json", o->json, "one JSON document on stdout");
  return command;
}

}  // namespace

void add_gauges(CLI::App& app, Session& session) {
  auto o = std::make_shared<MeasuredOptions>();
  CLI::App* command =
      with_job(app, "gauges", "Plan strain gauges, and evaluate what readings show about the loads", o);
  command->add_option("--count", o->count, "number of strain gauges")->check(CLI::Range(1, 12))->capture_default_str();
  command->add_option("--measured", o->measured, "table of readings: gauge, channel, microstrain");
  add_equations(*command, o->equations);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return gauges(*o, session); }); };
  });
}

void add_calibrate(CLI::App& app, Session& session) {
  auto o = std::make_shared<MeasuredOptions>();
  CLI::App* command = with_job(app, "calibrate", "Estimate loads and scatter from frames that came back", o);
  command->add_option("--returns", o->returns, "file of frames that cracked or survived")->required();
  add_equations(*command, o->equations);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return calibrate(*o, session); }); };
  });
}

}  // namespace seamwright::cli
