// SPDX-License-Identifier: GPL-3.0-or-later
// Steps that the builders of parts and of weld bodies share.
#pragma once

#include <TopoDS_Shape.hxx>
#include <string>

#include "engine/shape/part.h"
#include "engine/shape/solid.h"

namespace seamwright::shape::kernel {

/// A cut takes this away. middle: of the body that is cut; a tool's seam is put on the other side.
TopoDS_Shape tool_of(const Cut& cut, const Vec3& middle, double reach_mm, double shrunk_mm);
/// Valid, and within a thousandth of the planned volume where there is one.
bool is_sound(const TopoDS_Shape& body, double planned_mm3);
Built built(const std::string& id, const TopoDS_Shape& body, Rung rung, double planned_mm3);
Built none(const std::string& id, double planned_mm3, const std::string& why);

}  // namespace seamwright::shape::kernel
