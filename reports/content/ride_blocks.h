// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/files/recorded_ride.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// These should be looked at before the recording is trusted, one message each.
std::vector<Message> ride_checks(const files::Ride& ride);

Document ride_document(const files::Ride& ride);

}  // namespace seamwright::reports
