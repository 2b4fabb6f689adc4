// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/sites.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "engine/joints/hot_spot.h"
#include "engine/joints/xk.h"
#include "engine/rating/geometry.h"

namespace seamwright::rating {

namespace {

using frame::Vec3;
using Row = Eigen::SparseVector<double>;
constexpr double degree = std::numbers::pi / 180;

// One end of one element: column of its N in the section force map (N, Vy, Vz, T, My, Mz follow).
struct Station {
  Eigen::Index column = -1;
  const frame::Element* element = nullptr;
};

Station station(const frame::Assembly& assembly, const std::string& id, bool at_start) {
  for (std::size_t i = 0; i < assembly.elements.size(); ++i)
    if (assembly.elements[i].id == id)
      return {static_cast<Eigen::Index>(12 * i + (at_start ? 0 : 6)), &assembly.elements[i]};
  throw Fault{Message{"rating.unknown-member", {text("member", id)}}};
}

std::string element_id(const frame::Member& member, std::size_t segment) {
  std::string id = member.id;
  if (member.nodes.size() > 2) id.append("/").append(std::to_string(segment + 1));
  return id;
}

// Nominal stress at the outer fibre in the global direction `out` (sigma = N/A - Mz y/Iz + My z/Iy, +x face).
Row nominal(const Station& s, const Vec3& out, double radius_mm, Eigen::Index size) {
  const frame::SectionProperties& p = s.element->section;
  const Vec3 local = s.element->axes * out * radius_mm;
  Row row(size);
  row.coeffRef(s.column) = 1 / p.area_mm2;
  row.coeffRef(s.column + 4) = local.z() / p.i_y_mm4;
  row.coeffRef(s.column + 5) = -local.y() / p.i_z_mm4;
  return row;
}

Row axial(const Station& s, Eigen::Index size) {
  Row row(size);
  row.coeffRef(s.column) = 1 / s.element->section.area_mm2;
  return row;
}

// Shear flow along the seam, N/mm: torsion and transverse shear of a thin round tube.
Row along_flow(const Station& s, const Vec3& out, double radius_mm, Eigen::Index size) {
  const Vec3 local = s.element->axes * out;
  Row row(size);
  row.coeffRef(s.column + 1) = -local.z() / (std::numbers::pi * radius_mm);
  row.coeffRef(s.column + 2) = local.y() / (std::numbers::pi * radius_mm);
  row.coeffRef(s.column + 3) = 1 / (2 * std::numbers::pi * radius_mm * radius_mm);
  return row;
}

const Detail* find_detail(const Published& published, const std::string& set, const std::string& kind,
                          const std::string& place, double attachment_mm) {
  const Detail* best = nullptr;
  for (const Detail& d : published.details) {
    if (d.set != set || d.kind != kind || d.place != place) continue;
    if (d.max_attachment_mm > 0 && attachment_mm > d.max_attachment_mm) continue;
    const auto bound = [](const Detail& x) { return x.max_attachment_mm > 0 ? x.max_attachment_mm : 1e300; };
    if (!best || bound(d) < bound(*best)) best = &d;
  }
  return best;
}

class Builder {
 public:
  Builder(const Design& design, const frame::Frame& frame, const frame::Assembly& assembly,
          const Rules& rules, const Published& published)
      : design_(design),
        frame_(frame),
        assembly_(assembly),
        rules_(rules),
        published_(published),
        size_(static_cast<Eigen::Index>(12 * assembly.elements.size())) {}

  void add(std::size_t index) {
    weld_ = index;
    const joints::Weld& weld = design_.welds[index];
    seat_ = seat_of(frame_, weld);
    const frame::Member& member = member_of(frame_, weld.member);
    brace_ =
        station(assembly_, element_id(member, weld.at_start ? 0 : member.nodes.size() - 2), weld.at_start);
    tube_ = round_tube(frame_, weld.member);
    chord_tube_ = weld.chord.empty() ? nullptr : round_tube(frame_, weld.chord);
    before_ = after_ = Station{};
    if (!weld.chord.empty()) find_chord(weld);
    if (!tube_ || (!weld.chord.empty() && !chord_tube_)) return not_covered("rating.no-round-tube");
    if (chord_tube_) add_toes(weld);
    if (weld.chord.empty()) add_plate_toe();
    add_root(weld);
  }

  std::vector<Site> take() { return std::move(sites_); }

 private:
  void find_chord(const joints::Weld& weld) {
    const frame::Member& chord = member_of(frame_, weld.chord);
    const auto at = static_cast<std::size_t>(std::find(chord.nodes.begin(), chord.nodes.end(), weld.node) -
                                             chord.nodes.begin());
    if (at > 0) before_ = station(assembly_, element_id(chord, at - 1), false);
    if (at + 1 < chord.nodes.size()) after_ = station(assembly_, element_id(chord, at), true);
  }

