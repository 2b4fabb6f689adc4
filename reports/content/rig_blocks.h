// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/measured/rig_rating.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// Rig cases beside the service: does the frame pass, and what in the rig equals the service.
Document rig_document(const rating::Rating& service, const std::vector<measured::RigResult>& results);

}  // namespace seamwright::reports
