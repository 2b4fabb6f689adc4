// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/rating/peaks.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The static peak cases: the worst on top, cautions, every case with its most used member and its
/// assumption.
Document peaks_document(const rating::Job& job, const rating::PeakRatings& peaks);

}  // namespace seamwright::reports
