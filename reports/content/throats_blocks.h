// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/study/throat_needs.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The throat that the root of each weld needs, worst first.
Document throats_document(const rating::Job& job, const std::vector<study::ThroatNeed>& needs);

}  // namespace seamwright::reports
