// SPDX-License-Identifier: GPL-3.0-or-later
// The test pieces that a job asks for, and the signatures that its certificates need next.
#pragma once

#include "catalog/files/procedure_reader.h"
#include "engine/qualification/test_pieces.h"

namespace seamwright::files {

struct TestPieceReport {
  std::vector<std::string> welds;  ///< ids, in the order of the design
  qualification::PiecePlan<qualification::ProcedurePiece> procedures;
  qualification::PiecePlan<qualification::WelderPiece> welders;
};
/// Plans for all welds of a job with the procedures that they name. Throws the readers' Faults.
TestPieceReport test_piece_report(const std::string& job, qualification::Date today);

/// A signature or a calibration that is due.
struct DueRow {
  enum class What { confirmation, prolongation, calibration } what = What::confirmation;
  std::string id, who;  ///< of the certificate and its welder; of the tool and its name
  qualification::Date on{};
  bool lapsed = false;  ///< that day is past
  int days = 0;         ///< from the day asked to that day; negative where it is past
};
/// Gives those of certificates.toml, the earliest first. Revoked certificates have none. Throws the readers' Faults.
std::vector<DueRow> due_rows(const std::string& job, qualification::Date day, qualification::Date today);

}  // namespace seamwright::files