  Vec3 around(double angle_deg) const {
    return std::cos(angle_deg * degree) * seat_.crown + std::sin(angle_deg * degree) * seat_.side;
  }

  // The chord's own stress at the foot of a point: on its start side, its end side, or midway at the saddles.
  Row chord_stress(double angle_deg) const {
    const double beta = std::min(1.0, tube_->diameter_mm / chord_tube_->diameter_mm);
    const double across = beta * std::sin(angle_deg * degree);
    const Vec3 out = std::sqrt(1 - across * across) * seat_.chord_out + across * seat_.side;
    const double radius = 0.5 * chord_tube_->diameter_mm, towards_start = std::cos(angle_deg * degree);
    if (!before_.element) return nominal(after_, out, radius, size_);
    if (!after_.element) return nominal(before_, out, radius, size_);
    if (towards_start > 0.1) return nominal(before_, out, radius, size_);
    if (towards_start < -0.1) return nominal(after_, out, radius, size_);
    return Row(0.5 * nominal(before_, out, radius, size_) + 0.5 * nominal(after_, out, radius, size_));
  }

  joints::TyJoint geometry_of(const joints::Weld& weld, const frame::RoundTube& tube) const {
    const Seat seat = seat_of(frame_, weld);
    return {chord_tube_->diameter_mm, chord_tube_->wall_mm, seat.chord_length_mm,
            tube.diameter_mm,         tube.wall_mm,         seat.angle_deg};
  }

  joints::TyScf factors_of(const joints::Weld& weld) const {
    const joints::Shares shares{1 - weld.x_share - weld.k_share, weld.x_share, weld.k_share};
    std::optional<joints::TyJoint> other;
    for (const joints::Weld& w : design_.welds) {
      if (weld.k_share == 0 || w.id != weld.partner) continue;
      if (const frame::RoundTube* tube = round_tube(frame_, w.member)) other = geometry_of(w, *tube);
    }
    return joints::shared_scf(geometry_of(weld, *tube_), rules_.chord_fixity, shares,
                              other ? &*other : nullptr, weld.gap_mm);
  }

  void add_toes(const joints::Weld& weld) {
    const joints::TyScf scf = factors_of(weld);
    if (scf.evidence.coverage == Coverage::none) return not_covered("rating.no-factor");
    const double radius = 0.5 * tube_->diameter_mm;
    const Row n = axial(brace_, size_);
    const Row in_plane = nominal(brace_, seat_.crown, radius, size_) - n;
    const Row out_of_plane = n - nominal(brace_, seat_.side, radius, size_);
    const auto chord_side = joints::eight_point_factors(scf.chord),
               brace_side = joints::eight_point_factors(scf.brace);
    const double leg = weld.throat_mm * std::numbers::sqrt2;
    const double length = weld.attachment_length_mm > 0
                              ? weld.attachment_length_mm
                              : tube_->diameter_mm / std::sin(seat_.angle_deg * degree) + 2 * leg;
    for (Eigen::Index i = 0; i < 8; ++i) {
      const double angle = joints::point_angles_deg[static_cast<std::size_t>(i)];
      const Row own = chord_stress(angle);
      const double crown_share = std::abs(std::abs(std::cos(angle * degree)) - std::sqrt(0.5)) < 1e-6
                                     ? 0.5
                                     : std::round(std::abs(std::cos(angle * degree)));
      const auto hot = [&](const Eigen::Matrix<double, 8, 3>& f) {
        return Row(f(i, 0) * n + f(i, 1) * in_plane + f(i, 2) * out_of_plane);
      };
      push("chord-toe", angle, Row(hot(chord_side) + scf.chord_attachment * own), scf.evidence,
           chord_tube_->wall_mm, 0);
      push("brace-toe", angle, Row(hot(brace_side) + scf.brace_attachment * crown_share * own), scf.evidence,
           tube_->wall_mm, 0);
      Evidence nominal_stress;
      nominal_stress.figure = "nominal-stress";
      nominal_stress.unit = "MPa";
      nominal_stress.source = {"seamwright", "beam theory"};
      nominal_stress.inputs = {{"attachment_length", length, "mm"}};
      push("chord-wall", angle, own, nominal_stress, chord_tube_->wall_mm, length);
    }
  }

  // A tube on a plate: nominal stress in the tube where its end is welded, where the set has a detail for it.
  void add_plate_toe() {
    for (const double angle : joints::point_angles_deg) {
      Evidence e;
      e.figure = "nominal-stress";
      e.unit = "MPa";
      e.source = {"seamwright", "beam theory"};
      push("brace-toe", angle, nominal(brace_, around(angle), 0.5 * tube_->diameter_mm, size_), e,
           tube_->wall_mm, 0);
      if (!sites_.back().curve) return;
    }
  }

