// SPDX-License-Identifier: GPL-3.0-or-later
// A job's files speak of a procedure, its welders and measured welds; this is gathered for a report. Command
// line and window ask the same questions here.
#pragma once

#include "engine/loads/stability.h"
#include "engine/rating/rate.h"
#include "reports/content/procedure_blocks.h"

namespace seamwright::reports {

/// A file beside the design of a job: "certificates.toml", "procedures".
std::string beside(const std::string& job, const std::string& name);
/// Throws Fault "rating.unknown-weld" with the nearest known.
const joints::Weld& weld_of(const design::Design& design, const std::string& id);
/// Refuses an id that no weld, notch or circle of bolts has, as weld_of() does; "" passes.
void require_subject(const design::Design& design, const std::string& id);

struct ProcedureQuestion {
  std::string file;         ///< of the procedure
  std::string job;          ///< "" = the folder above the file's
  std::string weld;         ///< "" = on its own
  std::string certificate;  ///< "" = no welder
  qualification::Date on{}, today{};
};
/// Throws the readers' Faults, "rating.unknown-weld", "welders.unknown-certificate".
ProcedureReport procedure_report(const ProcedureQuestion& q);

/// Every weld against every certificate. Throws the readers' Faults.
WeldersReport welders_report(const std::string& job, qualification::Date from, qualification::Date to,
                             qualification::Date today);

struct InspectionQuestion {
  std::string job, duty;
  std::string measured;  ///< table of findings; "" = none yet
  std::string spokes;    ///< table of tensions; "" = none
  double spoke_least_n = 0, spoke_most_n = 0;
  char tolerance_class = 'B';
  qualification::Date today{};
};
/// Rates the job by spectral moments for what each weld presumes. Throws what reading and rating throw.
InspectionReport inspection_report(const InspectionQuestion& q);
/// True when every finding is accepted, everything is measured, by tools in calibration.
bool is_complete(const InspectionReport& report);

/// Every circle of bolts with a preload, and the torque for it where the design states what it takes.
std::vector<TorqueRow> torques_of(const design::Design& design);

/// A limit in words: "0.3 mm", "short 0.6 mm", "0", "any", "application", "?" where a size is missing.
std::string limit_text(const std::optional<inspection::Bound>& bound);

/// Empty and every loading of the duty, from stop to stop.
loads::Stability stability_of(const rating::Job& job, std::size_t angles);

}  // namespace seamwright::reports
