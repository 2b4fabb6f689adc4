// SPDX-License-Identifier: GPL-3.0-or-later
// Macro sections of a procedure's record prove a weld as far as the ranges of the record reach.
#pragma once

#include "engine/qualification/stated_procedure.h"

namespace seamwright::qualification {

struct Macro {
  std::string id;
  bool fused = false;  ///< root
  std::string place;   ///< "crown", "saddle" of a branch; "" = elsewhere or not told
  double leg_mm = 0, throat_mm = 0;
  std::string by{}, file{};  ///< who made it; name of its picture
  double penetration_mm = 0;  ///< so far the weld reaches into the brace's end face from its outer surface; 0 = not measured
};

/// The section is fused through, or at least as deep as this.
bool reaches(const Macro& macro, double fusion_mm);

/// The shop's rule for branches (common practice): a butt test covers them by the standard but shows neither
/// root nor throat at a tube node, so a branch piece is asked for, with macros at crown and saddle, and below
/// 60 degrees a piece of ISO 15613. What is missing is "cannot decide"; "yes" with the reason where the sheet
/// waives the rule. Empty for other joints.
Check node_rule(const Sheet& sheet, const Record* record, const std::vector<Macro>& macros);

/// Says why no macro shows that the root of a weld is fused; nothing when one does. The proof ends
/// where the ranges of its record end; only the kind of joint that was tested is proven; a branch is proven
/// where its record has macros at both crowns and at both saddles and all of them are fused.
std::optional<Message> root_doubt(const Record* record, const std::vector<Macro>& macros,
                                  const std::string& id, const Variables& asked);

/// The same for a root that is fused as deep as this, and open beyond: all macros of the record are fused or reach as deep, two at crowns
/// and two at saddles among them.
std::optional<Message> fusion_doubt(const Record* record, const std::vector<Macro>& macros,
                                    const std::string& id, const Variables& asked, double fusion_mm);

}  // namespace seamwright::qualification
