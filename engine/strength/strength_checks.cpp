// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/strength/strength_checks.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/frame/nominal.h"
#include "engine/frame/slender.h"
#include "engine/joints/resistance.h"
#include "engine/joints/weld_strength.h"
#include "engine/sites/section_rows.h"

namespace seamwright::strength {

namespace {

using frame::Vec3;

const frame::Material& material_of(const frame::Frame& f, const frame::Member& member) {
  const frame::Tube& tube = design::tube_of(f, member);
  for (const frame::Material& m : f.materials)
    if (m.id == tube.material) return m;
  throw Fault{Message{"frame.unknown-material", {text("material", tube.material), text("tube", tube.id)}}};
}

// Keeps the most used place of each kind.
class MostUsedChecks {
 public:
  void keep_worse(StrengthCheck check) {
    if (std::isnan(check.use)) return;
    const auto [at, is_new] = checks_.try_emplace(check.kind, check);
    if (!is_new && check.use > at->second.use) at->second = std::move(check);
  }
  std::vector<StrengthCheck> list() {
    std::vector<StrengthCheck> all;
    for (auto& [kind, check] : checks_) all.push_back(std::move(check));
    return all;
  }

 private:
  std::map<std::string, StrengthCheck> checks_;
};

Evidence stress_evidence(double stress_mpa, double strength_mpa, const char* name) {
  Evidence e;
  e.figure = "stress-use";
  e.value = stress_mpa / strength_mpa;
  e.source = {"en-1993-1-1", "6.2.1(5)"};
  e.from_memory = true;
  e.inputs = {{"equivalent_stress", stress_mpa, "MPa"}, {name, strength_mpa, "MPa"}};
  return e;
}

bool welded_at(const design::Design& d, const frame::Member& m, const std::string& node) {
  return std::any_of(d.welds.begin(), d.welds.end(), [&](const joints::Weld& w) {
    return w.node == node && (w.member == m.id || w.chord == m.id);
  });
}

void check_element(const StrengthModel& m, std::size_t i, const frame::Vector12& forces,
                   MostUsedChecks& worst) {
  const frame::Element& e = m.assembly.elements[i];
  const frame::Member& member = m.cut.members[e.member];
  const frame::Material& steel = material_of(m.cut, member);
  if (!(steel.yield_mpa > 0)) return;
  const auto ends = frame::equivalent_stress_mpa(e, design::tube_of(m.cut, member).section, forces);
  for (const std::size_t end : {0U, 1U}) {
    const std::string& node = m.cut.nodes[end == 0 ? e.first : e.second].id;
    const bool soft = steel.haz_yield_mpa > 0 && welded_at(m.design, member, node);
    const double strength = soft ? steel.haz_yield_mpa : steel.yield_mpa;
    worst.keep_worse(
        {soft ? "heat-affected-zone" : "member", e.id, ends.at(end) / strength,
         stress_evidence(ends.at(end), strength, soft ? "yield_of_heat_affected_zone" : "yield")});
  }
  if (const frame::RoundTube* tube = design::round_tube(m.cut, member.id)) {
    const double limit_ratio = 90 * 235 / steel.yield_mpa, ratio = tube->diameter_mm / tube->wall_mm;
    Evidence wall;
    wall.figure = "thin-wall";
    wall.value = ratio / limit_ratio;
    wall.source = {"en-1993-1-1", "Table 5.2"};
    wall.from_memory = true;
    wall.inputs = {{"diameter/wall", ratio, ""}, {"limit of class 3", limit_ratio, ""}};
    worst.keep_worse({"thin-wall", e.id, ratio / limit_ratio, wall});
  }
}

// The whole member as one strut, hinged at its ends, with its largest compression and bending.
void check_buckling(const StrengthModel& m, const frame::Member& member, const Eigen::VectorXd& forces,
                    MostUsedChecks& worst) {
  const frame::Material& steel = material_of(m.cut, member);
  if (!(steel.yield_mpa > 0)) return;
  double compression = 0, bending = 0;
  const frame::Element* first = nullptr;
  for (std::size_t i = 0; i < m.assembly.elements.size(); ++i) {
    const frame::Element& e = m.assembly.elements[i];
    if (m.cut.members[e.member].id != member.id) continue;
    first = &e;
    for (const Eigen::Index end : {0, 6}) {
      const Eigen::Index at = 12 * static_cast<Eigen::Index>(i) + end;
      compression = std::max(compression, -forces[at]);
      bending = std::max(bending, std::abs(forces[at + 4]) / e.section.w_y_mm3 +
                                      std::abs(forces[at + 5]) / e.section.w_z_mm3);
    }
  }
  if (!first || compression <= 0) return;
  const frame::SectionProperties& p = first->section;
  const double length = design::member_length_mm(m.cut, member), least = std::min(p.i_y_mm4, p.i_z_mm4);
  const bool bar = std::holds_alternative<frame::SolidBar>(design::tube_of(m.cut, member).section);
  frame::Buckling b = frame::flexural_buckling(p.area_mm2, least, steel.youngs_mpa, steel.yield_mpa, length,
                                               bar ? 0.49 : 0.21);
  const double euler = std::numbers::pi * std::numbers::pi * steel.youngs_mpa * least / (length * length);
  const double amplified =
      compression < euler ? bending / (1 - compression / euler) : std::numeric_limits<double>::infinity();
  b.evidence.inputs.push_back({"compression", compression, "N"});
  b.evidence.inputs.push_back({"bending_stress", bending, "MPa"});
  worst.keep_worse(
      {"buckling", member.id, compression / b.resistance_n + amplified / steel.yield_mpa, b.evidence});
}

double compression_ratio(const StrengthModel& m, const joints::Weld& w, const Eigen::VectorXd& forces,
                         double yield_mpa) {
  const frame::Member& chord = design::member_of(m.cut, w.chord);
  double most = 0;
  for (std::size_t k = 0; k + 1 < chord.nodes.size(); ++k)
    for (const bool start : {true, false}) {
      if (chord.nodes[start ? k : k + 1] != w.node) continue;
      const sites::Station s = sites::station(m.assembly, chord, k, start);
      const frame::SectionProperties& p = s.element->section;
      const double stress =
          forces[s.column] / p.area_mm2 - std::hypot(forces[s.column + 4], forces[s.column + 5]) / p.w_z_mm3;
      most = std::max(most, -stress / yield_mpa);
    }
  return most;
}

joints::Shares shares_under(const StrengthModel& m, const joints::Weld& w, const Eigen::VectorXd& forces) {
  const auto balance = sites::balance_of(m.design, design::FrameIndex(m.cut), m.assembly, w);
  return balance ? sites::shares_of(*balance, forces)
                 : joints::Shares{1 - w.x_share - w.k_share, w.x_share, w.k_share};
}

void check_tube_joint(const StrengthModel& m, const joints::Weld& w, const Eigen::VectorXd& forces,
                      MostUsedChecks& worst) {
  if (w.layout != joints::Layout::tube_on_tube) return;
  const frame::RoundTube *chord = design::round_tube(m.cut, w.chord),
                         *brace = design::round_tube(m.cut, w.member);
  const double yield = material_of(m.cut, design::member_of(m.cut, w.chord)).yield_mpa;
  if (!chord || !brace || !(yield > 0) || brace->diameter_mm > chord->diameter_mm) return;
  const design::Seat seat = design::seat_of(m.cut, w);
  joints::TubeJoint j;
  j.chord_diameter_mm = chord->diameter_mm;
  j.chord_wall_mm = chord->wall_mm;
  j.brace_diameter_mm = brace->diameter_mm;
  j.brace_wall_mm = brace->wall_mm;
  j.angle_deg = seat.angle_deg;
  j.chord_yield_mpa = yield;
  j.gap_mm = w.gap_mm;
  j.chord_stress_ratio = compression_ratio(m, w, forces, yield);
  const frame::Member& member = design::member_of(m.cut, w.member);
  const sites::Station s =
      sites::station(m.assembly, member, w.at_start ? 0 : member.nodes.size() - 2, w.at_start);
  const Vec3 moment = s.element->axes.transpose() * forces.segment<3>(s.column + 3);
  const double axial = forces[s.column], in_plane = moment.dot(seat.side),
               out_of_plane = moment.dot(seat.crown);
  // Each way in which some of the force is balanced, as if all of it were.
  const joints::Shares shares = shares_under(m, w, forces);
  for (const auto& [pattern, share] :
       {std::pair{joints::Pattern::t_or_y, shares.y}, std::pair{joints::Pattern::x, shares.x},
        std::pair{joints::Pattern::k_gap, shares.k}}) {
    if (share < 0.05) continue;
    j.pattern = pattern;
    joints::TubeJointResistance r = joints::tube_joint_resistance(j);
    r.evidence.inputs.push_back({"axial", axial, "N"});
    r.evidence.inputs.push_back({"in_plane", in_plane, "N mm"});
    r.evidence.inputs.push_back({"out_of_plane", out_of_plane, "N mm"});
    worst.keep_worse(
        {"tube-joint", w.id, joints::tube_joint_use(r, axial, in_plane, out_of_plane), r.evidence});
  }
}

// Strength of the weakest stated part; 0 where one is not stated.
double weakest(const StrengthModel& m, const joints::Weld& w) {
  double least = w.filler_ultimate_mpa > 0 ? w.filler_ultimate_mpa : 1e9;
  for (const std::string& id : {w.member, w.chord}) {
    if (id.empty()) continue;
    const double ultimate = material_of(m.cut, design::member_of(m.cut, id)).ultimate_mpa;
    if (!(ultimate > 0)) return 0;
    least = std::min(least, ultimate);
  }
  return least < 1e9 ? least : 0;
}

void check_throat(const StrengthModel& m, const sites::Site& site, const Eigen::VectorXd& forces,
                  MostUsedChecks& worst) {
  if (site.kind != sites::place::root || site.beside == std::string::npos) return;
  const joints::Weld& w = m.design.welds[site.weld];
  const double ultimate = weakest(m, w);
  if (!(ultimate > 0)) return;
  const double across = std::hypot(site.row.dot(forces), site.shear.dot(forces));
  const double along = m.sites[site.beside].row.dot(forces);
  const joints::WeldUse use = joints::weld_use(joints::throat_of(across, along, 1), {ultimate, 1.0});
  worst.keep_worse({"weld-directional", w.id, use.directional, use.evidence});
  Evidence simplified = use.evidence;
  simplified.value = use.simplified;
  worst.keep_worse({"weld-simplified", w.id, use.simplified, simplified});
}

void check_bolt(const design::BoltCircle& b, const sites::Site& pull, const sites::Site& shear,
                const Eigen::VectorXd& forces, MostUsedChecks& worst) {
  const double shank = std::numbers::pi / 4 * b.thread.diameter_mm * b.thread.diameter_mm;
  const double tension = pull.row.dot(forces) * joints::size_of(b.thread).stress_area_mm2;
  const double across = std::hypot(shear.row.dot(forces), shear.shear.dot(forces)) * shank;
  joints::BoltResistance r = joints::bolt_resistance(b.thread, b.ultimate_mpa, b.brittle_in_shear);
  r.evidence.inputs.push_back({"tension", tension, "N"});
  r.evidence.inputs.push_back({"shear", across, "N"});
  worst.keep_worse({"bolt", b.id, joints::bolt_use(r, tension, across), r.evidence});
  if (!(b.preload_n > 0)) return;
  const double left = b.preload_n * (1 - b.loss_percent / 100);
  Evidence gap;
  gap.figure = "bolt-gap";
  gap.value = std::max(0.0, tension) / left;
  gap.source = {"vdi-2230", "Part 1, the clamped parts must not open"};
  gap.from_memory = true;
  gap.inputs = {{"tension", tension, "N"}, {"preload", b.preload_n, "N"}, {"loss", b.loss_percent, "%"}};
  worst.keep_worse({"bolt-gap", b.id, gap.value, gap});
}

}  // namespace

StrengthModel strength_model(const design::Design& design, const frame::Frame& cut,
                             const frame::Assembly& assembly, const rules::Published& published) {
  rules::Rules rules;
  rules::RuleSet apart = *rules.set;
  apart.throat.along = 0;  // both parts of the stress in a throat apart
  rules.set = &apart;
  design::Design unproven = design;
  for (joints::Weld& w : unproven.welds) w.root_proven = false;
  return {design, cut, assembly, sites::make_sites(unproven, cut, assembly, rules, published)};
}

std::vector<StrengthCheck> strength_checks(const StrengthModel& m, const Eigen::VectorXd& forces) {
  MostUsedChecks worst;
  for (std::size_t i = 0; i < m.assembly.elements.size(); ++i)
    check_element(m, i, forces.segment<12>(12 * static_cast<Eigen::Index>(i)), worst);
  for (const frame::Member& member : m.cut.members) check_buckling(m, member, forces, worst);
  for (const joints::Weld& w : m.design.welds) check_tube_joint(m, w, forces, worst);
  const std::size_t first_bolts = m.design.welds.size() + m.design.notches.size();
  for (std::size_t i = 0; i < m.sites.size(); ++i) {
    check_throat(m, m.sites[i], forces, worst);
    if (m.sites[i].kind == sites::place::bolt)
      check_bolt(m.design.bolts[m.sites[i].weld - first_bolts], m.sites[i], m.sites[i + 1], forces, worst);
  }
  return worst.list();
}

}  // namespace seamwright::strength
