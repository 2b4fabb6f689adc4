// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/design/member_ends.h"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace seamwright::design {

namespace {

using End = OpenEnd::Part;

struct Arrival {
  const frame::Member* member = nullptr;
  End part = End::start;
};

std::vector<Arrival> arrivals_at(const Design& design, const std::string& node) {
  std::vector<Arrival> all;
  for (const frame::Member& m : design.frame.members)
    for (std::size_t i = 0; i < m.nodes.size(); ++i)
      if (m.nodes[i] == node)
        all.push_back({&m, i == 0 ? End::start : i + 1 == m.nodes.size() ? End::end : End::through});
  return all;
}

// Held by bolts, or by a pin at each end of a link.
bool is_fastened(const Design& design, const Arrival& a) {
  const auto bolted = [&](const BoltCircle& b) {
    return b.member == a.member->id && b.at_start == (a.part == End::start);
  };
  return a.part != End::through &&
         (a.member->axial_only || std::any_of(design.bolts.begin(), design.bolts.end(), bolted));
}

bool is_declared(const Design& design, const Arrival& a, const std::string& node) {
  return a.part != End::through &&
         std::any_of(design.unwelded_ends.begin(), design.unwelded_ends.end(), [&](const UnweldedEnd& e) {
           return e.member == a.member->id && e.node == node && e.continues.empty();
         });
}

bool is_welded(const Design& design, const Arrival& a, const std::string& node) {
  return std::any_of(design.welds.begin(), design.welds.end(), [&](const joints::Weld& w) {
    return w.node == node && w.member == a.member->id && a.part == (w.at_start ? End::start : End::end);
  });
}

// Members at one node, put together as far as something joins them. The last place stands for a part that is
// no member: the plate, the flange or the other tube of a joint without a chord.
struct Node {
  std::vector<Arrival> arrivals;
  std::vector<std::size_t> leader;

  explicit Node(std::vector<Arrival> all) : arrivals(std::move(all)), leader(arrivals.size() + 1) {
    std::iota(leader.begin(), leader.end(), std::size_t{0});
  }
  std::size_t hub() const { return arrivals.size(); }
  std::size_t group_of(std::size_t i) const {
    while (leader[i] != i) i = leader[i];
    return i;
  }
  void join(std::size_t a, std::size_t b) { leader[group_of(a)] = group_of(b); }
  // The place of a member that ends here; the hub where it stands apart or is not here.
  std::size_t place(const std::string& member) const {
    const auto at = std::find_if(arrivals.begin(), arrivals.end(),
                                 [&](const Arrival& a) { return a.member->id == member; });
    return static_cast<std::size_t>(at - arrivals.begin());
  }
};

void join_welds(const Design& design, const std::string& node, Node& n) {
  for (const joints::Weld& w : design.welds)
    for (std::size_t i = 0; i < n.arrivals.size(); ++i) {
      const Arrival& a = n.arrivals[i];
      if (w.node == node && w.member == a.member->id && a.part == (w.at_start ? End::start : End::end))
        n.join(i, w.chord.empty() ? n.hub() : n.place(w.chord));
    }
  for (const UnweldedEnd& e : design.unwelded_ends)
    if (e.node == node && !e.continues.empty()) n.join(n.place(e.member), n.place(e.continues));
}

// The main group of several: the others hang loose on the one with most members, with the part that is no
// member, or with a member that goes on.
std::size_t main_group(const Node& n) {
  std::size_t best = n.hub();
  std::tuple<std::ptrdiff_t, bool, bool> most{-1, false, false};
  for (std::size_t g = 0; g <= n.hub(); ++g) {
    if (n.group_of(g) != g) continue;
    std::ptrdiff_t count = 0;
    bool through = false;
    for (std::size_t i = 0; i < n.hub(); ++i)
      if (n.group_of(i) == g) {
        ++count;
        through = through || n.arrivals[i].part == End::through;
      }
    const std::tuple rank{count, n.group_of(n.hub()) == g, through};
    if (rank > most) {
      most = rank;
      best = g;
    }
  }
  return best;
}

}  // namespace

const char* name_of(OpenEnd::Part part) {
  switch (part) {
    case OpenEnd::Part::start:
      return "start";
    case OpenEnd::Part::end:
      return "end";
    case OpenEnd::Part::through:
      return "through";
  }
  return "";
}

std::vector<OpenEnd> open_ends(const Design& design) {
  std::vector<OpenEnd> open;
  for (const frame::Node& node : design.frame.nodes) {
    std::vector<Arrival> arrivals = arrivals_at(design, node.id);
    std::erase_if(arrivals, [&](const Arrival& a) { return is_fastened(design, a); });
    const std::size_t declared =
        std::erase_if(arrivals, [&](const Arrival& a) { return is_declared(design, a, node.id); });
    if (arrivals.size() < 2) {  // what the declared end meets is held by itself, or is declared too
      for (const Arrival& a : arrivals)
        if (declared > 0 && a.part != End::through && !is_welded(design, a, node.id))
          open.push_back({a.member->id, node.id, a.part});
      continue;
    }
    Node n(std::move(arrivals));
    join_welds(design, node.id, n);
    const std::size_t held = main_group(n);
    for (std::size_t i = 0; i < n.arrivals.size(); ++i)
      if (n.group_of(i) != n.group_of(held))
        open.push_back({n.arrivals[i].member->id, node.id, n.arrivals[i].part});
  }
  return open;
}

}  // namespace seamwright::design
