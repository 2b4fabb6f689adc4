// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/measured/rig_rating.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/cycles/rainflow.h"
#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/frame/statics.h"
#include "engine/loads/manoeuvres.h"
#include "engine/rating/service.h"

namespace seamwright::measured {

namespace {

using frame::Vec3;

const Vec3& place_of(const design::Design& design, const std::string& node) {
  for (const frame::Node& n : design.frame.nodes)
    if (n.id == node) return n.position_mm;
  throw Fault{Message{"frame.unknown-node", {text("node", node), text("user", "rig")}}};
}

const frame::Wheel& rear_of(const design::Design& design) {
  for (const frame::Wheel& w : design.frame.wheels)
    if (w.id == "R") return w;
  throw Fault{Message{"loads.no-rear-wheel", {}}};
}

// Ranges of one repetition of the steps, with a factor on the forces.
double damage_of_block(const std::vector<double>& stress, const fatigue::DamageLaw& law, double factor) {
  double damage = 0;
  for (const cycles::Cycle& c : cycles::close_repeated(stress))
    damage += c.count * law.damage(factor * c.range());
  return damage;
}

// Stress at every site for every step: sites x steps. The throat's two parts are added with the same sign:
// never below sqrt(across^2 + 0.2 along^2).
Eigen::MatrixXd step_stress(const std::vector<sites::Site>& sites, const frame::Assembly& assembly,
                            const RigCase& c, double& residual) {
  Eigen::MatrixXd loads(assembly.full_size, static_cast<Eigen::Index>(c.steps.size()));
  for (std::size_t k = 0; k < c.steps.size(); ++k)
    loads.col(static_cast<Eigen::Index>(k)) = frame::case_load(assembly, {c.id, c.steps[k], 0});
  const frame::Solution solution = frame::Statics(assembly).solve(loads);
  residual = solution.residual.maxCoeff();
  const Eigen::MatrixXd forces = frame::section_force_map(assembly) * solution.displacements;
  Eigen::MatrixXd stress(static_cast<Eigen::Index>(sites.size()), loads.cols());
  for (std::size_t i = 0; i < sites.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    stress.row(row) = (forces.transpose() * Eigen::VectorXd(sites[i].row)).transpose();
    if (sites[i].shear.nonZeros() == 0) continue;
    const Eigen::RowVectorXd along = (forces.transpose() * Eigen::VectorXd(sites[i].shear)).transpose();
    const double sign = stress.row(row).dot(along) < 0 ? -1 : 1;
    stress.row(row) += sign * along;
  }
  sites::add_balanced(sites, forces, stress);
  return stress;
}

// Factor on the forces with which the case's cycles do a damage, by bisection in its logarithm.
double equal_force(const std::vector<double>& stress, const fatigue::DamageLaw& law, double cycles,
                   double damage) {
  double low = 1e-4, high = 1e4;
  if (!(cycles * damage_of_block(stress, law, high) > damage)) return std::numeric_limits<double>::infinity();
  for (int i = 0; i < 80; ++i) {
    const double middle = std::sqrt(low * high);
    (cycles * damage_of_block(stress, law, middle) < damage ? low : high) = middle;
  }
  return std::sqrt(low * high);
}

RigResult rate_rig(const rating::Job& job, const frame::Frame& cut, const std::vector<sites::Site>& sites,
                   const RigCase& c, const rating::Rating& service) {
  RigResult r;
  r.id = c.id;
  r.cycles = c.cycles;
  r.not_applicable = c.not_applicable;
  r.from_memory = c.from_memory;
  if (!c.not_applicable.empty()) return r;
  frame::Frame held = cut;
  held.supports = c.fixings;
  const frame::Assembly assembly = frame::assemble(held, frame::Footing::supports);
  const Eigen::MatrixXd stress = step_stress(sites, assembly, c, r.residual);
  // The first weld that has a number: welds without one stand above those that meet their service.
  const auto governs = std::find_if(service.welds.begin(), service.welds.end(),
                                    [](const rating::WeldRating& w) { return !w.sites[0].curve.empty(); });
  if (governs != service.welds.end()) {
    r.service_weld = governs->id;
    r.service_site = governs->sites[0].site;
    r.service_damage = governs->sites[0].damage_unfactored;
  }
  r.equal_cycles = r.equal_force = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < sites.size(); ++i) {
    if (sites[i].aside) continue;  // a check decides nothing
    const auto row = static_cast<Eigen::Index>(i);
    const std::vector<double> steps(stress.row(row).begin(), stress.row(row).end());
    if (!sites[i].curve) {
      r.uncovered = true;
      continue;
    }
    if (sites[i].at_least) r.uncovered = true;
    const fatigue::DamageLaw law(*sites[i].curve,
                                 sites[i].size_factor * fatigue::thickness_factor(*sites[i].curve, sites[i].thickness_mm));
    const double per_cycle = damage_of_block(steps, law, 1), damage = c.cycles * per_cycle;
    const std::string weld = design::subject_of(job.design, sites[i].weld).id;
    if (damage > r.damage) {
      r.damage = damage;
      r.weld = weld;
      r.site = name_of(sites[i]);
    }
    if (weld != r.service_weld || name_of(sites[i]) != r.service_site || !(per_cycle > 0)) continue;
    r.rig_damage_there = damage;
    r.equal_cycles = r.service_damage / per_cycle;
    r.equal_force = equal_force(steps, law, c.cycles, r.service_damage);
  }
  r.passes = r.damage <= 1 && !r.uncovered;
  return r;
}

}  // namespace

