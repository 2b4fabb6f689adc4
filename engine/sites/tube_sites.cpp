// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of a round tube welded around its end.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "engine/evidence/constants.h"
#include "engine/fatigue/likelihood.h"
#include "engine/joints/hot_spot.h"
#include "engine/joints/xk.h"
#include "engine/rules/misalignment.h"
#include "engine/sites/site_maker.h"

namespace seamwright::sites {

namespace {

using frame::Vec3;

// The factors where the chord balances the brace, and, where shares follow from the forces, those where a
// brace opposite or the partner does.
struct Factors {
  joints::TyScf main;
  std::optional<joints::TyScf> x, k;
};

struct TubeWeld {
  SiteMaker& maker;
  std::size_t index;
  const joints::Weld& weld;
  design::Seat seat;
  Station brace, before, after;  ///< before and after: the chord on either side
  const frame::RoundTube* tube;
  const frame::RoundTube* chord_tube;
  std::shared_ptr<const Balance> balance;

  Vec3 direction_at(double angle_deg) const {
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
    if (!before.element) return nominal(after, out, r, size);  // one side has an element
    if (!after.element) return nominal(before, out, r, size);
    if (towards_start > 0.1) return nominal(before, out, r, size);
    if (towards_start < -0.1) return nominal(after, out, r, size);
    return Row(0.5 * nominal(before, out, r, size) + 0.5 * nominal(after, out, r, size));
  }

  joints::TyJoint geometry_of(const joints::Weld& w, const frame::RoundTube& t) const {
    const design::Seat s = maker.index.seat_of(w);
    return {chord_tube->diameter_mm, chord_tube->wall_mm, s.chord_length_mm,
            t.diameter_mm,           t.wall_mm,           s.angle_deg};
  }

  joints::TyScf factors_with(const joints::Shares& shares) const {
    std::optional<joints::TyJoint> other;
    for (const joints::Weld& w : maker.design.welds) {
      if (weld.partner.empty() || w.id != weld.partner) continue;
      if (const frame::RoundTube* t = maker.index.round_tube(w.member)) other = geometry_of(w, *t);
    }
    return joints::shared_scf(geometry_of(weld, *tube), maker.rules.chord_fixity, shares,
                              other ? &*other : nullptr, weld.gap_mm);
  }

  Factors factors() const {
    Factors f{factors_with({1 - weld.x_share - weld.k_share, weld.x_share, weld.k_share}), {}, {}};
    if (!balance || f.main.evidence.coverage == Coverage::none) return f;
    f.main.evidence.notes.push_back({"rating.shares-from-forces", {}});
    if (balance->opposite.nonZeros() > 0) f.x = factors_with({0, 1, 0});
    if (balance->beside.nonZeros() > 0) f.k = factors_with({0, 0, 1});
    for (const auto* other : {&f.x, &f.k}) {
      if (!*other) continue;
      f.main.evidence.because.push_back((*other)->evidence);
      f.main.evidence.coverage = worse_coverage(f.main.evidence.coverage, (*other)->evidence.coverage);
    }
    return f;
  }

  // Gives the site just added what the other factors change in its row.
  template <typename RowOf>
  void vary(const Factors& f, const RowOf& row_of) const {
    Site& site = maker.sites.back();
    if (!f.x && !f.k) return;
    site.balance = balance;
    if (f.x) site.x_more = row_of(*f.x) - site.row;
    if (f.k) site.k_more = row_of(*f.k) - site.row;
  }

