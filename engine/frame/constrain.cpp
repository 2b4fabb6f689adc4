// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/constrain.h"

#include <optional>

namespace seamwright::frame {
namespace {

using HingeOf = std::vector<std::optional<std::size_t>>;

HingeOf hinge_of_second(const Relations& r) {
  HingeOf hinge(r.nodes);
  for (std::size_t h = 0; h < r.hinges.size(); ++h) hinge[r.hinges[h].second] = h;
  return hinge;
}

/// A chain leads from a node to the first node of its hinges; the hinges passed stand nearest first.
struct Chain {
  std::size_t root = 0;
  std::vector<std::size_t> hinges;
};

Chain chain_of(std::size_t node, const Relations& r, const HingeOf& hinge_of) {
  Chain chain{node, {}};
  while (hinge_of[chain.root]) {
    const std::size_t hinge = *hinge_of[chain.root];
    chain.hinges.push_back(hinge);
    if (chain.hinges.size() > r.hinges.size())
      throw Fault{Message{"frame.hinge-cycle", {text("hinge", r.hinges[hinge].id)}}};
    chain.root = r.hinges[hinge].first;
  }
  return chain;
}

/// Columns of the independent motions; -1 where there is none.
struct Columns {
  std::vector<Eigen::Index> free, held, hinge;
  Eigen::Index free_count = 0, held_count = 0;
};

Columns number_columns(Assembly& a, const Relations& r, const std::vector<Chain>& chains) {
  const auto full = static_cast<std::size_t>(a.full_size);
  Columns c{std::vector<Eigen::Index>(full, -1), std::vector<Eigen::Index>(full, -1),
            std::vector<Eigen::Index>(r.hinges.size(), -1)};
  std::vector<bool> turned(r.nodes, false), hinge_turned(r.hinges.size(), false);
  for (std::size_t n = 0; n < r.nodes; ++n) {
    if (!r.turned[n]) continue;
    turned[chains[n].root] = true;
    for (const std::size_t h : chains[n].hinges) hinge_turned[h] = true;
  }
  for (std::size_t n = 0; n < r.nodes; ++n) {
    if (!chains[n].hinges.empty()) continue;
    for (std::size_t i = 0; i < 6; ++i) {
      if (r.fixed[n][i]) {
        c.held[6 * n + i] = c.held_count++;
        a.held_dofs.push_back(static_cast<Eigen::Index>(6 * n + i));
      } else if (i < 3 || turned[n]) {
        c.free[6 * n + i] = c.free_count++;
      }
    }
  }
  for (std::size_t h = 0; h < r.hinges.size(); ++h) {
    if (!hinge_turned[h]) continue;
    a.hinges.push_back({r.hinges[h].id, c.free_count});
    c.hinge[h] = c.free_count++;
  }
  for (std::size_t i = 6 * r.nodes; i < full; ++i) c.free[i] = c.free_count++;
  return c;
}

}  // namespace

void constrain(Assembly& a, const Relations& r) {
  const HingeOf hinge_of = hinge_of_second(r);
  std::vector<Chain> chains;
  for (std::size_t n = 0; n < r.nodes; ++n) chains.push_back(chain_of(n, r, hinge_of));
  const Columns c = number_columns(a, r, chains);
  Triplets expand, held;
  const auto enter = [&](std::size_t row, std::size_t from) {
    const auto to = static_cast<Eigen::Index>(row);
    if (c.free[from] >= 0) expand.emplace_back(to, c.free[from], 1.0);
    if (c.held[from] >= 0) held.emplace_back(to, c.held[from], 1.0);
  };
  for (std::size_t n = 0; n < r.nodes; ++n) {
    for (std::size_t i = 0; i < 6; ++i) enter(6 * n + i, 6 * chains[n].root + i);
    for (const std::size_t h : chains[n].hinges)
      for (Eigen::Index i = 0; i < 3; ++i)
        if (c.hinge[h] >= 0 && r.hinges[h].axis[i] != 0)
          expand.emplace_back(6 * static_cast<Eigen::Index>(n) + 3 + i, c.hinge[h], r.hinges[h].axis[i]);
  }
  for (auto i = 6 * r.nodes; i < static_cast<std::size_t>(a.full_size); ++i) enter(i, i);
  a.expand.resize(a.full_size, c.free_count);
  a.expand.setFromTriplets(expand.begin(), expand.end());
  a.held.resize(a.full_size, c.held_count);
  a.held.setFromTriplets(held.begin(), held.end());
}

}  // namespace seamwright::frame
