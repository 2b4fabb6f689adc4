// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/models/joint_report.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// A joint's model beside the equations; of one weld alone where it is named.
Document joint_document(const models::JointReport& report, const std::string& weld);

}  // namespace seamwright::reports
