// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <numeric>
#include <set>
#include <utility>

#include "engine/frame/check.h"
#include "engine/frame/frame.h"

namespace seamwright::frame {
namespace {

/// Union-find over nodes.
class Groups {
 public:
  explicit Groups(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0U); }
  std::size_t root_of(std::size_t node) {
    while (parent_[node] != node) node = parent_[node] = parent_[parent_[node]];
    return node;
  }
  void join(std::size_t a, std::size_t b) { parent_[root_of(a)] = root_of(b); }

 private:
  std::vector<std::size_t> parent_;
};

Groups groups_of(const std::vector<std::pair<std::size_t, std::size_t>>& pairs, std::size_t count) {
  Groups groups(count);
  for (const auto& [a, b] : pairs) groups.join(a, b);
  return groups;
}

std::vector<std::pair<std::size_t, std::size_t>> hinge_pairs(const Frame& frame, const Names& names) {
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (const Hinge& h : frame.hinges) pairs.emplace_back(names.nodes.at(h.first), names.nodes.at(h.second));
  return pairs;
}

void check_doubled(const Frame& frame, const Names& names) {
  Groups hinged = groups_of(hinge_pairs(frame, names), frame.nodes.size());
  std::vector<std::size_t> order(frame.nodes.size());
  std::iota(order.begin(), order.end(), 0U);
  const auto x = [&](std::size_t i) { return frame.nodes[i].position_mm.x(); };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return x(a) < x(b); });
  for (std::size_t i = 0; i < order.size(); ++i)
    for (std::size_t j = i + 1; j < order.size() && x(order[j]) - x(order[i]) <= same_place_mm; ++j) {
      const Node &a = frame.nodes[order[i]], &b = frame.nodes[order[j]];
      if ((a.position_mm - b.position_mm).norm() <= same_place_mm &&
          hinged.root_of(order[i]) != hinged.root_of(order[j]))
        throw Fault{Message{"frame.doubled-node", {text("first", a.id), text("second", b.id)}}};
    }
}

void check_used(const Frame& frame) {
  std::set<std::string> used;
  for (const Member& m : frame.members) used.insert(m.nodes.begin(), m.nodes.end());
  for (const Hinge& h : frame.hinges) used.insert({h.first, h.second});
  for (const JointBody& b : frame.bodies)
    for (const JointBody::End& e : b.ends) used.insert(e.node);
  for (const Node& n : frame.nodes)
    if (!used.contains(n.id)) throw Fault{Message{"frame.unused-node", {text("node", n.id)}}};
}

/// Names the smallest piece when there is more than one.
void check_one_piece(const Frame& frame, const Names& names) {
  auto pairs = hinge_pairs(frame, names);
  for (const Member& m : frame.members)
    for (std::size_t i = 1; i < m.nodes.size(); ++i)
      pairs.emplace_back(names.nodes.at(m.nodes[i - 1]), names.nodes.at(m.nodes[i]));
  for (const JointBody& b : frame.bodies)
    for (const JointBody::End& e : b.ends)
      for (const std::string& n : b.nodes) pairs.emplace_back(names.nodes.at(e.node), names.nodes.at(n));
  Groups groups = groups_of(pairs, frame.nodes.size());
  std::map<std::size_t, std::vector<std::string>> pieces;
  for (std::size_t i = 0; i < frame.nodes.size(); ++i) pieces[groups.root_of(i)].push_back(frame.nodes[i].id);
  if (pieces.size() < 2) return;
  const auto loose = std::min_element(pieces.begin(), pieces.end(), [](const auto& a, const auto& b) {
    return a.second.size() < b.second.size();
  });
  std::vector<std::string> members;
  for (const Member& m : frame.members)
    if (groups.root_of(names.nodes.at(m.nodes.front())) == loose->first) members.push_back(m.id);
  throw Fault{Message{"frame.loose-part",
                      {text("nodes", list_of(loose->second)), text("members", list_of(members))}}};
}

}  // namespace

void check_connected(const Frame& frame, const Names& names) {
  check_doubled(frame, names);
  check_used(frame);
  check_one_piece(frame, names);
}

std::string list_of(const std::vector<std::string>& ids) {
  constexpr std::size_t most = 8;
  std::string list;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    if (i > 0) list += ", ";
    if (i == most) return list + "...";
    list += ids[i];
  }
  return list;
}

}  // namespace seamwright::frame
