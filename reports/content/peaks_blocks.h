// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/strength/peak_rating.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The static peak cases: the worst on top, cautions, every case with its most used member and its
/// assumption.
Document peaks_document(const rating::Job& job, const strength::PeakRatings& peaks);

}  // namespace seamwright::reports
