// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::design {
struct Design;
}

namespace seamwright::rating {

/// The faults of the frame's shape, with any of which no frame meets: what forbids a weld (shape::weld_findings, without what a
/// preparation mends), and "shape.turned-clash" for two parts that lie in each other with the front turned, at the smallest angle
/// where any do, of every ten degrees from stop to stop. "shape.stops-unknown" for a
/// hinge that steers and whose stops no steering states. Links are left out: they stand for what holds the steering. Throws what
/// loads::steered_frame() throws.
std::vector<Message> shape_findings(const design::Design& design);

}  // namespace seamwright::rating
