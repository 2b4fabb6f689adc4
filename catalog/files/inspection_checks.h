// SPDX-License-Identifier: GPL-3.0-or-later
// A finished frame as measured against what its rating presumes of each weld, with tools, tolerances, bolts
// and spokes.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "catalog/files/measured_reader.h"
#include "catalog/files/procedure_reader.h"
#include "engine/inspection/limits.h"
#include "engine/qualification/welder.h"
#include "engine/rating/job.h"
#include "engine/rating/rate.h"
#include "engine/study/bolt_torques.h"

namespace seamwright::files {

/// Measured against limit.
struct InspectedRow {
  Finding finding;
  std::string name;  ///< of the imperfection
  char level = 'B';
  std::string asked_by, limit;
  inspection::Judgement judgement = inspection::Judgement::engineer;
};
struct ToleranceRow {
  std::string dimension;  ///< "wheelbase", "track"
  double length_mm = 0, tolerance_mm = 0;
};
/// Tensions of one wheel's spokes.
struct SpokeRow {
  std::string wheel;
  double mean_n = 0, deviation_n = 0, least_n = 0, most_n = 0;
  std::vector<std::string> outside;  ///< spokes beyond the shop's limits
};
/// A row tells what is allowed of one imperfection at one weld.
struct LimitRow {
  std::string number, name, limit;
  bool operator==(const LimitRow&) const = default;
};
struct InspectedWeld {
  std::string id;
  inspection::Demand demand;
  std::vector<std::string> not_measured;  ///< numbers of imperfections
  std::string methods;                    ///< "VT", "VT, PT"
  std::vector<LimitRow> limits{};         ///< of all that the weld can have
  std::string procedure{};
};
struct InspectionReport {
  std::string design;
  std::vector<InspectedRow> rows;
  std::vector<InspectedWeld> welds;
  std::vector<std::string> rejected;
  std::vector<std::string> overdue;  ///< findings whose tool was not in calibration: "W33 throat: G-2"
  std::vector<study::BoltTorque> torques;
  char tolerance_class = 'B';
  std::vector<ToleranceRow> tolerances;
  std::vector<SpokeRow> spokes;
};

struct InspectionQuestion {
  std::string job, duty;
  std::string measured;  ///< table of findings; "" = none yet
  std::string spokes;    ///< table of tensions; "" = none
  double spoke_least_n = 0, spoke_most_n = 0;
  char tolerance_class = 'B';
  qualification::Date today{};
  std::function<void(rating::Job&)> prepare{};  ///< what the job lacks yet to be rated: models of its joints; perhaps nothing
};
/// Rates the job by spectral moments for what each weld presumes. Throws what reading and rating throw.
InspectionReport inspection_report(const InspectionQuestion& q);
/// Tells what the rating of a job presumes of each of its welds, in the order of the design; methods by its procedures. A weld
/// that the rating does not have is held to the strictest: level B without undercut. Nothing is rated here.
std::vector<InspectedWeld> welds_to_inspect(const rating::Job& job, const rating::Rating& rating, const std::vector<ProcedureFile>& procedures);
/// A finding of one of them held against its limit.
InspectedRow judged_finding(const Finding& finding, const joints::Weld& weld, const design::Design& design, const inspection::Demand& demand);
/// True when every finding is accepted, everything is measured, by tools in calibration.
bool is_complete(const InspectionReport& report);

/// A limit in words: "0.3 mm", "short 0.6 mm", "0", "any", "application", "?" where a size is missing.
std::string limit_text(const std::optional<inspection::Bound>& bound);

}  // namespace seamwright::files
