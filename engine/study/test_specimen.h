// SPDX-License-Identifier: GPL-3.0-or-later
// A weld's joint cut out of the frame as a piece for a test rig: all its tubes, the chord clamped, one actuator at the
// brace's free end. Lengths in mm, forces in N, moments in N mm, in the axes of the joint's own task.
//
// Lengths: the joint's model shows that a rigid end holds the wall round no longer from two diameters of a chord and one
// of a brace beyond the toes on (docs/methods/joints.md). Pieces have three: an assumption that rounds up.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "engine/frame/section.h"
#include "engine/frame/vector.h"

namespace seamwright::design {
struct Design;
}
namespace seamwright::solid {
struct ModelledJoint;
}

namespace seamwright::study {

/// The actuator at the brace's end pulls along it, or pushes square to it in the plane of brace and chord, or square to that plane.
enum class TestForce { axial, in_plane, out_of_plane };
inline constexpr std::array test_forces{TestForce::axial, TestForce::in_plane, TestForce::out_of_plane};
/// "axial", "in-plane", "out-of-plane".
const char* name_of(TestForce force);

enum class TubeUse { held, loaded, free };
/// "held", "loaded", "free".
const char* name_of(TubeUse use);

/// One tube of the piece, as it leaves the joint.
struct SpecimenTube {
  std::string member;
  frame::Section section;
  std::string material;
  frame::Vec3 out{0, 0, 0};        ///< unit vector along the tube, away from the joint
  frame::Vec3 model_end_mm{0, 0, 0};  ///< the joint's model ends here
  double beyond_model_mm = 0;      ///< from there to the clamp's edge, or to the line of force
  double toe_mm = 0;               ///< the weld's furthest toe along the tube, from the node
  double length_mm = 0;            ///< from the node to the clamp's edge, or to the line of force: a multiple of 5 mm at least
  TubeUse use = TubeUse::free;
};

struct Specimen {
  std::string weld, node, member, chord, procedure;
  double throat_mm = 0, leg_crown_mm = 0, leg_saddle_mm = 0;  ///< as drawn; legs as the solid has them
  double angle_deg = 0;                                       ///< between the axes, at most 90
  frame::Vec3 node_mm{0, 0, 0};
  frame::Vec3 brace{0, 0, 0}, in_plane{0, 0, 0}, across{0, 0, 0};  ///< unit vectors: along the brace, and the two square to it
  frame::Vec3 along_chord{0, 0, 0};                                ///< unit vector, at less than 90 degrees to the brace
  bool mirrored = false;  ///< the task is a mirror image of the piece: what leads to its left there leads to its right
  frame::Section chord_section;
  double chord_behind_mm = 0, chord_ahead_mm = 0;  ///< the chord ends so far from the node in the model
  std::vector<SpecimenTube> tubes;                                 ///< in the order of the joint's ends
  std::size_t loaded = 0;                                          ///< of the tubes
  bool chord_held = false;  ///< else the joint's other tubes are, as the chord ends within the joint

  const SpecimenTube& loaded_tube() const { return tubes[loaded]; }
  frame::Vec3 direction(TestForce force) const;
  /// The force acts so far from the weld's toe.
  double lever_mm() const;
};

/// The piece of a seam of a joint. None where its brace ends within the joint, so that nothing can pull at it, or
/// nothing is left to hold.
std::optional<Specimen> specimen_of(const design::Design& design, const solid::ModelledJoint& joint, std::size_t seam);

/// One newton of the actuator does this, a column for each of test_forces.
struct SpecimenForces {
  Eigen::MatrixXd at_ends;  ///< six rows for each of the joint's ends: force and moment on the joint
  Eigen::RowVectorXd nominal_mpa;  ///< the largest nominal stress in a tube: at the weld's toe, at the model's end or at a clamp
  std::array<std::string, 3> where;  ///< that tube's member
  Eigen::RowVectorXd stroke_mm;    ///< the actuator moves by this along its own direction
};

/// The same piece or its mirror image: tubes, lengths and uses, angle, throat, and legs to a tenth of a mm.
bool alike(const Specimen& a, const Specimen& b);

/// The joint's own stiffness with a beam (Timoshenko; frame/element.h) on each held end, clamped where it is held.
SpecimenForces specimen_forces(const Specimen& specimen, const solid::ModelledJoint& joint);

}  // namespace seamwright::study
