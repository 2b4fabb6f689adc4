// SPDX-License-Identifier: GPL-3.0-or-later
// Procedures, their qualification records and certificates of welders: procedures/*.toml and
// certificates.toml of a job.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/files/reader.h"
#include "catalog/files/source.h"
#include "engine/procedure/carbon.h"
#include "engine/qualification/examination.h"

namespace seamwright::design {
struct Design;
}
namespace seamwright::joints {
struct Weld;
}

namespace seamwright::files {

struct ProcedureFile {
  std::string path;  ///< name of the file
  qualification::Sheet sheet;
  std::optional<qualification::Record> record;  ///< where the file holds it
  std::optional<procedure::Chemistry> steel;    ///< of the certificate, or worst of the standard
  qualification::TestReport test;               ///< of that record: what its test piece showed
  double hydrogen_ml = 0;                       ///< ml/100 g; 0 = not stated
};
/// Every error is a Fault with file, line and key: low above high, a position that the process cannot weld, a
/// date in the future of `today` among them.
ProcedureFile read_procedure(const SourceFile& file, qualification::Date today);
/// All of a job's folder, by file name; none when the folder is not there. Throws "file.doubled-id" for a
/// procedure that stands twice.
std::vector<ProcedureFile> read_procedures(const SourceFile& folder, qualification::Date today);

/// Numbers of a procedure that its check shows. Cooling and hardness: at the lowest heat on the thickest
/// wall, where a zone is hardest, and at the highest heat on the thinnest, where it is softest.
struct ProcedureNumbers {
  std::vector<qualification::RunHeat> runs;
  double lowest_heat = 0, highest_heat = 0;  ///< of all runs, kJ/mm; 0 = not known
  std::vector<Evidence> evidence;            ///< equivalents, cooling, hardness, preheat: what can be told
  qualification::Check hardness;             ///< measured, and foretold, against the limit of the groups
  qualification::Check plausibility;         ///< what cannot be, and what is unusual
  qualification::Check node;                 ///< the shop's rule for tube nodes; empty for other joints
  qualification::Check examined;             ///< the test piece's examinations; empty without a record
};
ProcedureNumbers numbers_of(const ProcedureFile& file);
/// All that decides whether the procedure is qualified: record, hardness, plausibility, rule for tube nodes.
qualification::Check qualified(const ProcedureFile& file, const ProcedureNumbers& numbers);

/// certificates.toml: the shop's name as employer, and the certificates.
struct Tool {
  std::string id, name;
  qualification::Date due{};  ///< last day of its calibration
};
struct Certificates {
  std::string employer;
  std::vector<Tool> tools;
  std::vector<qualification::Certificate> all;
};
Certificates read_certificates(const SourceFile& file, qualification::Date today);

/// The key "positions": positions of ISO 6947. Throws "file.unknown-id" with the nearest for any other.
std::vector<std::string> known_positions(Reader& reader);

/// Sizes of a weld of the design as procedures count them.
qualification::JointSizes sizes_of(const design::Design& design, const joints::Weld& weld);

}  // namespace seamwright::files
