// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/clash.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <set>
#include <tuple>

#include "engine/evidence/constants.h"
#include "engine/frame/check.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape {

namespace {

constexpr double touching_mm = 0.01;    // less is rounding, not a clash
constexpr std::size_t most_told = 200;  // of thousands of tubes in one heap, nobody reads more
const double in_line = std::sin(1 * degree);

Vec3 direction(const Piece& p) { return (p.body.to - p.body.from) / p.length_mm; }

struct Crotch {
  double first = 0, second = 0;  // mm from the node along each
};

// Two tubes that leave a node at an acute angle have a crotch: their outer surfaces come apart there.
Crotch crotch_of(double r_a, double r_b, double cosine, double sine) {
  if (sine < in_line)
    return {std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  return {(r_b + r_a * cosine) / sine, (r_a + r_b * cosine) / sine};
}

// True when the thinner runs in the other's bore, as far as the other reaches.
bool in_bore(const Piece& thin, const Piece& wide) {
  const double room = wide.bore_mm - thin.body.radius_mm;
  if (room < -touching_mm) return false;
  const Vec3 axis = direction(wide), from = thin.body.from - wide.body.from,
             run = thin.body.to - thin.body.from;
  const double start = from.dot(axis), slope = run.dot(axis);
  double low = 0, high = 1;
  if (std::abs(slope) > 1e-9) {
    const double a = -start / slope, b = (wide.length_mm - start) / slope;
    low = std::max(low, std::min(a, b));
    high = std::min(high, std::max(a, b));
  }
  if (low >= high) return false;
  const auto aside = [&](double t) {
    const Vec3 at = from + t * run;
    return (at - at.dot(axis) * axis).norm();
  };
  return std::max(aside(low), aside(high)) <= room + touching_mm;
}

bool nested(const Piece& a, const Piece& b) { return in_bore(a, b) || in_bore(b, a); }

// A zone along a member, mm, is left out of a test since a joint there explains it.
struct Zone {
  double from, to;
};

class Search {
 public:
  Search(const frame::Frame& frame, const std::vector<joints::Weld>& welds)
      : frame_(frame), pieces_(pieces_of(frame, welds)) {
    find_stubs();
  }

  std::vector<Clash> all_clashes() {
    find_doubles();
    for (std::size_t m = 0; m < frame_.members.size(); ++m) look_along(m);
    sweep();
    for (const frame::Wheel& w : frame_.wheels) look_at_wheel(w);
    std::stable_sort(found_.begin(), found_.end(), [](const Clash& a, const Clash& b) {
      return std::tuple(a.kind, -a.overlap_mm) < std::tuple(b.kind, -b.overlap_mm);
    });
    return found_;
  }

 private:
  const frame::Frame& frame_;
  Pieces pieces_;
  std::map<std::pair<std::size_t, std::size_t>, std::pair<std::size_t, std::size_t>> stubs_;
  std::vector<Clash> found_;

  double radius(std::size_t member) const { return pieces_.all[pieces_.first[member]].body.radius_mm; }
  bool has_pieces(std::size_t member) const { return pieces_.first[member] < pieces_.first[member + 1]; }

  void add(ClashKind kind, std::size_t a, std::size_t b, std::size_t place, double overlap) {
    const std::string &first = frame_.members[std::min(a, b)].id, &second = frame_.members[std::max(a, b)].id;
    const std::string where = place < frame_.nodes.size() ? frame_.nodes[place].id : "";
    for (Clash& c : found_)
      if (c.kind == kind && c.first == first && c.second == second) {
        if (overlap > c.overlap_mm) c = {kind, first, second, where, overlap};
        return;
      }
    found_.push_back({kind, first, second, where, overlap});
  }

  // Members of at most both radii that join a node of one member to a node of another.
  void find_stubs() {
    std::multimap<std::size_t, std::size_t> at;
    for (std::size_t m = 0; m < pieces_.places.size(); ++m)
      for (const std::size_t place : pieces_.places[m]) at.emplace(place, m);
    double widest = 0;
    for (const Piece& p : pieces_.all) widest = std::max(widest, p.body.radius_mm);
    for (std::size_t s = 0; s < pieces_.places.size(); ++s) {
      if (!has_pieces(s) || pieces_.length_mm[s] > 2 * widest) continue;
      const std::size_t here = pieces_.places[s].front(), there = pieces_.places[s].back();
      for (auto [a, a_end] = at.equal_range(here); a != a_end; ++a)
        for (auto [b, b_end] = at.equal_range(there); b != b_end; ++b) {
          const std::size_t m = a->second, n = b->second;
          if (m == s || n == s || m == n || !has_pieces(m) || !has_pieces(n)) continue;
          if (pieces_.length_mm[s] > radius(m) + radius(n)) continue;
          stubs_.insert({{m, n}, {here, there}});
          stubs_.insert({{n, m}, {there, here}});
        }
    }
  }

  void find_doubles() {
    std::map<std::tuple<std::size_t, std::size_t, std::string>, std::size_t> seen;
    for (std::size_t m = 0; m < pieces_.places.size(); ++m) {
      const std::vector<std::size_t>& p = pieces_.places[m];
      for (std::size_t i = 1; i < p.size(); ++i) {
        const auto [at, fresh] =
            seen.insert({{std::min(p[i - 1], p[i]), std::max(p[i - 1], p[i]), frame_.members[m].tube}, m});
        if (fresh || at->second == m) continue;
        const double apart = (frame_.nodes[p[i]].position_mm - frame_.nodes[p[i - 1]].position_mm).norm();
        add(ClashKind::same_nodes, at->second, m, p[i - 1], apart);
      }
    }
  }

  // A member against itself. Two stretches of a bent tube that are at least half a turn of the tightest bend
  // (pi r along the axis, whose radius is r at least) apart must be a diameter apart.
  void look_along(std::size_t m) {
    for (std::size_t i = pieces_.first[m]; i < pieces_.first[m + 1]; ++i)
      for (std::size_t j = i + 1; j < pieces_.first[m + 1]; ++j) {
        const Piece &a = pieces_.all[i], &b = pieces_.all[j];
        const double r = a.body.radius_mm;
        if (a.stops.back().place == b.stops.front().place || a.stops.front().place == b.stops.back().place) {
          const double cosine = -direction(a).dot(direction(b));
          if (cosine <= 0) continue;
          const Crotch c = crotch_of(r, r, cosine, std::sqrt(std::max(0.0, 1 - cosine * cosine)));
          const double least = std::min(a.length_mm, b.length_mm);
          if (c.first >= least) add(ClashKind::doubled_back, m, m, a.stops.back().place, least);
          continue;
        }
        const double between = b.before_mm - a.before_mm - a.length_mm;
        const double near = std::max(0.0, std::numbers::pi * r - between) / 2;
        if (near >= a.length_mm || near >= b.length_mm) continue;
        const double overlap = overlap_mm({a.body.from, a.body.to - near * direction(a), r},
                                          {b.body.from + near * direction(b), b.body.to, r});
        if (overlap > touching_mm) add(ClashKind::doubled_back, m, m, a.stops.back().place, overlap);
      }
  }

  void sweep() {
    struct Box {
      Vec3 low, high;
      std::size_t piece;
    };
    std::vector<Box> boxes;
    for (std::size_t i = 0; i < pieces_.all.size(); ++i) {
      const Cylinder& c = pieces_.all[i].body;
      const Vec3 grown = Vec3::Constant(c.radius_mm);
      boxes.push_back({c.from.cwiseMin(c.to) - grown, c.from.cwiseMax(c.to) + grown, i});
    }
    std::stable_sort(boxes.begin(), boxes.end(),
                     [](const Box& a, const Box& b) { return a.low.x() < b.low.x(); });
    for (std::size_t i = 0; i < boxes.size(); ++i)
      for (std::size_t j = i + 1; j < boxes.size() && boxes[j].low.x() <= boxes[i].high.x(); ++j)
        if (found_.size() < most_told && (boxes[i].low.array() <= boxes[j].high.array()).all() &&
            (boxes[j].low.array() <= boxes[i].high.array()).all()) {
          const std::size_t a = std::min(boxes[i].piece, boxes[j].piece);
          const std::size_t b = std::max(boxes[i].piece, boxes[j].piece);
          if (pieces_.all[a].member != pieces_.all[b].member) look_at(pieces_.all[a], pieces_.all[b]);
        }
  }

  void look_at(const Piece& a, const Piece& b) {
    if (a.body.radius_mm <= 0 || b.body.radius_mm <= 0 || nested(a, b)) return;
    bool meet = false;
    for (const Stop& s : a.stops)
      for (const Stop& t : b.stops)
        if (s.place == t.place) {
          meet = true;
          look_where_they_meet(a, s, b, t);
        }
    if (meet) return;
    const auto zones = explained(a, b);
    double overlap = 0;
    for (const Cylinder& x : remaining(a, b, zones.first))
      for (const Cylinder& y : remaining(b, a, zones.second)) overlap = std::max(overlap, overlap_mm(x, y));
    if (overlap > touching_mm) add(ClashKind::crossing, a.member, b.member, frame_.nodes.size(), overlap);
  }

  // The wheel as a disc without thickness, straight ahead: how wide it is, nobody says.
  void look_at_wheel(const frame::Wheel& w) {
    const auto hub = std::find_if(frame_.nodes.begin(), frame_.nodes.end(),
                                  [&](const frame::Node& n) { return n.id == w.node; });
    if (hub == frame_.nodes.end()) return;
    const double lean = w.camber_deg * degree * frame::side_of(w);
    const Vec3 axle = Eigen::AngleAxisd(w.heading_deg * degree, Vec3::UnitZ()) * Vec3(0, std::cos(lean), std::sin(lean));
    const Vec3 half = 0.5 * touching_mm * axle;
    const Cylinder disc{hub->position_mm - half, hub->position_mm + half, w.radius_mm};
    std::map<std::size_t, double> through;
    for (const Piece& p : pieces_.all) {
      const std::vector<std::string>& nodes = frame_.members[p.member].nodes;
      if (std::find(nodes.begin(), nodes.end(), w.node) != nodes.end()) continue;
      const double overlap = overlap_mm(p.body, disc);
      if (overlap > 2 * touching_mm) through[p.member] = std::max(through[p.member], overlap);
    }
    for (const auto& [member, overlap] : through)
      found_.push_back({ClashKind::wheel, frame_.members[member].id, w.id, w.node, overlap});
  }

  bool ends_at(std::size_t member, std::size_t place) const {
    const std::vector<std::size_t>& p = pieces_.places[member];
    return p.front() == place || p.back() == place;
  }

  void look_where_they_meet(const Piece& a, const Stop& s, const Piece& b, const Stop& t) {
    const Vec3 u = direction(a), v = direction(b);
    const double sine = u.cross(v).norm(), r = a.body.radius_mm + b.body.radius_mm;
    if (sine > in_line && !ends_at(a.member, s.place) && !ends_at(b.member, t.place))
      add(ClashKind::through, a.member, b.member, s.place, r);
    for (const double on_a : {-1.0, 1.0})
      for (const double on_b : {-1.0, 1.0}) {
        const double length_a = on_a < 0 ? s.at_mm : a.length_mm - s.at_mm;
        const double length_b = on_b < 0 ? t.at_mm : b.length_mm - t.at_mm;
        const double cosine = on_a * on_b * u.dot(v);
        if (length_a <= 0 || length_b <= 0 || cosine <= 0) continue;
        const Crotch c = crotch_of(a.body.radius_mm, b.body.radius_mm, cosine, sine);
        // Only a whole piece: the short end of a chord that runs on past a foot may lie under that foot.
        const bool a_gone = length_a >= a.length_mm && c.first >= length_a && pieces_.length_mm[a.member] > r;
        const bool b_gone =
            length_b >= b.length_mm && c.second >= length_b && pieces_.length_mm[b.member] > r;
        if (a_gone || b_gone || sine <= in_line)
          add(ClashKind::inside, a.member, b.member, s.place, std::min(length_a, length_b));
      }
  }

  // The two members, not these pieces of them, meet in these zones: at a node or by a stub.
  std::pair<std::vector<Zone>, std::vector<Zone>> explained(const Piece& a, const Piece& b) const {
    std::pair<std::vector<Zone>, std::vector<Zone>> zones;
    const auto explain = [&](std::size_t on_a, std::size_t on_b) {
      const double r = a.body.radius_mm + b.body.radius_mm;
      for (const auto& [piece_a, at_a] : stretches(a.member, on_a))
        for (const auto& [piece_b, at_b] : stretches(b.member, on_b)) {
          const double sine = direction(*piece_a).cross(direction(*piece_b)).norm();
          const double reach = sine > in_line ? 2 * r / sine : r;  // (r_a + r_b cos)/sin at most, from both
          zones.first.push_back({at_a - reach, at_a + reach});
          zones.second.push_back({at_b - reach, at_b + reach});
        }
    };
    for (const std::size_t place : std::set(pieces_.places[a.member].begin(), pieces_.places[a.member].end()))
      if (std::count(pieces_.places[b.member].begin(), pieces_.places[b.member].end(), place) > 0)
        explain(place, place);
    if (const auto stub = stubs_.find({a.member, b.member}); stub != stubs_.end())
      explain(stub->second.first, stub->second.second);
    return zones;
  }

  std::vector<std::pair<const Piece*, double>> stretches(std::size_t member, std::size_t place) const {
    std::vector<std::pair<const Piece*, double>> out;
    for (std::size_t i = pieces_.first[member]; i < pieces_.first[member + 1]; ++i)
      for (const Stop& s : pieces_.all[i].stops)
        if (s.place == place) out.emplace_back(&pieces_.all[i], pieces_.all[i].before_mm + s.at_mm);
    return out;
  }

  // A chord's wall trims this much of its member's end before the other can touch it.
  double trimmed(const Piece& p, bool at_start, const Piece& other) const {
    const auto& trims = pieces_.trims[p.member];
    const auto trim = trims.find(at_start);
    if (trim == trims.end()) return 0;
    const std::size_t chord = trim->second.chord;
    bool behind_the_wall = other.member == chord;
    for (const auto& [end, t] : pieces_.trims[other.member]) behind_the_wall |= t.chord == chord;
    for (std::size_t i = pieces_.first[chord]; i < pieces_.first[chord + 1]; ++i)
      behind_the_wall |= in_bore(other, pieces_.all[i]);
    return behind_the_wall ? trim->second.whole_mm : trim->second.axis_mm;
  }

  std::vector<Cylinder> remaining(const Piece& p, const Piece& other, std::vector<Zone> zones) const {
    const double whole = pieces_.length_mm[p.member];
    zones.push_back({-1, trimmed(p, true, other)});
    zones.push_back({whole - trimmed(p, false, other), whole + 1});
    std::vector<Zone> left{{p.before_mm, p.before_mm + p.length_mm}};
    for (const Zone& z : zones) {
      std::vector<Zone> next;
      for (const Zone& l : left) {
        if (l.from < std::min(l.to, z.from)) next.push_back({l.from, std::min(l.to, z.from)});
        if (std::max(l.from, z.to) < l.to) next.push_back({std::max(l.from, z.to), l.to});
      }
      left = next;
    }
    std::vector<Cylinder> out;
    for (const Zone& l : left)
      if (l.to - l.from > touching_mm)
        out.push_back({p.body.from + (l.from - p.before_mm) * direction(p),
                       p.body.from + (l.to - p.before_mm) * direction(p), p.body.radius_mm});
    return out;
  }
};

MessageId message_of(ClashKind kind) {
  switch (kind) {
    case ClashKind::same_nodes:
      return "shape.same-nodes";
    case ClashKind::doubled_back:
      return "shape.doubled-back";
    case ClashKind::through:
      return "shape.through";
    case ClashKind::inside:
      return "shape.inside";
    case ClashKind::wheel:
      return "shape.wheel";
    case ClashKind::crossing:
      break;
  }
  return "shape.crossing";
}

}  // namespace

std::vector<Clash> clashes(const frame::Frame& frame, const std::vector<joints::Weld>& welds) {
  return Search(frame, welds).all_clashes();
}

void check_clashes(const frame::Frame& frame, const std::vector<joints::Weld>& welds) {
  const std::vector<Clash> found = clashes(frame, welds);
  if (found.empty()) return;
  const Clash& worst = found.front();
  std::vector<std::string> pairs;
  for (const Clash& c : found)
    if (c.kind == worst.kind) pairs.push_back(c.first == c.second ? c.first : c.first + " + " + c.second);
  throw Fault{Message{message_of(worst.kind),
                      {text("first", worst.first), text("second", worst.second), text("node", worst.where),
                       number("overlap", worst.overlap_mm, "mm"), text("all", frame::list_of(pairs))}}};
}

}  // namespace seamwright::shape
