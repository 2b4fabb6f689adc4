// SPDX-License-Identifier: GPL-3.0-or-later
// A job's files speak of its procedures and welders; this puts together what they say. Command line and
// window ask the same questions here.
#pragma once

#include "catalog/files/procedure_reader.h"

namespace seamwright::files {

/// A file beside the design of a job: "certificates.toml", "procedures".
std::string path_beside_job(const std::string& job, const std::string& name);
/// Throws Fault "rating.unknown-weld" with the nearest known.
const joints::Weld& weld_of(const design::Design& design, const std::string& id);
/// Refuses an id that no weld, notch or circle of bolts has, as weld_of() does; "" passes.
void require_subject(const design::Design& design, const std::string& id);

/// Fit or unfit before the arc is struck: what is missing, the numbers, and every item against record, weld
/// and welder.
struct ProcedureReport {
  ProcedureFile file;
  std::vector<std::string> missing;
  ProcedureNumbers numbers;
  qualification::Check record, weld, welder;  ///< empty where not asked for
  std::string weld_id, certificate_id, day;
  qualification::Answer answer = qualification::Answer::yes;
};
/// Every item of its checks, in the order in which they are shown.
qualification::Check all_checks_of(const ProcedureReport& report);
/// The worst of all its checks; something missing or without a record cannot be decided.
qualification::Answer answer_of(const ProcedureReport& report);

struct ProcedureQuestion {
  std::string file;         ///< of the procedure
  std::string job;          ///< "" = the folder above the file's
  std::string weld;         ///< "" = on its own
  std::string certificate;  ///< "" = no welder
  qualification::Date on{}, today{};
};
/// Throws the readers' Faults, "rating.unknown-weld", "welders.unknown-certificate".
ProcedureReport procedure_report(const ProcedureQuestion& q);

/// One weld with what each certificate says of it.
struct WelderRow {
  std::string weld, procedure;
  std::vector<qualification::Answer> answers;  ///< of each certificate
  std::vector<qualification::Item> reasons;    ///< first reason of each; empty item where covered
  MessageId why;                               ///< no procedure named, or not found; "" = there is one
};
struct WeldersReport {
  std::string from, to;
  std::vector<std::string> certificates;  ///< welder and id
  std::vector<WelderRow> rows;
};
/// Every weld against every certificate. Throws the readers' Faults.
WeldersReport welders_report(const std::string& job, qualification::Date from, qualification::Date to,
                             qualification::Date today);

}  // namespace seamwright::files
