// SPDX-License-Identifier: GPL-3.0-or-later
// All bodies of a frame together.
#pragma once

#include "engine/shape/solid.h"

namespace seamwright::shape {

/// Parts by the ids of their members, welds by their own.
struct FrameSolids {
  std::vector<Solid> parts, welds;
};

}  // namespace seamwright::shape