std::vector<std::vector<frame::NodeLoad>> pedalling_steps(const design::Design& design,
                                                          const loads::Drive& drive, double force_n) {
  constexpr double tilt = 7.5 * degree, beside_mm = 150, arm_mm = 175;
  const double lever = arm_mm * std::numbers::sqrt2 / 2;  // cranks at 45 degrees
  const frame::Wheel& rear = rear_of(design);
  const Vec3& bracket = place_of(design, design.carriers.pedal_node);
  const Vec3& axle = place_of(design, rear.node);
  std::vector<std::vector<frame::NodeLoad>> steps;
  for (const double side : {1.0, -1.0}) {
    const Vec3 force = force_n * Vec3(0, side * std::sin(tilt), -std::cos(tilt));
    Vec3 moment = Vec3(lever, side * beside_mm, -lever).cross(force);
    const double chain = moment.y() / drive.chainring_radius_mm;
    moment.y() = 0;  // the chain holds the crank
    const Vec3 pull = chain * loads::chain_direction(bracket, axle, drive),
               offset(0, -drive.chain_offset_mm, 0);
    steps.push_back({});  // off the pedal
    steps.push_back({{design.carriers.pedal_node, force + pull, moment + offset.cross(pull)},
                     {rear.node, -pull, -offset.cross(pull)}});
  }
  return steps;
}

std::vector<std::vector<frame::NodeLoad>> seat_steps(const design::Design& design, double force_n) {
  constexpr double behind_mm = 70;
  const Vec3 force(0, 0, -force_n);
  place_of(design, design.carriers.saddle_node);
  return {{}, {{design.carriers.saddle_node, force, Vec3(-behind_mm, 0, 0).cross(force)}}};
}

std::vector<RigResult> rate_rigs(const rating::Job& job, const rules::Published& published,
                                 const std::vector<RigCase>& cases, const rating::Rating& service) {
  const rating::JointsOfJob joints = rating::joints_of(job);
  const frame::Frame cut = rating::jointed_frame(job, joints);
  const std::vector<sites::Site> sites =
      sites::make_sites(job.design, cut, frame::assemble(cut, frame::Footing::nothing), job.rules, published, joints.modelled);
  std::vector<RigResult> results;
  for (const RigCase& c : cases) results.push_back(rate_rig(job, cut, sites, c, service));
  return results;
}

}  // namespace seamwright::measured
