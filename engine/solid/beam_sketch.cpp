// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/beam_sketch.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/frame/element.h"
#include "engine/joints/flexibility.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::solid {

namespace {

using frame::RoundTube;

const shape::Stretch* tube_of(const JointTask& task, int part) {
  const auto* tube = std::get_if<shape::Hollow>(&task.parts[static_cast<std::size_t>(part)].body);
  return tube && std::holds_alternative<RoundTube>(tube->stretches.front().section) ? &tube->stretches.front() : nullptr;
}

// Places of the sketch: ends and seats first, as in the answer, then two at each seam.
class Sketch {
 public:
  explicit Sketch(const JointTask& task) : task_(task), on_part_(task.parts.size()) {
    for (const End& e : task.ends) add(e.part, e.at);
    for (const Seat& s : task.seats) add(s.part, s.at);
    first_inner_ = places_.size();
    for (const Seam& s : task.seams) {
      const Vec3 node = s.fillet.brace.from, along = shape::along(s.fillet.brace);
      const double sine = std::max(0.1, along.cross(shape::along(s.fillet.chord)).norm());
      add(s.chord, node);
      add(s.brace, node + shape::outer_radius_mm(s.fillet.chord.section) / sine * along);
    }
    stiffness_ = Eigen::MatrixXd::Zero(6 * static_cast<Eigen::Index>(places_.size()), 6 * static_cast<Eigen::Index>(places_.size()));
  }

  bool assemble() {
    for (std::size_t p = 0; p < on_part_.size(); ++p)
      if (!add_beams(static_cast<int>(p))) return false;
    for (std::size_t i = 0; i < task_.seams.size(); ++i)
      if (!add_foot(task_.seams[i], first_inner_ + 2 * i)) return false;
    return true;
  }

  // The first end is held. None where something hangs free.
  std::optional<Eigen::MatrixXd> flexibility() const {
    const Eigen::Index moving = stiffness_.rows() - 6, wanted = 6 * static_cast<Eigen::Index>(first_inner_ - 1);
    const Eigen::LDLT<Eigen::MatrixXd> solver(stiffness_.bottomRightCorner(moving, moving));
    if (solver.info() != Eigen::Success || !(solver.vectorD().minCoeff() > 1e-15 * solver.vectorD().maxCoeff())) return {};
    const Eigen::MatrixXd f = solver.solve(Eigen::MatrixXd::Identity(moving, wanted)).topRows(wanted);
    return Eigen::MatrixXd((f + f.transpose()) / 2);
  }

 private:
  void add(int part, const Vec3& at) {
    on_part_[static_cast<std::size_t>(part)].push_back(places_.size());
    places_.push_back(at);
  }

  void add_block(std::size_t a, std::size_t b, const Eigen::Matrix<double, 12, 12>& k) {
    const std::array<Eigen::Index, 2> at{6 * static_cast<Eigen::Index>(a), 6 * static_cast<Eigen::Index>(b)};
    for (Eigen::Index i = 0; i < 2; ++i)
      for (Eigen::Index j = 0; j < 2; ++j)
        stiffness_.block<6, 6>(at[static_cast<std::size_t>(i)], at[static_cast<std::size_t>(j)]) += k.block<6, 6>(6 * i, 6 * j);
  }

  bool add_beams(int part) {
    const shape::Stretch* tube = tube_of(task_, part);
    if (!tube) return false;
    std::vector<std::size_t> chain = on_part_[static_cast<std::size_t>(part)];
    const Vec3 axis = shape::along(*tube);
    std::stable_sort(chain.begin(), chain.end(), [&](std::size_t a, std::size_t b) { return places_[a].dot(axis) < places_[b].dot(axis); });
    const frame::SectionProperties p = frame::section_properties(tube->section, task_.steel.poisson).properties;
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) {
      const Vec3 from = places_[chain[i]], to = places_[chain[i + 1]];
      // Places side by side move as one: a beam of a millimetre is as good as rigid.
      const double length = std::max(1.0, (to - from).dot(axis));
      const auto axes = *frame::local_axes(axis, std::nullopt);
      const Vec3 arm = to - from - length * axis;
      const Eigen::Matrix<double, 12, 12> local = frame::to_local_ends(axes, arm, Vec3::Zero());
      add_block(chain[i], chain[i + 1],
          local.transpose() * frame::element_stiffness({p, task_.steel.youngs_mpa, task_.steel.poisson, 0, length, false}) * local);
    }
    return true;
  }

