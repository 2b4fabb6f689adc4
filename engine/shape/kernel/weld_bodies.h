// SPDX-License-Identifier: GPL-3.0-or-later
// Weld metal for finite elements: it ends on the tubes' own faces.
#pragma once

#include <TopoDS_Shape.hxx>
#include <vector>

#include "engine/shape/part.h"
#include "engine/shape/solid.h"

namespace seamwright::shape::kernel {

/// The metal of a fillet; a null shape where nothing could be built.
struct WeldMetal {
  TopoDS_Shape body;
  Rung rung = Rung::exact;
};
/// Never throws. cuts: what other braces take away of it.
WeldMetal weld_metal(const FilletAround& fillet, const std::vector<Cut>& cuts);

}  // namespace seamwright::shape::kernel
