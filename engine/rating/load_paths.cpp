// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/load_paths.h"

#include <algorithm>
#include <array>
#include <functional>
#include <map>
#include <numbers>
#include <set>

#include "engine/design/weld_geometry.h"
#include "engine/fatigue/growth.h"
#include "engine/frame/nominal.h"
#include "engine/loads/peak_cases.h"
#include "engine/loads/without_element.h"

namespace seamwright::rating {

namespace {

constexpr std::array<std::string_view, 4> riding{"kerb-square", "full-braking", "tip-over", "climbing"};

// The trike under all cases of riding.
class Loading {
 public:
  Loading(const RiddenFrame& r, const loads::Pose& pose) : trike_(pose, r.cut, r.carriers, r.rider, r.steering) {
    loads::Duty duty;
    duty.rider = r.rider;
    duty.peaks = r.peaks;
    names_.emplace_back("standing");
    std::vector<Eigen::VectorXd> columns{trike_.standing_displacement()};
    for (loads::PeakCase& c : loads::peak_cases(r.cut, r.carriers, duty, r.steering, pose).cases)
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

// Largest share of a round tube's girth, up to half, that may be cracked while the rest carries these forces at one end.
double share_that_stands(const frame::RoundTube& tube, const Eigen::Matrix<double, 6, 1>& f, double yield) {
  const double radius = 0.5 * (tube.diameter_mm - tube.wall_mm), girth = 2 * std::numbers::pi * radius;
  const double moment = std::hypot(f[4], f[5]);
  const auto stands = [&](double share) {
    const double rest = (1 - share) * girth * tube.wall_mm;
    const double shear = std::abs(f[3]) / (rest * radius) + 2 * std::hypot(f[1], f[2]) / rest;
    const double left = yield * yield - 3 * shear * shear;
    return left > 0 && fatigue::net_section_moment(radius, tube.wall_mm, share * std::numbers::pi, f[0], std::sqrt(left)) >= moment;
  };
  if (stands(fatigue::half_the_girth)) return fatigue::half_the_girth;
  double good = 0, bad = fatigue::half_the_girth;
  for (int i = 0; i < 20; ++i) (stands(0.5 * (good + bad)) ? good : bad) = 0.5 * (good + bad);
  return good;
}

class Judge {
 public:
  Judge(const RiddenFrame& r, const frame::Assembly& assembly) {
    const frame::Frame& cut = r.cut;
    std::set<std::pair<std::string, std::string>> welded;  // member, node
    for (const auto& [node, members] : r.welds)
      for (const std::string& member : members) welded.emplace(member, node);
    for (const frame::Element& e : assembly.elements) {
      const frame::Member& member = cut.members[e.member];
      const std::string& material = design::tube_of(cut, member).material;
      const auto steel = std::find_if(cut.materials.begin(), cut.materials.end(), [&](const auto& m) { return m.id == material; });
      const auto strength_at = [&](std::size_t node) {
        if (steel == cut.materials.end()) return 0.0;
        const bool soft = steel->haz_yield_mpa > 0 && welded.contains({member.id, cut.nodes[node].id});
        return soft ? steel->haz_yield_mpa : steel->yield_mpa;
      };
      sections_.push_back(&design::tube_of(cut, member).section);
      strengths_.push_back({strength_at(e.first), strength_at(e.second)});
      stated_ = stated_ && strengths_.back()[0] > 0;
    }
  }
  bool stated() const { return stated_; }

  // The brace may be cracked around so much of its girth beside the weld, in every case.
  double cracked_share(const std::vector<Loading>& loadings, std::size_t element, bool at_end) const {
    const auto* tube = std::get_if<frame::RoundTube>(sections_[element]);
    if (!tube) return 0;
    double least = fatigue::half_the_girth;
    for (const Loading& loading : loadings)
      for (Eigen::Index c = 0; c < loading.as_it_is().cols(); ++c) {
        const frame::Vector12 forces = frame::section_forces(loading.assembly().elements[element], loading.as_it_is().col(c));
        least = std::min(least, share_that_stands(*tube, at_end ? forces.tail<6>() : forces.head<6>(), strengths_[element][at_end ? 1 : 0]));
      }
    return least;
  }

  // Keeps the worse.
  void judge(const Loading& loading, const Eigen::MatrixXd& moved, const frame::Element* gone, LoadPath& path) const {
    const std::vector<frame::Element>& elements = loading.assembly().elements;
    for (Eigen::Index c = 0; c < moved.cols(); ++c)
      for (std::size_t i = 0; i < elements.size(); ++i) {
        const frame::Element& e = elements[i];
        if (&e == gone) continue;
        const auto ends = frame::equivalent_stress_mpa(e, *sections_[i], frame::section_forces(e, moved.col(c)));
        const double use = std::max(ends[0] / strengths_[i][0], ends[1] / strengths_[i][1]);
        if (use <= path.use) continue;
        path.use = use;
        path.load_case = loading.names()[static_cast<std::size_t>(c)];
        path.element = e.id;
      }
  }

 private:
  std::vector<const frame::Section*> sections_;
  std::vector<Strengths> strengths_;
  bool stated_ = true;
};

// What happens without one element, in every loading.
LoadPath without_element(std::size_t element, const std::vector<Loading>& loadings, const Judge& judge) {
  LoadPath path{true};
  for (const Loading& loading : loadings) {
    const frame::Element& gone = loading.assembly().elements[element];
    if (const auto moved = loading.without(gone))
      judge.judge(loading, *moved, &gone, path);
    else
      path.mechanism = true;
    if (path.mechanism) return path;
  }
  return path;
}

// A weld's pieces of brace and chord at its node, the worst of them.
LoadPath path_of(const RiddenFrame& r, std::size_t weld, const frame::Assembly& assembly,
                 const std::function<const LoadPath&(std::size_t)>& without) {
  const auto& [node, members] = r.welds[weld];
  LoadPath worst;
  for (std::size_t i = 0; i < assembly.elements.size(); ++i) {
    const frame::Element& e = assembly.elements[i];
    const bool meets = r.cut.nodes[e.first].id == node || r.cut.nodes[e.second].id == node;
    if (!meets || std::find(members.begin(), members.end(), r.cut.members[e.member].id) == members.end()) continue;
    const LoadPath& path = without(i);
    if (!worst.known || path.mechanism || path.use > worst.use) worst = path;
    if (worst.mechanism) return worst;
  }
  return worst;
}

// The piece of brace that ends at the weld's node, and whether its end is there.
std::optional<std::pair<std::size_t, bool>> end_of_brace(const RiddenFrame& r, std::size_t weld, const frame::Assembly& assembly) {
  const auto& [node, members] = r.welds[weld];
  for (std::size_t i = 0; i < assembly.elements.size(); ++i) {
    const frame::Element& e = assembly.elements[i];
    const bool starts = r.cut.nodes[e.first].id == node;
    if (r.cut.members[e.member].id == members[0] && (starts || r.cut.nodes[e.second].id == node)) return std::pair{i, !starts};
  }
  return std::nullopt;
}

}  // namespace

RiddenFrame ridden_frame(const Job& job) {
  RiddenFrame r{design::frame_with_cuts(job.design), job.design.carriers, job.duty.rider, job.design.steering, job.duty.peaks, 0, 0, 0, {}};
  for (const loads::Leg* leg : loads::all_legs(job.duty)) {
    if (leg->pose.payload_kg < r.payload_kg) continue;
    r.payload_kg = leg->pose.payload_kg;
    r.payload_ahead_mm = leg->pose.payload_ahead_mm;
    r.payload_left_mm = leg->pose.payload_left_mm;
  }
  for (const joints::Weld& w : job.design.welds) r.welds.push_back({w.node, {w.member, w.chord}});
  return r;
}

std::vector<LoadPath> load_paths(const RiddenFrame& r) {
  std::vector<Loading> loadings;
  loadings.emplace_back(r, loads::Pose{});
  if (r.payload_kg > 0) loadings.emplace_back(r, loads::Pose{r.payload_kg, r.payload_ahead_mm, r.payload_left_mm, 0});
  std::vector<LoadPath> paths(r.welds.size());
  const Judge judge(r, loadings[0].assembly());
  if (!judge.stated()) return paths;
  std::map<std::size_t, LoadPath> known;  // welds share pieces
  const auto without = [&](std::size_t element) -> const LoadPath& {
    const auto [at, fresh] = known.try_emplace(element);
    if (fresh) at->second = without_element(element, loadings, judge);
    return at->second;
  };
  const frame::Assembly& assembly = loadings[0].assembly();
  for (std::size_t w = 0; w < paths.size(); ++w) {
    paths[w] = path_of(r, w, assembly, without);
    if (const auto end = end_of_brace(r, w, assembly)) paths[w].cracked_share = judge.cracked_share(loadings, end->first, end->second);
  }
  return paths;
}

}  // namespace seamwright::rating
