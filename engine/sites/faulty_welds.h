// SPDX-License-Identifier: GPL-3.0-or-later
// Faults of a finished weld that no published rule takes, as the sites that they reach note them.
#pragma once

#include <array>

#include "engine/evidence/evidence.h"

namespace seamwright::sites {

enum class WeldFault { undercut, cap_without_width, cap, offset, rejected, not_rated };

/// A site says by these notes that a fault leaves it with a bound or without a life; in the order above.
inline constexpr std::array<MessageId, 6> notes_of_faults{"as-built.undercut", "as-built.cap-without-width",
                                                          "as-built.cap",      "as-built.offset",
                                                          "as-built.rejected", "as-built.not-rated"};

}  // namespace seamwright::sites
