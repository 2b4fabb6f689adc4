// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of a round tube welded around its end.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "engine/joints/hot_spot.h"
#include "engine/joints/xk.h"
#include "engine/rating/site_maker.h"

namespace seamwright::rating {

namespace {

using frame::Vec3;
constexpr double degree = std::numbers::pi / 180;

struct TubeWeld {
  SiteMaker& maker;
  std::size_t index;
  const joints::Weld& weld;
  Seat seat;
  Station brace, before, after;  ///< before and after: the chord on either side
  const frame::RoundTube* tube;
  const frame::RoundTube* chord_tube;

  Vec3 around(double angle_deg) const {
    return std::cos(angle_deg * degree) * seat.crown + std::sin(angle_deg * degree) * seat.side;
  }
  double radius() const { return 0.5 * tube->diameter_mm; }

  // The chord's own stress at the foot of a point: on its start side, its end side, or midway at the saddles.
  Row chord_stress(double angle_deg) const {
    const Eigen::Index size = maker.size;
    const double beta = std::min(1.0, tube->diameter_mm / chord_tube->diameter_mm);
    const double across = beta * std::sin(angle_deg * degree);
    const Vec3 out = std::sqrt(1 - across * across) * seat.chord_out + across * seat.side;
    const double r = 0.5 * chord_tube->diameter_mm, towards_start = std::cos(angle_deg * degree);
    if (!before.element) return nominal(after, out, r, size);
    if (!after.element) return nominal(before, out, r, size);
    if (towards_start > 0.1) return nominal(before, out, r, size);
    if (towards_start < -0.1) return nominal(after, out, r, size);
    return Row(0.5 * nominal(before, out, r, size) + 0.5 * nominal(after, out, r, size));
  }

  joints::TyJoint geometry_of(const joints::Weld& w, const frame::RoundTube& t) const {
    const Seat s = seat_of(maker.frame, w);
    return {chord_tube->diameter_mm, chord_tube->wall_mm, s.chord_length_mm,
            t.diameter_mm,           t.wall_mm,           s.angle_deg};
  }

  joints::TyScf factors() const {
    const joints::Shares shares{1 - weld.x_share - weld.k_share, weld.x_share, weld.k_share};
    std::optional<joints::TyJoint> other;
    for (const joints::Weld& w : maker.design.welds) {
      if (weld.k_share == 0 || w.id != weld.partner) continue;
      if (const frame::RoundTube* t = round_tube(maker.frame, w.member)) other = geometry_of(w, *t);
    }
    return joints::shared_scf(geometry_of(weld, *tube), maker.rules.chord_fixity, shares,
                              other ? &*other : nullptr, weld.gap_mm);
  }

