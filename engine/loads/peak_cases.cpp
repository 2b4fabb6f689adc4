// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/peak_cases.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/evidence/constants.h"
#include "engine/loads/stability.h"

namespace seamwright::loads {

namespace {

using frame::Vec3;

class Cases {
 public:
  Cases(const frame::Frame& frame, const Carriers& carriers, const Duty& duty, const Steering& steering,
        const Pose& loading)
      : frame_(frame),
        carriers_(carriers),
        duty_(duty),
        peaks_(duty.peaks),
        steering_(steering),
        trike_(loading, frame, carriers, duty.rider, steering),
        pose_(loading) {}

  PeakCases all_cases() {
    kerbs();
    drop();
    driving();
    fall();
    scrub();
    people();
    parking();
    transport();
    return std::move(out_);
  }

 private:
  Eigen::VectorXd no_load() const { return Eigen::VectorXd::Zero(trike_.assembly().full_size); }

  void add_force(Eigen::VectorXd& load, const std::string& node, const Vec3& force,
                 const Vec3& arm = Vec3::Zero()) const {
    trike_.node_position(node);
    const auto first = 6 * static_cast<Eigen::Index>(trike_.assembly().node_index.at(node));
    load.segment<3>(first) += force;
    load.segment<3>(first + 3) += arm.cross(force);
  }

  void add(const char* id, const Eigen::VectorXd& load, double value, const char* unit, Source source,
           std::vector<Input> inputs) {
    const Eigen::VectorXd moved = trike_.displacements(load).col(0);
    add_forces(id, trike_.standing_forces() + trike_.section_forces(moved).col(0), value, unit, std::move(source),
               std::move(inputs));
    out_.cases.back().displacements = trike_.standing_displacement() + moved;
  }
  void add_forces(const char* id, Eigen::VectorXd forces, double value, const char* unit, Source source,
                  std::vector<Input> inputs) {
    PeakCase c{id, pose_, std::move(forces), {}, {}};
    c.evidence.figure = std::string("peak-case");
    c.evidence.value = value;
    c.evidence.unit = std::string(unit);
    c.evidence.source = std::move(source);
    c.evidence.inputs = std::move(inputs);
    out_.cases.push_back(std::move(c));
  }
  static Source assumed(const char* what) { return {"seamwright", what}; }

  double wheel_load(std::size_t wheel) const {
    return trike_.wheel_loads(trike_.standing_displacement())[static_cast<Eigen::Index>(wheel)];
  }

  Eigen::VectorXd balanced(const Eigen::VectorXd& load) const { return loads::balanced_load(trike_, load); }

  void kerbs() {
    Eigen::VectorXd square = no_load();
    double largest = 0;
    const double ratio = climb_ratio(peaks_.kerb_mm, trike_.wheel("FL").radius_mm);
    for (std::size_t i = 0; i < trike_.frame().wheels.size(); ++i) {
      const frame::Wheel& w = trike_.frame().wheels[i];
      if (w.id == "R") continue;
      // The wheel carries its load already: the strike adds what is beyond it.
      const double load = wheel_load(i), up = (peaks_.shock_factor - 1) * load;
      add_force(square, w.node, {-ratio * peaks_.shock_factor * load, 0, up});
      largest = std::max(largest, peaks_.shock_factor * load);
    }
    add("kerb-square", balanced(square), largest, "N",
        assumed("shock factor; direction of the force derived"),
        {{"shock_factor", peaks_.shock_factor, ""},
         {"kerb", peaks_.kerb_mm, "mm"},
         {"back_over_up", ratio, ""}});
    const frame::Wheel& left = trike_.wheel("FL");
    const double side = peaks_.side_factor * wheel_load(0);
    Eigen::VectorXd sideways = no_load();
    add_force(sideways, left.node, {0, -side, 0}, frame::contact_arm_mm(left));
    add("kerb-sideways", balanced(sideways), side, "N", assumed("side force at the left front contact"),
        {{"side_factor", peaks_.side_factor, ""}});
  }

  void drop() {
    Eigen::VectorXd load = no_load();
    double largest = 0;
    for (std::size_t i = 0; i < trike_.frame().wheels.size(); ++i) {
      const frame::Wheel& w = trike_.frame().wheels[i];
      const double factor = drop_factor(peaks_.drop_mm, wheel_load(i) / w.radial_n_mm);
      largest = std::max(largest, factor);
      add_force(load, w.node, {0, 0, (factor - 1) * wheel_load(i)});
    }
    add("drop", balanced(load), largest, "", {"statics", "fall onto a spring, energy, without damping"},
        {{"drop", peaks_.drop_mm, "mm"}});
  }

  void driving() {
    const StabilityCase s = stability_case(frame_, carriers_, duty_.rider, steering_, pose_);
    const double braking = std::min(peaks_.friction * gravity_m_s2, s.forward_m_s2);
    const Brakes front{0.5, 0.5, 0};
    add("full-braking", brake_load(trike_, front, braking), braking, "m/s2",
        {"statics", "friction, or the rear wheel lifts; front brakes alone"},
        {{"friction", peaks_.friction, ""}});
    const double tip = tip_threshold_m_s2(s);
    add("tip-over", corner_load(trike_, tip), tip, "m/s2", {"statics", "the inner front wheel lifts"}, {});
  }

  // The trike falls on its side: the ground stops the grip and the wheel of one side.
  void fall() {
    const double force = peaks_.fall_factor * trike_.balance().mass_kg * gravity_m_s2 / 2;
    Eigen::VectorXd load = no_load();
    add_force(load, trike_.wheel("FL").node, {0, -force, 0});
    std::string grip;
    for (const std::string& node : carriers_.bar_nodes)
      if (grip.empty() || trike_.node_position(node).y() > trike_.node_position(grip).y()) grip = node;
    add_force(load, grip.empty() ? carriers_.saddle_node : grip, {0, -force, 0});
    add("fall", balanced(load), force, "N",
        assumed("half of the weight times the factor at grip and wheel each"),
        {{"fall_factor", peaks_.fall_factor, ""}});
  }

