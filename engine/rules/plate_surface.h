// SPDX-License-Identifier: GPL-3.0-or-later
// Points of the IIW at which the stress on a plate's surface is read, and drawn on to the toe.
#pragma once

#include "engine/rules/rule_set.h"

namespace seamwright::rules {

/// IIW 2008, 2.2.3.4, type a, fine mesh [from memory]: 1.67 of the stress at 0.4 t from the toe, less 0.67 of
/// that at 1.0 t; t is the wall of the side that is read.
std::vector<ReadOut> plate_surface_points(const Toe& toe);

}  // namespace seamwright::rules
