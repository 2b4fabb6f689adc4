// SPDX-License-Identifier: GPL-3.0-or-later
// A preliminary procedure begun for welds of a job, and a certificate entered, as texts of the job's folder.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "catalog/files/wording.h"
#include "engine/evidence/evidence.h"

namespace seamwright::design {
struct Design;
}

namespace seamwright::files {

/// A procedure starts from one of these: settings of common practice without a published source.
struct ProcedureStart {
  const char* id;   ///< "tig-thin"
  MessageId name;
  const char* file; ///< built in
};
inline constexpr std::array procedure_starts{ProcedureStart{"tig-thin", "start.tig-thin", "pattern/procedures/tig-thin.toml"},
                                             ProcedureStart{"tig-thick", "start.tig-thick", "pattern/procedures/tig-thick.toml"},
                                             ProcedureStart{"mag-thin", "start.mag-thin", "starts/mag-thin.toml"}};

struct NewProcedure {
  std::string id, name, maker;     ///< name and maker "" = those of the start
  std::string like = "tig-thin";   ///< a start
  std::string filler;              ///< "" = that of the start
  std::vector<std::string> welds;  ///< its ranges are those of these welds; at least one, all of one kind of joint
  Wording wording = {};            ///< the language of what the start says
};
/// The text of a procedure file. Its ranges of walls, diameters, angle and throat thickness are the least that cover the welds. It is preliminary: it
/// states no record. Throws Fault "rating.unknown-weld", "start.unknown", "start.no-weld" and "start.mixed-joints".
std::string procedure_text(const NewProcedure& wanted, const design::Design& design);
/// Writes it into the job's folder procedures and returns the file's name. Throws what procedure_text() and the readers throw, and Fault
/// "procedure.doubled" where the job has that id; the folder is then as it was.
std::string begin_procedure(const std::string& job, const NewProcedure& wanted);

/// A welder's certificate as it stands on the paper.
struct NewCertificate {
  std::string id, welder, designation, tested, route = "b";
  std::string employer;  ///< of a job that has no certificates yet
};
/// Adds it to the job's certificates.toml. Throws the readers' Faults; the file is then as it was.
void add_certificate(const std::string& job, const NewCertificate& wanted);

}  // namespace seamwright::files
