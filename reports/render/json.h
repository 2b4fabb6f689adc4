// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "engine/rating/rate.h"

namespace seamwright::reports {

/// "seamwright.rating/1"; numbers that are not finite become null.
std::string to_json(const rating::Rating& rating);

}  // namespace seamwright::reports
