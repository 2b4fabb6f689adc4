// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "reports/content/peaks_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct PeaksOptions {
  std::string job, duty;
  bool json = false;
};

int peaks(const PeaksOptions& o, const Session& session) {
  const rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  const strength::PeakRatings peaks = strength::rate_peaks(job, published::catalog().data);
  if (o.json)
    print(reports::to_json(peaks));
  else
    print(reports::peaks_document(job, peaks), session);
  const auto fine = [](const strength::PeakRating& p) {
    return p.use <= 1 &&
           std::all_of(p.checks.begin(), p.checks.end(), [](const auto& c) { return c.use <= 1; });
  };
  return std::all_of(peaks.cases.begin(), peaks.cases.end(), fine) ? 0 : 1;
}

}  // namespace

void add_peaks(CLI::App& app, Session& session) {
  auto o = std::make_shared<PeaksOptions>();
  CLI::App* command = app.add_subcommand("peaks", "Static strength under peak load cases that may occur once");
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  command->add_flag("--json", o->json, "one JSON document on stdout");
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return peaks(*o, session); }); };
  });
}

}  // namespace seamwright::cli
