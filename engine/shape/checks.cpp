// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/checks.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/shape/cylinder.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/shape/planner.h"

namespace seamwright::shape {

namespace {

using planner::Standing;

constexpr int points = 180;
constexpr double tangent_deg = 175, rounding_mm = 0.01;

// A foot with its root curve.
struct Seam {
  const Standing* standing = nullptr;
  TubePair pair;
  std::vector<RootPoint> root;  // where the brace meets its chord
};

Seam seam_of(const Standing& standing) {
  Seam s{&standing, pair_of(standing.fillet), {}};
  for (int i = 0; i < points; ++i)
    if (const auto r = root_point(s.pair, 2 * std::numbers::pi * i / points)) s.root.push_back(*r);
  return s;
}

WeldFinding finding(MessageId id, const joints::Weld& w, std::vector<Argument> with, bool preparation = false) {
  std::vector<Argument> all{text("weld", w.id), text("member", w.member), text("chord", w.chord)};
  all.insert(all.end(), with.begin(), with.end());
  return {{id, std::move(all)}, preparation};
}

// How far the cup stops above the root, between walls at this angle that stand so far apart there.
double stops_above_mm(double cup, double angle_rad, double apart) {
  return std::max(0.0, cup - apart) / (2 * std::tan(angle_rad / 2));
}

void check_reach(const Seam& s, const planner::Axes& axes, std::vector<WeldFinding>& out) {
  const joints::Weld& w = *s.standing->weld;
  if (s.root.empty()) {
    const Vec3 across = s.pair.brace.cross(s.pair.chord).normalized();
    const double aside = std::abs((s.pair.foot - s.pair.chord_at).dot(across));
    out.push_back(finding("shape.end-in-air", w,
                          {number("gap", aside - s.pair.chord_radius_mm - s.pair.brace_radius_mm, "mm")}));
    return;
  }
  if (const std::size_t beside = points - s.root.size(); beside > 0)
    out.push_back(finding("shape.beside-chord", w, {number("share", 100.0 * static_cast<double>(beside) / points, "%")}));
  // The tube begins here along the brace; where its root lies nearer to the chord, a gap is left.
  const std::vector<Stretch>& brace = axes.at(w.member);
  const Vec3& end = w.at_start ? brace.front().from : brace.back().to;
  double gap = 0, beyond = 0;
  for (const RootPoint& r : s.root) {
    gap = std::max(gap, (end - r.at).dot(s.pair.brace));
    double least = std::numeric_limits<double>::infinity();
    for (const Stretch& c : axes.at(w.chord)) {
      const double at = (r.at - c.from).dot(along(c));
      least = std::min(least, std::max(-at, at - length_mm(c)));
    }
    beyond = std::max(beyond, least);
  }
  if (gap > rounding_mm) out.push_back(finding("shape.end-in-air", w, {number("gap", gap, "mm")}));
  if (beyond > rounding_mm) out.push_back(finding("shape.beyond-end", w, {number("gap", beyond, "mm")}));
}

void check_angles(const Seam& s, const WeldRoom& room, std::vector<WeldFinding>& out) {
  const joints::Weld& w = *s.standing->weld;
  const double angle = std::acos(std::min(1.0, std::abs(s.pair.brace.dot(s.pair.chord)))) / degree;
  if (angle < room.least_angle_deg)
    out.push_back(finding("shape.narrow-angle", w,
                          {number("angle", angle, "deg"), number("least", room.least_angle_deg, "deg")}));
  int narrow = 0, wide = 0, tangent = 0;
  double least = 180, most = 0;
  for (const RootPoint& r : s.root) {
    const double d = r.dihedral_rad / degree;
    least = std::min(least, d);
    most = std::max(most, d);
    narrow += d < room.least_dihedral_deg - 1e-6;
    wide += d > room.most_dihedral_deg + 1e-6;
    tangent += d > tangent_deg;
  }
  const auto share = [](int count) { return number("share", 100.0 * count / points, "%"); };
  if (narrow)
    out.push_back(finding("shape.narrow-dihedral", w,
                          {share(narrow), number("angle", least, "deg"), number("least", room.least_dihedral_deg, "deg")}, true));
  if (wide)
    out.push_back(finding("shape.wide-dihedral", w,
                          {share(wide), number("angle", most, "deg"), number("most", room.most_dihedral_deg, "deg")}, true));
  if (tangent)
    out.push_back(finding("shape.tangent-walls", w,
                          {number("length", 2 * std::numbers::pi * s.pair.brace_radius_mm * tangent / points, "mm")}));
  if (s.root.empty()) return;
  const double height = stops_above_mm(room.cup_mm, least * degree, 0);
  if (height > room.stick_out_mm)
    out.push_back(finding("shape.no-access-heel", w,
                          {number("angle", least, "deg"), number("cup", room.cup_mm, "mm"),
                           number("height", height, "mm"), number("reach", room.stick_out_mm, "mm")}, true));
}

double least_gap_mm(const Seam& a, const Seam& b) {
  double least = std::numeric_limits<double>::infinity();
  for (const RootPoint& p : a.root)
    for (const RootPoint& q : b.root) least = std::min(least, (p.at - q.at).squaredNorm());
  return std::sqrt(least);
}

// All of a seam lies so near to its foot.
double reach_of(const Seam& s) {
  double most = 0;
  for (const RootPoint& r : s.root) most = std::max(most, (r.at - s.pair.foot).norm());
  return most;
}

void check_pair(const Seam& a, const Seam& b, const WeldRoom& room, std::vector<WeldFinding>& out) {
  const joints::Weld &w = *a.standing->weld, &other = *b.standing->weld;
  if (w.member == other.member) return;
  const double apart = (a.pair.foot - b.pair.foot).norm(), wide = reach_of(a) + reach_of(b);
  if (apart > wide + std::max({room.cup_mm, w.throat_mm, other.throat_mm})) return;
  const Stretch &one = a.standing->fillet.brace, &two = b.standing->fillet.brace;
  const bool meet = overlap_mm({one.from, one.to, a.pair.brace_radius_mm}, {two.from, two.to, b.pair.brace_radius_mm}) > 0;
  const double gap = meet ? 0 : least_gap_mm(a, b), throat = std::max(w.throat_mm, other.throat_mm);
  if (gap > 0 && gap < throat)
    out.push_back(finding("shape.feet-close", w,
                          {text("other", other.id), number("gap", gap, "mm"), number("least", throat, "mm")}));
  const double angle = std::acos(std::clamp(a.pair.brace.dot(b.pair.brace), -1.0, 1.0));
  if (!(angle < 90 * degree) || gap > room.cup_mm) return;
  const double height = stops_above_mm(room.cup_mm, angle, gap);
  if (height > room.stick_out_mm)
    out.push_back(finding("shape.no-access", w,
                          {text("other", other.member), number("angle", angle / degree, "deg"),
                           number("cup", room.cup_mm, "mm"), number("height", height, "mm"),
                           number("reach", room.stick_out_mm, "mm")}, true));
}

}  // namespace

std::vector<WeldFinding> weld_findings(const design::Design& design, const WeldRoom& room) {
  planner::Axes axes = planner::axes_of(design.frame);
  planner::apply_overhangs(design, axes);
  const planner::Feet feet = planner::feet_of(design, axes);
  std::map<std::string, std::vector<Seam>> seams;
  for (const auto& [chord, standing] : feet)
    for (const Standing& s : standing) seams[chord].push_back(seam_of(s));
  std::vector<WeldFinding> out;
  for (const joints::Weld& w : design.welds)
    for (const Seam& s : seams[w.chord]) {
      if (s.standing->weld != &w) continue;
      check_reach(s, axes, out);
      check_angles(s, room, out);
      for (const Seam& other : seams[w.chord])
        if (&other > &s) check_pair(s, other, room, out);
    }
  return out;
}

}  // namespace seamwright::shape
