// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/files/measured_reader.h"
#include "catalog/files/procedure_reader.h"
#include "engine/inspection/limits.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Fit or unfit before the arc is struck: what is missing, the numbers, and every item against record, weld
/// and welder.
struct ProcedureReport {
  files::ProcedureFile file;
  std::vector<std::string> missing;
  files::ProcedureNumbers numbers;
  qualification::Check record, weld, welder;  ///< empty where not asked for
  std::string weld_id, certificate_id, day;
  qualification::Answer answer = qualification::Answer::yes;
};
/// The worst of all its checks; something missing or without a record cannot be decided.
qualification::Answer answer_of(const ProcedureReport& report);
/// Notes that have to be said of the items of a check, each once.
std::vector<Message> notes_of(const qualification::Check& check);
/// Cautions of the trade, where the hand is.
Caution trade_cautions();
/// Fit, or the first reason why not.
reports::Answer procedure_answer(const ProcedureReport& report);
Document procedure_document(const ProcedureReport& report);

/// One weld with what each certificate says of it.
struct WelderRow {
  std::string weld, procedure;
  std::vector<qualification::Answer> answers;  ///< of each certificate
  std::vector<qualification::Item> reasons;    ///< first reason of each; empty item where covered
  std::string why;                             ///< no procedure named, or not found; "" = there is one
};
struct WeldersReport {
  std::string from, to;
  std::vector<std::string> certificates;  ///< welder and id
  std::vector<WelderRow> rows;
};
Document welders_document(const WeldersReport& report);

/// Measured against limit.
struct InspectedRow {
  files::Finding finding;
  std::string name;  ///< of the imperfection
  char level = 'B';
  std::string asked_by, limit;
  inspection::Judgement judgement = inspection::Judgement::engineer;
};
struct TorqueRow {
  std::string bolts;
  int count = 0;
  double preload_n = 0, torque_nm = 0;  ///< torque NaN: friction or bearing diameter are not stated
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
  std::vector<TorqueRow> torques;
  char tolerance_class = 'B';
  std::vector<ToleranceRow> tolerances;
  std::vector<SpokeRow> spokes;
};
Document inspection_document(const InspectionReport& report);

}  // namespace seamwright::reports