  // Hot-spot stress of the brace at point i, without the chord's own.
  Row hot(const Eigen::Matrix<double, 8, 3>& f, Eigen::Index i) const {
    const Row n = axial(brace, maker.size);
    const Row in_plane = nominal(brace, seat.crown, radius(), maker.size) - n;
    const Row out_of_plane = n - nominal(brace, seat.side, radius(), maker.size);
    return Row(f(i, 0) * n + f(i, 1) * in_plane + f(i, 2) * out_of_plane);
  }
};

double attachment_of(const TubeWeld& w) {
  if (w.weld.attachment_length_mm > 0) return w.weld.attachment_length_mm;
  const double leg = w.weld.throat_mm * std::numbers::sqrt2;
  return w.tube->diameter_mm / std::sin(w.seat.angle_deg * degree) + 2 * leg;
}

void add_toes(TubeWeld& w, const joints::TyScf& scf) {
  const auto chord_side = joints::eight_point_factors(scf.chord),
             brace_side = joints::eight_point_factors(scf.brace);
  const double length = attachment_of(w);
  Evidence wall = nominal_evidence();
  wall.inputs = {{"attachment_length", length, "mm"}};
  for (Eigen::Index i = 0; i < 8; ++i) {
    const double angle = joints::point_angles_deg[static_cast<std::size_t>(i)];
    const Row own = w.chord_stress(angle);
    const double crown_share = std::abs(std::abs(std::cos(angle * degree)) - std::sqrt(0.5)) < 1e-6
                                   ? 0.5
                                   : std::round(std::abs(std::cos(angle * degree)));
    w.maker.push({w.index, "chord-toe", angle, w.chord_tube->wall_mm, 0, false},
                 Row(w.hot(chord_side, i) + scf.chord_attachment * own), scf.evidence);
    w.maker.push({w.index, "brace-toe", angle, w.tube->wall_mm, 0, false},
                 Row(w.hot(brace_side, i) + scf.brace_attachment * crown_share * own), scf.evidence);
    w.maker.push({w.index, "chord-wall", angle, w.chord_tube->wall_mm, length, false}, own, wall);
  }
}

// Nominal stress in the tube where its end is welded, where the set has a detail for it.
void add_end_toe(TubeWeld& w) {
  for (const double angle : joints::point_angles_deg) {
    w.maker.push({w.index, "brace-toe", angle, w.tube->wall_mm, 0, false},
                 nominal(w.brace, w.around(angle), w.radius(), w.maker.size), nominal_evidence());
    if (!w.maker.sites.back().curve) return;
  }
}

// Unproven: through the throat, once with the nominal force per length f = s t, and once with the bending of
// the wall that the toe's concentration stands for, m = (hot spot - s) t^2/6, as far as the throat carries
// it: f/a - 6 m/a^2 at the root, which lies on the wall's inner side, while the toe lies on its outer.
// Derived. Both are rated, because the equations may overstate the bending of a thin wall.
void add_throat(TubeWeld& w, const joints::TyScf* scf) {
  const double wall = w.tube->wall_mm, throat = w.weld.throat_mm, ratio = wall / throat;
  const Eigen::Index size = w.maker.size;
  Evidence plain = throat_evidence(w.maker, throat, wall), bent = plain;
  plain.notes.push_back(
      {w.weld.root_proven ? "rating.root-proven-rated-as-throat" : "rating.root-unproven", {}});
  bent.notes.push_back({"rating.root-with-bending", {}});
  if (scf) bent.because.push_back(scf->evidence);
  for (Eigen::Index i = 0; i < 8; ++i) {
    const double angle = joints::point_angles_deg[static_cast<std::size_t>(i)];
    const Vec3 out = w.around(angle);
    const Row in_wall = nominal(w.brace, out, w.radius(), size);
    const Row along = along_flow(w.brace, out, 0.5 * (w.tube->diameter_mm - wall), size) * (1 / throat);
    push_root(w.maker, {w.index, "root", angle, wall, 0, false}, in_wall * ratio, Row(size), along, plain);
    if (!scf) continue;
    const Row bending = w.hot(joints::eight_point_factors(scf->brace), i) - in_wall;
    push_root(w.maker, {w.index, "root-bending", angle, wall, 0, false},
              Row(in_wall * ratio - bending * (ratio * ratio)), Row(size), along, bent);
  }
}

// Proven: nominal stress in the tube on the set's class for one-sided full penetration.
void add_root(TubeWeld& w, const joints::TyScf* scf) {
  if (!w.weld.root_proven || !w.maker.has_detail(w.index, "root", true)) return add_throat(w, scf);
  Evidence evidence = nominal_evidence();
  evidence.notes.push_back({"rating.root-proven", {text("proof", w.weld.root_proof)}});
  for (const double angle : joints::point_angles_deg)
    w.maker.push({w.index, "root", angle, w.tube->wall_mm, 0, true},
                 nominal(w.brace, w.around(angle), w.radius(), w.maker.size), evidence);
}

}  // namespace

void add_tube_sites(SiteMaker& maker, std::size_t index) {
  const joints::Weld& weld = maker.design.welds[index];
  const frame::Member& member = member_of(maker.frame, weld.member);
  TubeWeld w{maker,
             index,
             weld,
             seat_of(maker.frame, weld),
             station(maker.assembly, member, weld.at_start ? 0 : member.nodes.size() - 2, weld.at_start),
             {},
             {},
             round_tube(maker.frame, weld.member),
             weld.chord.empty() ? nullptr : round_tube(maker.frame, weld.chord)};
  if (!weld.chord.empty()) std::tie(w.before, w.after) = sides_of(maker, weld);
  if (!w.tube || (!weld.chord.empty() && !w.chord_tube))
    return maker.push_not_covered(index, "rating.no-round-tube");
  std::optional<joints::TyScf> scf;
  if (w.chord_tube) {
    scf = w.factors();
    if (scf->evidence.coverage == Coverage::none) {
      maker.push_not_covered(index, "rating.no-factor");
      scf.reset();
    } else {
      add_toes(w, *scf);
    }
  } else {
    add_end_toe(w);
  }
  add_root(w, scf ? &*scf : nullptr);
}

}  // namespace seamwright::rating
