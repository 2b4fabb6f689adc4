// SPDX-License-Identifier: GPL-3.0-or-later
// Parts from the plan.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "engine/shape/fibre.h"
#include "engine/shape/kernel/building.h"
#include "engine/shape/kernel/kernel.h"
#include "engine/shape/kernel/shapes.h"
#include "engine/shape/pieces.h"
#include "engine/shape/quadrature.h"

namespace seamwright::shape::kernel {

namespace {

constexpr double shrink_mm = 0.05;

// A tube's own seam: away from its `up`, where feet and copes like to stand.
Vec3 seam_of(const Stretch& s) { return std::cos(0.7) * s.up + std::sin(0.7) * across(s); }

TopoDS_Shape tube(const Hollow& hollow_part) {
  const std::vector<Stretch>& all = hollow_part.stretches;
  TopoDS_Shape whole;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const double beyond = 2 * outer_radius_mm(all[i].section);
    TopoDS_Shape piece = hollow(all[i], i > 0 ? beyond : 0, i + 1 < all.size() ? beyond : 0, seam_of(all[i]));
    if (i > 0) {
      HalfSpace before = mitre_of(all[i - 1], all[i]);
      before.away = -before.away;
      piece = cut(piece, box(before, 4 * beyond));
    }
    if (i + 1 < all.size()) piece = cut(piece, box(mitre_of(all[i], all[i + 1]), 4 * beyond));
    whole = whole.IsNull() ? piece : fuse(whole, piece);
  }
  return whole;
}

// Where the part that is cut lies, as seen from a tool: the tool's seam is put on the other side.
Vec3 middle_of(const Part& part) {
  if (const auto* h = std::get_if<Hollow>(&part.body))
    return (h->stretches.front().from + h->stretches.back().to) / 2;
  return std::get<Flat>(part.body).plate.origin_mm;
}

double reach_of(const Part& part) {
  double reach = 100;
  if (const auto* h = std::get_if<Hollow>(&part.body))
    for (const Stretch& s : h->stretches) reach += length_mm(s) + outer_radius_mm(s.section);
  return reach;
}

double planned_volume(const Part& part) {
  if (const std::optional<Quantities> q = quadrature(part)) return q->volume_mm3;
  return std::nan("");
}

TopoDS_Shape cut_part(const Part& part, double shrunk) {
  TopoDS_Shape body = std::holds_alternative<Hollow>(part.body) ? tube(std::get<Hollow>(part.body))
                                                                : flat(std::get<Flat>(part.body).plate);
  const Vec3 middle = middle_of(part);
  const double reach = reach_of(part);
  for (const Cut& c : part.cuts) body = cut(body, tool_of(c, middle, reach, shrunk));
  return largest_solid(body);
}

}  // namespace

Built build(const Part& part) {
  double planned = std::nan("");
  std::string why;
  for (const double shrunk : {0.0, shrink_mm}) {
    Built out;
    why = failure_of([&] {
      planned = planned_volume(part);
      const TopoDS_Shape body = cut_part(part, shrunk);
      if (!is_sound(body, planned)) throw std::runtime_error("volume " + std::to_string(volume_mm3(body)) + " mm3");
      out = built(part.id, body, shrunk > 0 ? Rung::shrunk : Rung::exact, planned);
    });
    if (why.empty()) return out;
  }
  return none(part.id, planned, why);
}

}  // namespace seamwright::shape::kernel
