// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/parameter_dimensions.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/frame/frame.h"

namespace seamwright::reports {

namespace {

constexpr double still = 1e-6, whole = 1e-4;  // mm for a mm: of what stays, and off one
constexpr double same_mm = 1e-3;

// Pairs of one parameter are compared by their rank, then by how far their dimension would stand from them.
struct Candidate {
  int rank = 0;
  double away_mm = 0;
  ParameterDimension dimension;
};

struct Search {
  const std::vector<frame::Node>& nodes;
  const files::ParameterReach& reach;
  frame::Vec3 least, most;
  std::optional<Candidate> best{};

  // Lengths stand below the side view; heights and widths beside the frame.
  double away_mm(int axis, const frame::Vec3& from, const frame::Vec3& to) const {
    const auto beside = [&](const frame::Vec3& p) { return std::min(p.x() - least.x(), most.x() - p.x()); };
    return axis == 0 ? from.z() + to.z() - 2 * least.z() : beside(from) + beside(to);
  }
  void offer(int rank, int axis, const frame::Vec3& from, const frame::Vec3& to, bool both_sides) {
    Candidate c{rank, away_mm(axis, from, to), {reach.name, reach.value, axis, from, to, both_sides}};
    if (!best || std::pair(c.rank, c.away_mm) < std::pair(best->rank, best->away_mm - same_mm)) best = std::move(c);
  }
  bool is_apart(double distance_mm) const { return std::abs(std::abs(distance_mm) - std::abs(reach.value)) < same_mm; }

  void look_from(std::size_t i, int axis) {
    const frame::Vec3& place = nodes[i].position_mm;
    const double moves = reach.moves[i][axis];
    if (std::abs(std::abs(moves) - 1) > whole) return;
    frame::Vec3 origin = place, image = place;
    origin[axis] = 0;
    image[axis] = -place[axis];
    for (std::size_t k = 0; k < nodes.size(); ++k) {
      const frame::Vec3& other = nodes[k].position_mm;
      if (axis == 1 && place[axis] > 0 && is_apart(place[axis]) && (other - image).norm() < same_mm &&
          std::abs(reach.moves[k][axis] + moves) < whole)
        offer(0, axis, other, place, true);
      if (std::abs(reach.moves[k][axis]) < still && is_apart(place[axis] - other[axis]))
        offer(std::abs(other[axis]) < same_mm ? 1 : 3, axis, other, place, false);
    }
    if (is_apart(place[axis])) offer(2, axis, origin, place, false);
  }
};

}  // namespace

std::vector<ParameterDimension> parameter_dimensions(const frame::Frame& frame,
                                                     const std::vector<files::ParameterReach>& reaches) {
  std::vector<ParameterDimension> all;
  if (frame.nodes.empty()) return all;
  frame::Vec3 least = frame.nodes[0].position_mm, most = least;
  for (const frame::Node& n : frame.nodes) {
    least = least.cwiseMin(n.position_mm);
    most = most.cwiseMax(n.position_mm);
  }
  for (const files::ParameterReach& reach : reaches) {
    Search search{frame.nodes, reach, least, most};
    if (reach.moves.size() == frame.nodes.size())
      for (std::size_t i = 0; i < frame.nodes.size(); ++i)
        for (int axis = 0; axis < 3; ++axis) search.look_from(i, axis);
    all.push_back(search.best ? search.best->dimension : ParameterDimension{reach.name, reach.value});
  }
  return all;
}

}  // namespace seamwright::reports
