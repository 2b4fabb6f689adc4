// SPDX-License-Identifier: GPL-3.0-or-later
// Sheets for the saw, the notcher and the table on which a frame is set up; drawings.
#pragma once

#include "catalog/files/parameter_reach.h"
#include "engine/shape/cope.h"
#include "engine/shape/cut_list.h"
#include "engine/shape/fixture.h"
#include "reports/content/joint_drawing.h"
#include "reports/sheets/sheets.h"

namespace seamwright::reports {

/// Lengths, angles and turns of all cuts, then every template in true scale on pages that both A4 and Letter
/// hold, a bar on each to check the printer by.
Document templates_sheet(const design::Design& design, const std::vector<shape::Blank>& blanks,
                         const Anchor& anchor);
/// Lengths and cuts of all tubes.
Table lengths_table(const std::vector<shape::Blank>& blanks);

/// The frame in a standard scale, a view on each page with what its parameters set and what it measures over all, then
/// the parameters.
Document drawing_sheet(const design::Design& design, const std::vector<files::ParameterReach>& reaches,
                       const Anchor& anchor, const DrawnViews* views = nullptr);

/// One joint in a standard scale: sizes, angle and throat on its views, then what else holds of the weld.
Document joint_sheet(const design::Design& design, const joints::Weld& weld, const DrawnJoint& drawn,
                     const Anchor& anchor);

/// Bars to buy, and what is cut from each. A piece longer than the stock makes it a finding.
Document cut_list_sheet(const design::Design& design, const std::vector<shape::Blank>& blanks,
                        const shape::CutList& list, const Anchor& anchor);

/// Most that an axis may lie off, at its ends, and lean; class of ISO 13920 for all other lengths.
struct FixtureTolerance {
  char length_class = 'B';
  double axis_mm = 0.5, axis_deg = 0.5;  ///< common practice, without a source
};
Document fixture_sheet(const design::Design& design, const std::vector<shape::Weldment>& weldments,
                       const FixtureTolerance& tolerance, const Anchor& anchor);

}  // namespace seamwright::reports
