// SPDX-License-Identifier: GPL-3.0-or-later
// Examinations of a test piece with their values, held against ISO 15614-1:2017, level 2, Table 2 and clause 7.5 [from memory]. A signature
// without values decides nothing.
#pragma once

#include <map>

#include "engine/inspection/limits.h"
#include "engine/qualification/proof.h"

namespace seamwright::qualification {

/// An imperfection of ISO 6520-1 that was measured on the test piece.
struct Finding {
  std::string imperfection;
  double value_mm = 0;
};

/// An examination with what it gave. An empty list, or 0, is not stated.
struct Examination {
  std::string method;  ///< "VT", "PT", "MT", "RT", "UT", "tensile", "bend"
  std::string by{}, file{};  ///< who examined; name of the report or picture
  std::optional<Date> on{};
  bool accepted = false;  ///< as its report states
  std::vector<Finding> findings{};
  std::vector<double> strength_mpa{};      ///< of each tensile specimen
  double least_strength_mpa = 0;           ///< specified for the parent metal, the lower of both parts
  std::vector<double> bend_deg{}, flaw_mm{};  ///< of each bend specimen: angle reached, longest single flaw; as many of both
};

/// A pass of the test piece as it was welded.
struct WeldedPass {
  double amperes = 0, volts = 0, speed_mm_s = 0;
  double power_w = 0;  ///< mean instantaneous power of pulsed current: stands above amperes times volts
};

/// All that was seen of a test piece.
struct TestReport {
  std::vector<Examination> examinations;
  std::vector<Macro> macros;
  std::vector<WeldedPass> passes;
  /// "heat", "other_heat", "certificate", "filler_batch", "gas_batch", "witnessed_by", "laboratory": what has to be told years later.
  std::map<std::string, std::string> stated{};
};

/// Heat inputs of passes by a process, kJ/mm: the lowest and the highest. Throws what heat_input() throws.
Range heats_of(const std::string& process, const std::vector<WeldedPass>& passes);

/// Item by item: each examination that the kind of joint asks for, its values against their limits, the heat input against that of the
/// passes, and what is stated of material, filler and witness. Level B of ISO 5817, level C for imperfections 502, 503, 504 and 5214.
/// Not stated: "cannot decide". Hardness is judged apart (hardness_item).
Check examined(const Record& record, const TestReport& report, const std::vector<inspection::Imperfection>& limits);

}  // namespace seamwright::qualification
