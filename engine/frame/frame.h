// SPDX-License-Identifier: GPL-3.0-or-later
// The frame as drawn: plain data. x forward, y left, z up; origin on the ground, on the middle line, below
// the rear axle.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "engine/frame/material.h"
#include "engine/frame/section.h"
#include "engine/frame/vector.h"

namespace seamwright::frame {

struct Tube {
  std::string id;
  Section section;
  std::string material;
  bool operator==(const Tube&) const = default;
};

struct Node {
  std::string id;
  Vec3 position_mm{0, 0, 0};
  bool operator==(const Node&) const = default;
};

/// One piece of tube through two or more nodes in their order; straight or bent at nodes. Its elements, one
/// between two successive nodes, are named "ID/1", "ID/2", ...; a member of two nodes has one element named
/// "ID".
struct Member {
  std::string id;
  std::string tube;
  std::vector<std::string> nodes;
  std::optional<Vec3>
      up;  ///< direction of local y before it is squared to the axis; default z, or x for upright members
  bool axial_only = false;  ///< a link: takes force along its axis only
  double start_cut_mm =
      0;  ///< rigid length from the first node to the member's flexible start (a chord's radius)
  double end_cut_mm = 0;  ///< the same at the last node
  Vec3 start_offset_mm{0, 0, 0},
      end_offset_mm{0, 0, 0};  ///< eccentric joints: rigid arm from the node to the axis
  /// The tube goes on past its first and last node by this (less than zero: it ends before); none: as far as
  /// what stands on it asks. For its shape alone.
  std::optional<double> start_overhang_mm{}, end_overhang_mm{};
  /// The flexible end moves this far against the node per force and moment on it, global axes: mm/N,
  /// rad/(N mm).
  Eigen::Matrix<double, 6, 6> start_flexibility = Eigen::Matrix<double, 6, 6>::Zero();
  Eigen::Matrix<double, 6, 6> end_flexibility = Eigen::Matrix<double, 6, 6>::Zero();
  bool operator==(const Member&) const = default;
};

/// Two nodes at one place, joined but for the rotation about the axis (the steering pivot).
struct Hinge {
  std::string id, first, second;
  Vec3 axis{0, 0, 1};
  bool operator==(const Hinge&) const = default;
};

/// Damper between two nodes along the line that joins them.
struct Damper {
  std::string id, first, second;
  double damping_n_s_m = 0;
  bool operator==(const Damper&) const = default;
};

/// A rigid body carried by one node (rigidly) or by three or more nodes not in line (a loose fit in the
/// least-squares sense: it adds inertia and weight, no stiffness).
struct Mass {
  std::string id;
  double mass_kg = 0;
  Vec3 position_mm{0, 0, 0};
  std::vector<std::string> nodes;
  Vec3 inertia_kg_m2{0, 0, 0};  ///< about its own centre, axes x, y, z
  bool operator==(const Mass&) const = default;
};

/// A mass that rides rigidly with one node but for the sprung directions, in each of which it sits on a
/// spring and damper.
struct SprungMass {
  std::string id;
  double mass_kg = 0;
  Vec3 position_mm{0, 0, 0};
  std::string node;
  struct Direction {
    Vec3 axis{0, 0, 1};
    double frequency_hz = 0, damping_ratio = 0;  ///< k = m (2 pi f)^2, c = 2 zeta m (2 pi f)
    bool operator==(const Direction&) const = default;
  };
  std::vector<Direction> sprung;
  bool operator==(const SprungMass&) const = default;
};

/// A wheel on its axle node; its contact point is contact_arm_mm away.
struct Wheel {
  std::string id;  ///< FL, FR or R
  std::string node;
  double radius_mm = 0;
  double radial_n_mm = 0, lateral_n_mm = 0;
  double damping_n_s_m = 0;
  double contact_length_mm = 0;  ///< for enveloping of short waves
  /// Sideways damping of the rolling tyre at its contact; about cornering stiffness over speed, less the
  /// share that the tyre's own spring takes up.
  double lateral_damping_n_s_m = 0;
  double heading_deg = 0;            ///< turned about the upright, positive to the left; set by steering
  double camber_deg = 0;             ///< front wheels: top leaning inwards, on rigid uprights
  double section_radius_mm = 0;      ///< of the tyre's round section; needed with camber
  double camber_thrust_per_deg = 0;  ///< side force over load, towards the lean
  std::string torque_node{};         ///< where brake or motor torque meets the frame; "" = at the axle
  bool operator==(const Wheel&) const = default;
};

/// The arm leads from the hub to the contact point, mm: R sin(camber) outwards (heading turns it) and R
/// cos(camber) + r down, with R = radius - r the torus' centre circle and r its section radius. Derived.
Vec3 contact_arm_mm(const Wheel& wheel);
/// +1 on the left, -1 on the right, 0 for the rear.
double side_of(const Wheel& wheel);

/// A joint as one elastic body without mass of its own: members go on from its ends as beams, and nodes lie within it. Between a
/// member's last node inside and its end the member's mass counts as a beam's.
struct JointBody {
  std::string id;
  struct End {
    std::string node;  ///< a node of its own, where the beam begins
    std::string member;
    std::size_t segment = 0;  ///< of the member, the first being 0
    bool at_start = true;     ///< which end of the segment begins here
    bool operator==(const End&) const = default;
  };
  std::vector<End> ends;
  std::vector<std::string> nodes;
  struct Segment {
    std::string member;
    std::size_t segment = 0;
    bool operator==(const Segment&) const = default;
  };
  std::vector<Segment> within;  ///< these lie in the body as a whole and are no beams
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< rows: its own axes in global ones; left-handed for a mirror image
  /// Forces and moments that it takes at its ends, then at its nodes, six each, per their displacements, all in its own axes.
  Eigen::MatrixXd stiffness;
  bool operator==(const JointBody& other) const;
};

struct Support {
  std::string node;
  std::array<bool, 6> fixed{};  ///< ux uy uz rx ry rz
  bool operator==(const Support&) const = default;
};

struct NodeLoad {
  std::string node;
  Vec3 force_n{0, 0, 0}, moment_nmm{0, 0, 0};
  bool operator==(const NodeLoad&) const = default;
};

struct LoadCase {
  std::string id;
  std::vector<NodeLoad> loads;
  double gravity_factor = 0;  ///< times 9.80665 m/s2 downward on every mass
  bool operator==(const LoadCase&) const = default;
};

struct Frame {
  std::vector<Material> materials;
  std::vector<Tube> tubes;
  std::vector<Node> nodes;
  std::vector<Member> members;
  std::vector<JointBody> bodies;
  std::vector<Hinge> hinges;
  std::vector<Damper> dampers;
  std::vector<Mass> masses;
  std::vector<SprungMass> sprung_masses;
  std::vector<Wheel> wheels;
  std::vector<Support> supports;
  std::vector<LoadCase> cases;
  bool operator==(const Frame&) const = default;
};

}  // namespace seamwright::frame
