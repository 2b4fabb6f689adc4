// SPDX-License-Identifier: GPL-3.0-or-later
// The qualification record of a procedure, entered as it was welded and examined: a text behind the procedure in its file.
#pragma once

#include <string>

#include "catalog/files/procedure_reader.h"

namespace seamwright::files {

/// A test piece as a person tells it. All that the procedure fixes (process, groups, filler, gas, current, sides) is the procedure's.
struct NewRecord {
  std::string id, date, signed_by;  ///< date as 2025-03-10
  qualification::Record record;     ///< level, route, hardness and what was welded: sizes, positions, preheat, interpass
  qualification::TestReport test;
  std::vector<std::pair<std::string, double>> chemistry;  ///< "C", "Mn" ..., %, of the tubes' certificate; for a procedure that states none
  bool takes_ranges = false;  ///< the procedure's sizes become what the record reaches, as far as both ends are finite
};

/// The piece to weld for a procedure: the first of the fewest pieces for the job's welds by it; without any, the middle of its ranges.
/// Nothing is told of what it showed. Throws the readers' Faults.
NewRecord expected_record(const std::string& job, const ProcedureFile& procedure, qualification::Date today);

/// The text of the procedure's file with the record. Its heat input is that of its coldest pass: to leave a pass out never widens the range.
/// Throws Fault "record.exists" where the file has one, "record.no-pass" without a pass, and what heats_of() and the readers throw.
std::string text_with_record(const std::string& content, const ProcedureFile& procedure, const NewRecord& wanted);

/// A procedure as its text would read. Throws the reader's Faults, "file.doubled-id" too.
ProcedureFile procedure_of_text(const std::string& path, const std::string& content, qualification::Date today);

}  // namespace seamwright::files
