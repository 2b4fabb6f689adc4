// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/slit.h"

#include <algorithm>
#include <map>
#include <set>

namespace seamwright::solid {

namespace {

// Parts at one node, put together where fused: each part with the least of its group.
std::map<int, int> groups_of(const std::set<int>& parts, const std::vector<std::pair<int, int>>& fused) {
  std::map<int, int> group;
  for (const int p : parts) group[p] = p;
  for (bool changed = true; changed;) {
    changed = false;
    for (const auto& [a, b] : fused)
      if (group.contains(a) && group.contains(b) && group[a] != group[b]) {
        group[a] = group[b] = std::min(group[a], group[b]);
        changed = true;
      }
  }
  return group;
}

}  // namespace

int open_slits(TetMesh& mesh, const std::vector<PieceRole>& roles, const std::vector<std::pair<int, int>>& fused) {
  const auto role = [&](std::size_t tet) -> const PieceRole& { return roles[static_cast<std::size_t>(mesh.piece[tet])]; };
  std::vector<std::set<int>> members(static_cast<std::size_t>(mesh.nodes.cols()));
  std::vector<bool> joined(members.size(), false);
  for (std::size_t t = 0; t < mesh.tets.size(); ++t)
    for (const int n : mesh.tets[t]) {
      if (role(t).kind == PieceKind::member)
        members[static_cast<std::size_t>(n)].insert(role(t).part);
      else
        joined[static_cast<std::size_t>(n)] = true;
    }
  std::map<std::pair<int, int>, int> copy;  // of a node, for a group of parts
  std::vector<int> from;
  const auto count = static_cast<int>(mesh.nodes.cols());
  for (int n = 0; n < count; ++n) {
    const std::set<int>& parts = members[static_cast<std::size_t>(n)];
    if (joined[static_cast<std::size_t>(n)] || parts.size() < 2) continue;
    const std::map<int, int> group = groups_of(parts, fused);
    for (const auto& [part, first] : group) {
      if (first == *parts.begin()) continue;
      const auto [place, fresh] = copy.try_emplace({n, first}, count + static_cast<int>(from.size()));
      if (fresh) from.push_back(n);
      copy[{n, part}] = place->second;
    }
  }
  for (std::size_t t = 0; t < mesh.tets.size(); ++t)
    if (role(t).kind == PieceKind::member)
      for (int& n : mesh.tets[t])
        if (const auto found = copy.find({n, role(t).part}); found != copy.end()) n = found->second;
  mesh.nodes.conservativeResize(Eigen::NoChange, count + static_cast<Eigen::Index>(from.size()));
  for (std::size_t i = 0; i < from.size(); ++i) mesh.nodes.col(count + static_cast<Eigen::Index>(i)) = mesh.nodes.col(from[i]);
  return static_cast<int>(from.size());
}

}  // namespace seamwright::solid