  // Hot-spot stress of the brace at point i, without the chord's own.
  Row hot_spot_site(const Eigen::Matrix<double, 8, 3>& f, Eigen::Index i) const {
    const Row n = axial(brace, maker.size);
    const Row in_plane = nominal(brace, seat.crown, radius(), maker.size) - n;
    const Row out_of_plane = n - nominal(brace, seat.side, radius(), maker.size);
    return Row(f(i, 0) * n + f(i, 1) * in_plane + f(i, 2) * out_of_plane);
  }
};

double attachment_of(const TubeWeld& w) {
  if (w.weld.attachment_length_mm > 0) return w.weld.attachment_length_mm;
  const double leg = w.weld.leg_mm > 0 ? w.weld.leg_mm : w.weld.throat_mm * std::numbers::sqrt2;
  return w.tube->diameter_mm / std::sin(w.seat.angle_deg * degree) + 2 * leg;
}

void add_toes(TubeWeld& w, const Factors& factors) {
  const Evidence& evidence = factors.main.evidence;
  const double length = attachment_of(w);
  Evidence wall = nominal_evidence();
  wall.inputs = {{"attachment_length", length, "mm"}};
  for (Eigen::Index i = 0; i < 8; ++i) {
    const double angle = joints::point_angles_deg[static_cast<std::size_t>(i)];
    const Row own = w.chord_stress(angle);
    const double crown_share = std::abs(std::abs(std::cos(angle * degree)) - std::sqrt(0.5)) < 1e-6
                                   ? 0.5
                                   : std::round(std::abs(std::cos(angle * degree)));
    const auto at_chord = [&](const joints::TyScf& scf) {
      return Row(w.hot_spot_site(joints::eight_point_factors(scf.chord), i) + scf.chord_attachment * own);
    };
    const auto at_brace = [&](const joints::TyScf& scf) {
      return Row(w.hot_spot_site(joints::eight_point_factors(scf.brace), i) +
                 scf.brace_attachment * crown_share * own);
    };
    w.maker.push({w.index, place::chord_toe, angle, w.chord_tube->wall_mm}, at_chord(factors.main), evidence);
    w.vary(factors, at_chord);
    w.maker.push({w.index, place::brace_toe, angle, w.tube->wall_mm}, at_brace(factors.main), evidence);
    w.vary(factors, at_brace);
    w.maker.push({w.index, place::chord_wall, angle, w.chord_tube->wall_mm, length}, own, wall);
  }
}

// The chord's own stress beside the weld, as an attachment detail: in a model's stress it meets the hot-spot curve alone.
void add_chord_wall(TubeWeld& w) {
  const double length = attachment_of(w);
  Evidence wall = nominal_evidence();
  wall.inputs = {{"attachment_length", length, "mm"}};
  for (const double angle : joints::point_angles_deg)
    w.maker.push({w.index, place::chord_wall, angle, w.chord_tube->wall_mm, length}, w.chord_stress(angle), wall);
}

// A foot around which no weld can go as drawn is a place that is not covered; true where there is one. What
// is rated beside it can still fall short, and never decides that the weld meets.
bool push_feet(TubeWeld& w) {
  bool told = false;
  for (const shape::Foot& foot : w.maker.feet) {
    if (foot.weld != w.weld.id || foot.possible) continue;
    w.maker.push_not_covered(w.index, foot.finding);
    told = true;
  }
  return told;
}

void note_feet(const TubeWeld& w, Evidence& evidence) {
  for (const shape::Foot& foot : w.maker.feet) {
    if (foot.weld != w.weld.id) continue;
    evidence.coverage = worse_coverage(evidence.coverage, Coverage::extended);
    evidence.notes.push_back(foot.finding);
  }
}

// Nominal stress in the tube where its end is welded, where the set has a detail for it.
void add_end_toe(TubeWeld& w) {
  Evidence evidence = nominal_evidence();
  double factor = 1;
  if (w.weld.offset_mm > 0) {
    const double wall = w.tube->wall_mm, other = w.weld.other_wall_mm > 0 ? w.weld.other_wall_mm : wall;
    rules::Misalignment m = rules::misalignment(*w.maker.rules.set, wall, other, w.weld.offset_mm);
    factor = m.factor;
    evidence.because.push_back(std::move(m.evidence));
  }
  for (const double angle : joints::point_angles_deg) {
    w.maker.push({w.index, place::brace_toe, angle, w.tube->wall_mm},
                 Row(factor * nominal(w.brace, w.direction_at(angle), w.radius(), w.maker.size)), evidence);
    if (!w.maker.sites.back().curve) return;
  }
}

// The throat is rated by the set's own rule with the nominal force per length.
void add_throat(TubeWeld& w) {
  const double wall = w.tube->wall_mm, throat = w.weld.throat_mm;
  const Eigen::Index size = w.maker.size;
  Evidence evidence = throat_evidence(w.maker, throat, wall);
  evidence.notes.push_back(
      {w.weld.root_proven ? MessageId("rating.root-proven-rated-as-throat") : "rating.root-unproven", {}});
  if (!w.weld.root_doubt.id.empty()) evidence.notes.push_back(w.weld.root_doubt);
  if (w.weld.fusion_proven) evidence.notes.push_back({"rating.fusion-needs-model", {}});
  for (const double angle : joints::point_angles_deg) {
    const Vec3 out = w.direction_at(angle);
    const Row across = nominal(w.brace, out, w.radius(), size) * (wall / throat);
    const Row along = along_flow(w.brace, out, 0.5 * (w.tube->diameter_mm - wall), size) * (1 / throat);
    push_root(w.maker, {w.index, place::root, angle, wall}, across, Row(size), along, evidence);
  }
}

// A crack from the root through the tube's wall: nominal stress in the tube on the set's class for one-sided
// full penetration, read for a tube on a tube.
void add_root_wall(TubeWeld& w) {
  Evidence evidence = nominal_evidence();
  evidence.coverage = Coverage::extended;
  if (w.weld.root_proven)
    evidence.notes.push_back({"rating.root-proven", {text("proof", w.weld.root_proof)}});
  else
    evidence.notes.push_back({"rating.root-perhaps-fused", {}});
  for (const double angle : joints::point_angles_deg) {
    SiteMaker::Place at{w.index, place::root_wall, angle, w.tube->wall_mm};
    at.bound = !w.weld.root_proven;
    w.maker.push(at, nominal(w.brace, w.direction_at(angle), w.radius(), w.maker.size), evidence);
  }
}

// A root that is not proven may be fused or not: both are rated, and the worse counts, so that a lost proof
// gains nothing. Where the shop tested roots of such welds, its tests hold them however they are.
void add_root(TubeWeld& w) {
  const bool has_class = w.maker.has_detail(w.index, place::root_wall);
  const std::size_t first = w.maker.sites.size();
  if (!w.weld.root_proven || !has_class) add_throat(w);
  const bool tested = w.maker.sites.size() > first && !w.maker.sites[first].at_least;
  if (has_class && !tested) add_root_wall(w);
}

// The throat of a root with a model, as if it carried evenly: a check beside it.
void add_even_throat(TubeWeld& w, const PlaceKind& kind, const PlaceKind& shear) {
  if (!w.brace.element) return;
  const std::size_t first = w.maker.sites.size();
  add_throat(w);
  set_aside(w.maker, first, kind, shear);
}

// A proof by few sections leaves some roots perhaps open: by the joint's model with open roots, else by a throat that carries evenly.
void add_root_if_open(TubeWeld& w) {
  const std::size_t first = w.maker.sites.size();
  const Message left{"rating.root-perhaps-open",
                     {number("count", w.weld.root_macros, ""), number("share", 100 * fatigue::faulty_share(w.weld.root_macros), "%")}};
  if (!add_open_root_of_model(w.maker, w.index)) add_even_throat(w, place::open_root, place::open_root_shear);
  for (std::size_t i = first; i < w.maker.sites.size(); ++i) w.maker.sites[i].evidence.notes.push_back(left);
}

}  // namespace

void add_unwelded_sites(SiteMaker& maker, std::size_t index) {
  const joints::Weld& weld = maker.design.welds[index];
  const frame::RoundTube* tube = weld.member.empty() ? nullptr : maker.index.round_tube(weld.member);
  const auto tested = [&](const design::OwnDetail& d) {
    return tube && place::brace_toe == d.place && tube->wall_mm >= d.min_wall_mm * (1 - 1e-9) &&
           tube->wall_mm <= d.max_wall_mm * (1 + 1e-9) &&
           std::find(d.kinds.begin(), d.kinds.end(), weld.kind) != d.kinds.end();
  };
  const auto& own = maker.design.own_details;
  if (std::none_of(own.begin(), own.end(), tested)) return maker.push_not_covered(index, "rating.brazed");
  const frame::Member& member = maker.index.member_of(weld.member);
  const Station s =
      station(maker.assembly, member, weld.at_start ? 0 : member.nodes.size() - 2, weld.at_start);
  const Vec3 y = s.element->axes.row(1), z = s.element->axes.row(2);
  for (const double angle : joints::point_angles_deg) {
    const Vec3 out = std::cos(angle * degree) * y + std::sin(angle * degree) * z;
    maker.push({index, place::brace_toe, angle, tube->wall_mm},
               nominal(s, out, 0.5 * tube->diameter_mm, maker.size), nominal_evidence());
  }
}

void add_tube_sites(SiteMaker& maker, std::size_t index) {
  const joints::Weld& weld = maker.design.welds[index];
  const frame::Member& member = maker.index.member_of(weld.member);
  TubeWeld w{maker,
             index,
             weld,
             maker.index.seat_of(weld),
             station(maker.assembly, member, weld.at_start ? 0 : member.nodes.size() - 2, weld.at_start),
             {},
             {},
             maker.index.round_tube(weld.member),
             weld.chord.empty() ? nullptr : maker.index.round_tube(weld.chord),
             nullptr};
  if (!weld.chord.empty()) std::tie(w.before, w.after) = sides_of(maker, weld);
  if (!w.tube || (!weld.chord.empty() && !w.chord_tube)) {
    if (!add_square_k_sites(maker, index)) maker.push_not_covered(index, "rating.no-round-tube");
    return;
  }
  if (add_modelled_sites(maker, index)) {
    if (w.chord_tube && (w.before.element || w.after.element)) add_chord_wall(w);
    if (weld.root_proven || joints::counted_fusion_mm(weld, w.tube->wall_mm) > 0) add_root_if_open(w);
    if (!weld.root_proven && maker.checks == Checks::asked_for)
      add_even_throat(w, place::even_root, place::even_root_shear);
    return;
  }
  if (!w.brace.element) return maker.push_not_covered(index, "rating.no-factor");
  if (w.chord_tube && !w.before.element && !w.after.element) return maker.push_not_covered(index, "rating.chord-in-joint");
  std::optional<Factors> factors;
  if (w.chord_tube) {
    const bool told = push_feet(w);
    w.balance = balance_of(maker.design, maker.index, maker.assembly, weld);
    factors = w.factors();
    if (factors->main.evidence.coverage == Coverage::none) {
      if (!told) maker.push_not_covered(index, "rating.no-factor");
      factors.reset();
    } else {
      note_feet(w, factors->main.evidence);
      add_toes(w, *factors);
    }
  } else {
    add_end_toe(w);
  }
  add_root(w);
  if (weld.root_proven) add_root_if_open(w);
}

}  // namespace seamwright::sites
