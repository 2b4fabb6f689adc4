// SPDX-License-Identifier: GPL-3.0-or-later
// Tubes: their way, and where they are sawn and coped.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <tuple>

#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/frame/check.h"
#include "engine/frame/element.h"
#include "engine/shape/cylinder.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/shape/planner.h"

namespace seamwright::shape::planner {

namespace {

using design::Design;
using joints::Layout;
using joints::Weld;

// Engineering choices of ours: a turn this small is none, and neither is one that lies within the rounding of drawn coordinates. A bend in the
// middle of a foot would end the chord there, on which the weld around a brace is worked out.
const double straight_cosine = std::cos(0.1 * degree);
constexpr double off_line_mm = 0.1;

double distance_mm(const Stretch& s, const Vec3& place) {
  return nearest(place, place, s.from, s.to).distance_mm;
}

void lengthen(std::vector<Stretch>& all, bool at_start, double by_mm) {
  Stretch& s = at_start ? all.front() : all.back();
  const Vec3 step = by_mm * along(s);
  if (length_mm(s) + by_mm < frame::same_place_mm) return;  // the reader refuses this
  if (at_start)
    s.from -= step;
  else
    s.to += step;
}

// A chord must go on so far past its end node for this foot to stand on it.
double overhang_for(const FilletAround& foot, const Vec3& outward, double throat) {
  const TubePair pair = pair_of(foot);
  double most = 0;
  for (int angle = 0; angle < 360; angle += 5)
    if (const auto root = root_point(pair, angle * degree))
      most = std::max(most, (root->at - pair.foot).dot(outward) + 2 * throat);
  return most;
}

// The cutter runs on past the chord's ends: beside its end plane nothing of the brace is left standing. A brace
// as wide as its chord ends in the plane through the chord's axis.
void cut_by_chord(std::vector<Stretch> chord, const std::string& by, const FilletAround& foot,
                  std::vector<Cut>& cuts) {
  const double radius = outer_radius_mm(foot.brace.section);
  lengthen(chord, true, 2 * radius);
  lengthen(chord, false, 2 * radius);
  for (const Stretch& s : chord) cuts.push_back({s, by});
  if (radius < 0.99 * outer_radius_mm(foot.chord.section)) return;
  const Vec3 axis = along(foot.chord), brace = along(foot.brace);
  cuts.push_back({HalfSpace{foot.brace.from, -(brace - brace.dot(axis) * axis).normalized()}, by});
}

Cylinder body_of(const Stretch& s) { return {s.from, s.to, outer_radius_mm(s.section)}; }

// The places between lie on the line from the first to the last, but for rounding.
bool in_line(const std::vector<Vec3>& axis, std::size_t first, std::size_t last) {
  for (std::size_t i = first + 1; i < last; ++i)
    if (nearest(axis[i], axis[i], axis[first], axis[last]).distance_mm > off_line_mm) return false;
  return true;
}

}  // namespace

std::vector<Stretch> stretches_of(const frame::Frame& f, const frame::Member& m) {
  std::vector<Vec3> axis;
  for (const std::string& node : m.nodes) axis.push_back(design::position_of(f, node));
  axis.front() += m.start_offset_mm;
  axis.back() += m.end_offset_mm;
  const frame::Section& section = design::tube_of(f, m).section;
  std::vector<Stretch> out;
  std::size_t first = 0;  // where the last stretch begins
  for (std::size_t i = 1; i < axis.size(); ++i) {
    const Vec3 step = axis[i] - axis[i - 1];
    if (!(step.norm() > frame::same_place_mm)) continue;
    const double ahead = out.empty() ? 0 : along(out.back()).dot(step.normalized());
    if (ahead > straight_cosine || (ahead > 0 && in_line(axis, first, i))) {
      out.back().to = axis[i];
      continue;
    }
    first = i - 1;
    const auto local = frame::local_axes(step, m.up);
    out.push_back({section, axis[i - 1], axis[i],
                   local ? Vec3(local->row(1).transpose()) : Vec3(step.normalized().unitOrthogonal())});
  }
  for (Stretch& s : out)  // a turn within the tolerance leaves `up` a little askew
    s.up = (s.up - s.up.dot(along(s)) * along(s)).normalized();
  return out;
}

Axes axes_of(const frame::Frame& frame) {
  Axes axes;
  for (const frame::Member& m : frame.members) axes[m.id] = stretches_of(frame, m);
  return axes;
}

const Stretch& stretch_at(const std::vector<Stretch>& all, const Vec3& place) {
  return *std::min_element(all.begin(), all.end(), [&](const Stretch& a, const Stretch& b) {
    return distance_mm(a, place) < distance_mm(b, place);
  });
}

Stretch leaving(const std::vector<Stretch>& all, bool at_start) {
  Stretch s = at_start ? all.front() : all.back();
  if (!at_start) std::swap(s.from, s.to);
  return s;
}

std::optional<FilletAround> fillet_of(const Design& d, const Axes& axes, const Weld& w) {
  if (w.layout != Layout::tube_on_tube || w.member.empty() || w.chord.empty()) return {};
  const std::vector<Stretch>&brace = axes.at(w.member), &chord = axes.at(w.chord);
  if (brace.empty() || chord.empty()) return {};
  const frame::Member& member = design::member_of(d.frame, w.member);
  const Vec3 node = design::position_of(d.frame, w.node);
  FilletAround f;
  f.brace = leaving(brace, w.at_start);
  f.brace.from = node + (w.at_start ? member.start_offset_mm : member.end_offset_mm);
  f.chord = stretch_at(chord, node);
  const Vec3 square = along(f.chord).dot(along(f.brace)) * along(f.brace) - along(f.chord);
  if (!(square.norm() > 0.01)) return {};  // in line
  f.crown = square.normalized();
  const TubePair pair = pair_of(f);
  const auto default_at = [&](double angle_deg) {
    const std::optional<RootPoint> root = root_point(pair, angle_deg * degree);
    return default_leg_mm(w.throat_mm, root ? root->dihedral_rad : 120 * degree);
  };
  f.leg_crown_mm = w.leg_crown_mm > 0 ? w.leg_crown_mm : default_at(0);
  f.leg_saddle_mm = w.leg_saddle_mm > 0 ? w.leg_saddle_mm : default_at(90);
  if (const double opposite = default_at(180); w.leg_crown_mm <= 0 && std::abs(opposite - f.leg_crown_mm) > 1e-6) f.leg_opposite_mm = opposite;
  return f;
}

void apply_overhangs(const Design& d, Axes& axes) {
  const Axes drawn = axes;
  for (const frame::Member& m : d.frame.members)
    for (const bool start : {true, false}) {
      if (axes[m.id].empty()) continue;
      const std::optional<double>& given = start ? m.start_overhang_mm : m.end_overhang_mm;
      double by = given.value_or(0);
      for (const Weld& w : d.welds)
        if (!given && w.chord == m.id && w.node == (start ? m.nodes.front() : m.nodes.back()))
          if (const auto foot = fillet_of(d, drawn, w))
            by = std::max(by, overhang_for(*foot, (start ? -1 : 1) * along(foot->chord), w.throat_mm));
      lengthen(axes[m.id], start, by);
    }
}

Feet feet_of(const Design& d, const Axes& axes) {
  Feet out;
  for (const Weld& w : d.welds)
    if (const auto f = fillet_of(d, axes, w)) out[w.chord].push_back({&w, *f});
  const auto rank = [](const Standing& s) {
    const double radius = outer_radius_mm(s.fillet.brace.section);
    return std::tuple(s.weld->through == s.weld->member, radius,
                      radius - bore_radius_mm(s.fillet.brace.section));
  };
  for (auto& [chord, feet] : out)
    std::stable_sort(feet.begin(), feet.end(),
                     [&](const Standing& a, const Standing& b) { return rank(a) > rank(b); });
  return out;
}

void cut_feet(const Axes& axes, const Feet& all, Cuts& cuts) {
  for (const auto& [chord, feet] : all)
    for (std::size_t i = 0; i < feet.size(); ++i) {
      const std::string& member = feet[i].weld->member;
      cut_by_chord(axes.at(chord), chord, feet[i].fillet, cuts[member]);
      for (std::size_t j = 0; j < i; ++j)
        if (feet[j].weld->member != member &&
            overlap_mm(body_of(feet[i].fillet.brace), body_of(feet[j].fillet.brace)) > frame::same_place_mm)
          cuts[member].push_back({feet[j].fillet.brace, feet[j].weld->member});
    }
}

// Two tubes of one joint without a chord meet in the plane that halves the angle between them.
void cut_mitres(const Design& d, Axes& axes, Cuts& cuts) {
  const Axes drawn = axes;
  for (const Weld& w : d.welds) {
    if (w.layout != Layout::tube_end || (w.kind != "tube-mitre" && w.kind != "platform-corner")) continue;
    const auto partner = std::find_if(d.welds.begin(), d.welds.end(), [&](const Weld& other) {
      return &other != &w && other.joint == w.joint && other.node == w.node;
    });
    if (partner == d.welds.end() || drawn.at(w.member).empty() || drawn.at(partner->member).empty()) continue;
    const Stretch mine = leaving(drawn.at(w.member), w.at_start),
                  other = leaving(drawn.at(partner->member), partner->at_start);
    const Vec3 away = along(other) - along(mine);
    if (!(away.norm() > 0.01)) continue;
    const Vec3 plane = away.normalized();
    cuts[w.member].push_back({HalfSpace{mine.from, plane}, partner->member});
    const double lean = -along(mine).dot(plane);  // sine of half the angle between the tubes
    lengthen(axes[w.member], w.at_start,
             outer_radius_mm(mine.section) * std::sqrt(std::max(0.0, 1 - lean * lean)) / lean);
  }
}

}  // namespace seamwright::shape::planner
