// SPDX-License-Identifier: GPL-3.0-or-later
// Peak hardness of the heat-affected zone, HV10, by three published formulas side by side, and what is
// allowed.
#pragma once

#include <optional>
#include <string>

#include "engine/procedure/carbon.h"

namespace seamwright::procedure {

/// Yurioka et al., Metal Construction 19 (1987) 217R (second equivalent from memory); Dueren, IIW Doc.
/// IX-1437-86 (from memory), within its bounds of all martensite and all bainite; Suzuki, IIW Doc. IX-1351-85
/// (constants from memory). The verdict stands on the highest. Range: C up to 0.8 % (Yurioka). Throws Fault
/// "procedure.bad-number" for a time that is not positive.
struct Hardness {
  double yurioka = 0, dueren = 0, suzuki = 0, highest = 0;
  Evidence evidence;
};
Hardness peak_hardness(const Chemistry& steel, double cooling_s);

/// Limit of ISO 15614-1:2017, Table 3 for a group of ISO/TR 15608 ("1.2", "5.1", "3.2"), HV10; nothing where
/// it is to be agreed or the table has no such group. From memory but for groups 1 to 3 as welded.
std::optional<double> hardness_limit(const std::string& group, bool heat_treated);

}  // namespace seamwright::procedure
