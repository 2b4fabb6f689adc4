// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/load_paths.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "engine/design/weld_geometry.h"
#include "engine/frame/nominal.h"
#include "engine/loads/peak_cases.h"
#include "engine/loads/without_element.h"

namespace seamwright::rating {

namespace {

constexpr std::array<std::string_view, 4> riding{"kerb-square", "full-braking", "tip-over", "climbing"};

// The trike under all cases of riding.
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

  std::optional<Eigen::MatrixXd> without(const frame::Element& gone) const {
    return loads::displacements_without(trike_, gone, moved_);
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
      const auto strength_at = [&](std::size_t node) {
        if (steel == cut.materials.end()) return 0.0;
        const bool soft = steel->haz_yield_mpa > 0 && welded.contains({member.id, cut.nodes[node].id});
        return soft ? steel->haz_yield_mpa : steel->yield_mpa;
      };
      strengths_.push_back({strength_at(e.first), strength_at(e.second)});
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
