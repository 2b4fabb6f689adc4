// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/loads/stability.h"
#include "engine/rating/job.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Tip-over and braking limits: the lowest threshold on top, cautions, every payload at every steering angle.
Document stability_document(const design::Design& design, const loads::Stability& stability, double friction);

}  // namespace seamwright::reports
