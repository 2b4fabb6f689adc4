// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/kernel/building.h"

#include <BRepCheck_Analyzer.hxx>
#include <algorithm>
#include <cmath>

#include "engine/shape/kernel/shapes.h"

namespace seamwright::shape::kernel {

TopoDS_Shape tool_of(const Cut& c, const Vec3& middle, double reach, double shrunk) {
  if (const auto* space = std::get_if<HalfSpace>(&c.tool)) return box(*space, reach);
  const Stretch& s = std::get<Stretch>(c.tool);
  return filled(s, shrunk, s.from - middle);
}

bool is_sound(const TopoDS_Shape& body, double planned) {
  if (!BRepCheck_Analyzer(body).IsValid()) return false;
  return std::isnan(planned) || std::abs(volume_mm3(body) - planned) < std::max(1.0, planned / 1000);
}

Built built(const std::string& id, const TopoDS_Shape& body, Rung rung, double planned) {
  Built b;
  b.solid = {id, rung, quantities(body), planned, mesh(body)};
  b.body = text_of(body);
  return b;
}

Built none(const std::string& id, double planned, const std::string& why) {
  Built b;
  b.solid.id = id;
  b.solid.rung = Rung::none;
  b.solid.planned_mm3 = planned;
  b.why = why;
  return b;
}

}  // namespace seamwright::shape::kernel