  // Turned on the spot: friction turns against each front tyre's patch (a line of its length, evenly
  // pressed: friction times load times a quarter of it); the hands hold against it at the grips.
  void scrub() {
    Eigen::VectorXd load = no_load();
    double torque = 0;
    for (std::size_t i = 0; i < trike_.frame().wheels.size(); ++i) {
      const frame::Wheel& w = trike_.frame().wheels[i];
      if (w.id == "R") continue;
      const double own = peaks_.friction * wheel_load(i) * w.contact_length_mm / 4;
      load[6 * static_cast<Eigen::Index>(trike_.assembly().wheel_nodes[i]) + 5] += own;
      torque += own;
    }
    if (carriers_.bar_nodes.size() < 2) return void(out_.missing.emplace_back("scrub"));
    const std::string &a = carriers_.bar_nodes[0], &b = carriers_.bar_nodes[1];
    const double apart = trike_.node_position(a).y() - trike_.node_position(b).y();
    // A pair along x turns right-handed by -apart times the force at the first grip.
    add_force(load, a, {torque / apart, 0, 0});
    add_force(load, b, {-torque / apart, 0, 0});
    add("scrub", load, torque, "N mm", {"statics", "friction on an evenly pressed line"},
        {{"friction", peaks_.friction, ""}});
  }

  void people() {
    std::string edge;
    for (const std::string& node : carriers_.box_nodes)
      if (edge.empty() ||
          std::abs(trike_.node_position(node).y()) > std::abs(trike_.node_position(edge).y()) + 1 ||
          (std::abs(std::abs(trike_.node_position(node).y()) - std::abs(trike_.node_position(edge).y())) <=
               1 &&
           trike_.node_position(node).x() > trike_.node_position(edge).x()))
        edge = node;
    if (edge.empty()) {
      out_.missing.emplace_back("climbing");
    } else {
      const double force = peaks_.climber_kg * gravity_m_s2;
      Eigen::VectorXd load = no_load();
      add_force(load, edge, {0, 0, -force});
      add("climbing", load, force, "N", assumed("one person on the outermost node of the box"),
          {{"climber", peaks_.climber_kg, "kg"}});
    }
    if (peaks_.belt_nodes.empty()) return void(out_.missing.emplace_back("belts"));
    Eigen::VectorXd load = no_load();
    for (const std::string& node : peaks_.belt_nodes) add_force(load, node, {peaks_.belt_n, 0, 0});
    add("belts", balanced(load), peaks_.belt_n, "N", assumed("forward at every anchor"), {});
  }

  void parking() {
    const double along = gravity_m_s2 * std::sin(std::atan(peaks_.slope_percent / 100));
    add("parking", brake_load(trike_, Brakes{0, 0, 1}, along), along, "m/s2",
        {"statics", "held on a slope by the rear wheel, nose down"}, {{"slope", peaks_.slope_percent, "%"}});
  }

  void transport() {
    if (peaks_.lash_nodes.empty()) {
      out_.missing.emplace_back("lashing");
    } else {
      Eigen::VectorXd load = no_load();
      for (const std::string& node : peaks_.lash_nodes) add_force(load, node, {0, 0, -peaks_.lash_n});
      add("lashing", load, peaks_.lash_n, "N", assumed("a strap down at every lashing node"), {});
    }
    if (peaks_.tow_node.empty()) {
      out_.missing.emplace_back("towing");
    } else {
      Eigen::VectorXd load = no_load();
      add_force(load, peaks_.tow_node, {peaks_.tow_n, 0, 0});
      add("towing", balanced(load), peaks_.tow_n, "N", assumed("pull forward"), {});
    }
    if (peaks_.lift_nodes.size() < 3) return void(out_.missing.emplace_back("lifting"));
    frame::Frame hung = trike_.frame();
    hung.supports.clear();
    for (const std::string& node : peaks_.lift_nodes) {
      trike_.node_position(node);
      hung.supports.push_back({node, {true, true, true, false, false, false}});
    }
    const frame::Assembly a = frame::assemble(hung, frame::Footing::supports);
    const Eigen::VectorXd u = frame::Statics(a).solve(frame::gravity_load(a)).displacements.col(0);
    add_forces("lifting", peaks_.lift_factor * (frame::section_force_map(a) * u), peaks_.lift_factor, "",
               assumed("weight times the factor, held at the lifting nodes"), {});
  }

  const frame::Frame& frame_;
  const Carriers& carriers_;
  const Duty& duty_;
  const Peaks& peaks_;
  const Steering& steering_;
  PosedTrike trike_;
  Pose pose_;
  PeakCases out_;
};

}  // namespace

double drop_factor(double drop_mm, double rest_deflection_mm) {
  return 1 + std::sqrt(1 + 2 * drop_mm / rest_deflection_mm);
}

double climb_ratio(double edge_mm, double radius_mm) {
  if (edge_mm >= radius_mm) return std::numeric_limits<double>::infinity();
  return std::sqrt(edge_mm * (2 * radius_mm - edge_mm)) / (radius_mm - edge_mm);
}

PeakCases peak_cases(const frame::Frame& frame, const Carriers& carriers, const Duty& duty,
                     const Steering& steering, const Pose& loading) {
  return Cases(frame, carriers, duty, steering, loading).all_cases();
}

}  // namespace seamwright::loads