  // A rigid arm from the chord's axis to the brace's foot, and springs there.
  bool add_foot(const Seam& seam, std::size_t chord_place) {
    const std::optional<joints::TyJoint> joint = equation_joint(task_, seam);
    if (!joint) return false;
    const joints::JointFlexibility f = joints::joint_flexibility(*joint, task_.steel.youngs_mpa);
    // A brace as wide as its chord gives way by nothing in the formula: a thousandth of a beam's length of one diameter keeps it finite.
    const RoundTube& t = std::get<RoundTube>(tube_of(task_, seam.brace)->section);
    const frame::SectionProperties p = frame::section_properties(t, task_.steel.poisson).properties;
    const double axial = p.area_mm2 * task_.steel.youngs_mpa / t.diameter_mm, turning = p.i_y_mm4 * task_.steel.youngs_mpa / t.diameter_mm;
    const auto spring = [](double flexibility, double beam) { return 1 / std::max(flexibility, 1e-3 / beam); };
    Eigen::Matrix<double, 6, 1> along_axes;
    along_axes << spring(f.axial, axial), 1e3 * axial, 1e3 * axial, 1e3 * turning, spring(f.in_plane, turning), spring(f.out_of_plane, turning);
    const Vec3 x = shape::along(seam.fillet.brace), z = seam.fillet.crown, y = z.cross(x);
    Eigen::Matrix3d axes;
    axes << x.transpose(), y.transpose(), z.transpose();
    // What moves between foot and arm, in the brace's axes.
    Eigen::Matrix<double, 6, 12> apart = Eigen::Matrix<double, 6, 12>::Zero();
    const Vec3 arm = places_[chord_place + 1] - places_[chord_place];
    apart.block<3, 3>(0, 0) = -axes;
    apart.block<3, 3>(0, 3) = axes * frame::cross_matrix(arm);
    apart.block<3, 3>(3, 3) = -axes;
    apart.block<3, 3>(0, 6) = axes;
    apart.block<3, 3>(3, 9) = axes;
    add_block(chord_place, chord_place + 1, apart.transpose() * along_axes.asDiagonal() * apart);
    return true;
  }

  const JointTask& task_;
  std::vector<std::vector<std::size_t>> on_part_;
  std::vector<Vec3> places_;
  std::size_t first_inner_ = 0;
  Eigen::MatrixXd stiffness_;
};

}  // namespace

std::optional<joints::TyJoint> equation_joint(const JointTask& task, const Seam& seam) {
  const shape::Stretch *brace = tube_of(task, seam.brace), *chord = tube_of(task, seam.chord);
  if (!brace || !chord) return {};
  const auto &b = std::get<RoundTube>(brace->section), &c = std::get<RoundTube>(chord->section);
  const double cosine = std::abs(shape::along(*brace).dot(shape::along(*chord)));
  // Its length between the sawn ends: the same in both joints that are compared, and of no weight in what is left of it there.
  return joints::TyJoint{c.diameter_mm, c.wall_mm, 6 * c.diameter_mm, b.diameter_mm, b.wall_mm, std::acos(std::min(1.0, cosine)) * 180 / std::numbers::pi};
}

std::optional<Eigen::MatrixXd> sketched_flexibility(const JointTask& task) {
  Sketch sketch(task);
  if (!sketch.assemble()) return {};
  return sketch.flexibility();
}

}  // namespace seamwright::solid
