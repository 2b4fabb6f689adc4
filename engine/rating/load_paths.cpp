// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/load_paths.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "engine/design/weld_geometry.h"
#include "engine/frame/nominal.h"
#include "engine/loads/peak_cases.h"

namespace seamwright::rating {

namespace {

constexpr std::array<std::string_view, 4> riding{"kerb-square", "full-braking", "tip-over", "climbing"};
constexpr double held = 1e-8;  // of a motion's stiffness is left when the piece is gone; less is a mechanism

// Displacements without one element: K - B B' by Woodbury from displacements with it.
class Loading {
 public:
  Loading(const Job& job, const frame::Frame& cut, const loads::Pose& pose)
      : trike_(pose, cut, job.design.carriers, job.duty.rider, job.design.steering) {
    names_.emplace_back("standing");
    std::vector<Eigen::VectorXd> columns{trike_.standing_displacement()};
    for (loads::PeakCase& c : loads::peak_cases(cut, job.design.carriers, job.duty, job.design.steering, pose).cases)
      if (std::find(riding.begin(), riding.end(), c.id) != riding.end()) {
        names_.push_back(c.id);
        columns.push_back(std::move(c.displacements));
      }
    moved_.resize(columns[0].size(), static_cast<Eigen::Index>(columns.size()));
    for (std::size_t c = 0; c < columns.size(); ++c) moved_.col(static_cast<Eigen::Index>(c)) = columns[c];
  }

  const frame::Assembly& assembly() const { return trike_.assembly(); }
  const std::vector<std::string>& names() const { return names_; }
  const Eigen::MatrixXd& as_it_is() const { return moved_; }

  // Nothing: what is left is a mechanism.
  std::optional<Eigen::MatrixXd> without(const frame::Element& gone) const {
    const Eigen::SelfAdjointEigenSolver<frame::Matrix12> own(0.5 * (gone.stiffness + gone.stiffness.transpose()));
    // Six motions of twelve bend the element; the others move it as a whole.
    const Eigen::Matrix<double, 12, 6> bent = own.eigenvectors().rightCols<6>() * own.eigenvalues().tail<6>().cwiseMax(0).cwiseSqrt().asDiagonal();
    const Eigen::Matrix<double, 12, 6> local = gone.to_local.transpose() * bent;
    Eigen::MatrixXd b = Eigen::MatrixXd::Zero(moved_.rows(), 6);
    b.middleRows<6>(6 * static_cast<Eigen::Index>(gone.first)) += local.topRows<6>();
    b.middleRows<6>(6 * static_cast<Eigen::Index>(gone.second)) += local.bottomRows<6>();
    const Eigen::MatrixXd answers = trike_.displacements(b);
    const Eigen::Matrix<double, 6, 6> left = Eigen::Matrix<double, 6, 6>::Identity() - b.transpose() * answers;
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>> modes(0.5 * (left + left.transpose()));
    if (modes.eigenvalues()[0] < held) return std::nullopt;
    return moved_ + answers * left.ldlt().solve(b.transpose() * moved_);
  }

 private:
  loads::PosedTrike trike_;
  std::vector<std::string> names_;
  Eigen::MatrixXd moved_;  // full x cases
};

// Yield strength at both ends of an element; 0: not stated.
using Strengths = std::array<double, 2>;

class Judge {
 public:
  Judge(const Job& job, const frame::Frame& cut, const frame::Assembly& assembly) : cut_(cut) {
    std::set<std::pair<std::string, std::string>> welded;  // member, node
    for (const joints::Weld& w : job.design.welds) {
      welded.emplace(w.member, w.node);
      welded.emplace(w.chord, w.node);
    }
    for (const frame::Element& e : assembly.elements) {
      const frame::Member& member = cut.members[e.member];
      const std::string& material = design::tube_of(cut, member).material;
      const auto steel = std::find_if(cut.materials.begin(), cut.materials.end(), [&](const auto& m) { return m.id == material; });
      const auto at = [&](std::size_t node) {
        if (steel == cut.materials.end()) return 0.0;
        const bool soft = steel->haz_yield_mpa > 0 && welded.contains({member.id, cut.nodes[node].id});
        return soft ? steel->haz_yield_mpa : steel->yield_mpa;
      };
      strengths_.push_back({at(e.first), at(e.second)});
      stated_ = stated_ && strengths_.back()[0] > 0;
    }
  }
  bool stated() const { return stated_; }

  // Keeps the worse.
  void judge(const Loading& loading, const Eigen::MatrixXd& moved, const frame::Element* gone, LoadPath& path) const {
    const std::vector<frame::Element>& elements = loading.assembly().elements;
    for (Eigen::Index c = 0; c < moved.cols(); ++c)
      for (std::size_t i = 0; i < elements.size(); ++i) {
        const frame::Element& e = elements[i];
        if (&e == gone) continue;
        const auto ends = frame::equivalent_stress_mpa(e, design::tube_of(cut_, cut_.members[e.member]).section,
                                                       frame::section_forces(e, moved.col(c)));
        const double use = std::max(ends[0] / strengths_[i][0], ends[1] / strengths_[i][1]);
        if (use <= path.use) continue;
        path.use = use;
        path.load_case = loading.names()[static_cast<std::size_t>(c)];
        path.element = e.id;
      }
  }

 private:
  const frame::Frame& cut_;
  std::vector<Strengths> strengths_;
  bool stated_ = true;
};

void judge_piece(const Loading& loading, const Judge& judge, const frame::Element& gone, LoadPath& path) {
  const auto moved = loading.without(gone);
  if (moved)
    judge.judge(loading, *moved, &gone, path);
  else
    path.mechanism = true;
}

// A weld's pieces of brace and chord at its node.
LoadPath path_of(const joints::Weld& weld, const frame::Frame& cut, const std::vector<Loading>& loadings, const Judge& judge) {
  LoadPath path;
  for (const Loading& loading : loadings)
    for (const frame::Element& e : loading.assembly().elements) {
      const std::string& member = cut.members[e.member].id;
      const bool meets = cut.nodes[e.first].id == weld.node || cut.nodes[e.second].id == weld.node;
      if (!meets || (member != weld.member && member != weld.chord)) continue;
      path.known = true;
      judge_piece(loading, judge, e, path);
      if (path.mechanism) return path;
    }
  return path;
}

}  // namespace

std::vector<LoadPath> load_paths(const Job& job) {
  const frame::Frame cut = design::frame_with_cuts(job.design);
  loads::Pose heaviest;
  for (const loads::Leg* leg : loads::all_legs(job.duty))
    if (leg->pose.payload_kg >= heaviest.payload_kg) heaviest = leg->pose;
  heaviest.steering_deg = 0;
  std::vector<Loading> loadings;
  loadings.emplace_back(job, cut, loads::Pose{});
  if (heaviest.payload_kg > 0) loadings.emplace_back(job, cut, heaviest);
  std::vector<LoadPath> paths(job.design.welds.size());
  const Judge judge(job, cut, loadings[0].assembly());
  if (!judge.stated()) return paths;
  for (std::size_t w = 0; w < paths.size(); ++w) paths[w] = path_of(job.design.welds[w], cut, loadings, judge);
  return paths;
}

}  // namespace seamwright::rating