  void add_root(const joints::Weld& weld) {
    for (double angle : joints::point_angles_deg) {
      const Vec3 out = around(angle);
      const double mid = 0.5 * (tube_->diameter_mm - tube_->wall_mm);
      Row across = nominal(brace_, out, 0.5 * tube_->diameter_mm, size_) * (tube_->wall_mm / weld.throat_mm);
      const Row along = along_flow(brace_, out, mid, size_) * (1 / weld.throat_mm);
      Evidence evidence;
      evidence.figure = "throat-stress";
      evidence.unit = "MPa";
      evidence.source = rules_.set == "dnv"      ? Source{"dnv-rp-c203-2016", "2.3.5"}
                        : rules_.set == "en1993" ? Source{"en-1993-1-9", "5(6)"}
                                                 : Source{"iiw-1823", "detail no. 414"};
      evidence.from_memory = true;
      evidence.inputs = {{"throat", weld.throat_mm, "mm"}, {"wall", tube_->wall_mm, "mm"}};
      evidence.notes.push_back(
          {weld.root_proven ? "rating.root-proven-rated-as-throat" : "rating.root-unproven", {}});
      push("root", angle, across, evidence, tube_->wall_mm, 0);
      // DNV takes both parts into one stress; the others rate the part along the throat on a shear class and
      // join the two.
      if (rules_.set == "dnv") {
        sites_.back().shear = std::sqrt(0.2) * along;
        continue;
      }
      const std::size_t root = sites_.size() - 1;
      push("root-shear", angle, along, evidence, tube_->wall_mm, 0);
      sites_[root].beside = sites_.size() - 1;
    }
  }

  void push(const char* kind, double angle, const Row& row, const Evidence& rests_on, double thickness_mm,
            double attachment_mm) {
    Site site;
    site.weld = weld_;
    site.kind = kind;
    site.angle_deg = angle;
    site.row = row;
    site.shear = Row(size_);
    site.thickness_mm = thickness_mm;
    site.evidence = rests_on;
    const Detail* detail =
        find_detail(published_, rules_.set, design_.welds[weld_].kind, kind, attachment_mm);
    if (detail) {
      site.evidence.from_memory = site.evidence.from_memory || detail->from_memory;
      find_curve(*detail, site);
    }
    if (!site.curve) {
      site.evidence.coverage = Coverage::none;
      site.evidence.notes.push_back({"rating.no-detail", {text("set", rules_.set), text("place", kind)}});
    }
    sites_.push_back(std::move(site));
  }

  // The detail's curve in the environment of the place, if the stress may go with it.
  void find_curve(const Detail& detail, Site& site) {
    const std::string& environment =
        site.kind.starts_with("root") ? rules_.environment_inside : rules_.environment_outside;
    const std::string from = site.kind == "root"                              ? "throat"
                             : site.kind == "root-shear"                      ? "throat-shear"
                             : detail.stress == fatigue::StressKind::hot_spot ? "scf"
                                                                              : "nominal";
    const Pairing pairing = pairing_of(published_, detail.set, from, detail.stress);
    if (pairing == Pairing::refused) {
      site.evidence.notes.push_back({"rating.pair-refused", {text("set", detail.set), text("stress", from)}});
      return;
    }
    for (const fatigue::Curve& curve : published_.curves)
      if (curve.set == detail.set && curve.id == detail.curve && curve.environment == environment)
        site.curve = &curve;
    if (!site.curve && !detail.curve.empty())
      site.evidence.notes.push_back(
          {"rating.no-environment",
           {text("set", detail.set), text("curve", detail.curve), text("environment", environment)}});
    if (site.curve && pairing == Pairing::engineering) {
      site.evidence.coverage = worse(site.evidence.coverage, Coverage::extended);
      site.evidence.notes.push_back({"rating.pair-engineering", {text("set", detail.set)}});
    }
  }

  void not_covered(const char* why) {
    push("brace-toe", 0, Row(size_), Evidence{}, 1, 0);
    sites_.back().curve = nullptr;
    sites_.back().evidence.coverage = Coverage::none;
    sites_.back().evidence.notes.push_back({why, {text("weld", design_.welds[weld_].id)}});
  }

  const Design& design_;
  const frame::Frame& frame_;
  const frame::Assembly& assembly_;
  const Rules& rules_;
  const Published& published_;
  Eigen::Index size_;
  std::size_t weld_ = 0;
  Seat seat_;
  Station brace_, before_, after_;
  const frame::RoundTube* tube_ = nullptr;
  const frame::RoundTube* chord_tube_ = nullptr;
  std::vector<Site> sites_;
};

}  // namespace

std::string name_of(const Site& site) {
  std::string name = site.kind;
  return name.append("@").append(std::to_string(static_cast<int>(std::lround(site.angle_deg))));
}

std::vector<Site> make_sites(const Design& design, const frame::Frame& cut_frame,
                             const frame::Assembly& assembly, const Rules& rules,
                             const Published& published) {
  Builder builder(design, cut_frame, assembly, rules, published);
  for (std::size_t i = 0; i < design.welds.size(); ++i) builder.add(i);
  return builder.take();
}

}  // namespace seamwright::rating
