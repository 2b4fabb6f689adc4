// SPDX-License-Identifier: GPL-3.0-or-later
// Rigs, gauges and frames that came back say this about a job: field JOB RIG RETURNS. The readings are
// invented: what the plan foretells, times 1.25.
#include <cstdio>

#include "catalog/files/job_reader.h"
#include "catalog/files/returns_reader.h"
#include "catalog/files/rig_reader.h"
#include "catalog/published/published_data.h"
#include "engine/measured/field_calibration.h"
#include "engine/measured/gauges.h"
#include "engine/measured/rig_rating.h"
#include "engine/study/recalibration.h"

using namespace seamwright;

int main(int, char** arguments) {
  const published::Catalog& catalog = published::catalog();
  const rating::Job job = files::read_job(arguments[1], "", catalog);

  const measured::GaugePlan plan = measured::gauge_plan(job, 3);
  Eigen::Index best = 0;  // the load that these gauges know best
  plan.error.minCoeff(&best);
  const std::string& channel = plan.channels[static_cast<std::size_t>(best)].id;
  std::vector<measured::GaugeReading> readings;
  for (std::size_t gauge = 0; gauge < plan.gauges.size(); ++gauge) {
    std::printf("gauge on %s at %g, %g deg\n", plan.gauges[gauge].element.c_str(), plan.gauges[gauge].share,
                plan.gauges[gauge].angle_deg);
    const double foretold = plan.microstrain(static_cast<Eigen::Index>(gauge), best);
    readings.push_back({gauge, channel, 1.25 * foretold});
  }
  std::printf("load factor by %s: %.6g\n", channel.c_str(),
              measured::judge_readings(plan, readings).load_factor);

  const rating::Rating service = rating::rate(job, catalog.data, rating::Method::spectral, {});
  const std::vector<measured::RigCase> cases = files::read_rigs(arguments[2], job, catalog);
  for (const measured::RigResult& rig : measured::rate_rigs(job, catalog.data, cases, service))
    if (rig.not_applicable.empty())
      std::printf("rig %s: %s, damage %.6g, as the service with %.6g cycles\n", rig.id.c_str(),
                  rig.weld.c_str(), rig.damage, rig.equal_cycles);

  const files::ReturnsFile home = files::read_returns(arguments[3], job.design);
  const study::Recalibration again = study::recalibrate(job, catalog.data, home.returns, home.prior, {});
  std::printf("load factor by frames that came back: %.6g, life %.6g km\n",
              again.calibration.posterior_factor.value, again.after.welds.front().sites.front().life_km);
}
