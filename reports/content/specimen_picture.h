// SPDX-License-Identifier: GPL-3.0-or-later
// A test piece as it stands in the rig: its tubes in the plane of brace and chord, what holds it, and the force.
#pragma once

#include "engine/study/test_plan.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

struct SpecimenPicture {
  int reduction = 1;  ///< a mm of the picture for so many of the piece: ISO 5455
  Picture picture;
};
/// Lengths from the node to the edges of clamps and to the line of force. Tubes that leave the plane are drawn as they
/// appear in it.
SpecimenPicture specimen_picture(const study::WeldTest& test);

}  // namespace seamwright::reports
