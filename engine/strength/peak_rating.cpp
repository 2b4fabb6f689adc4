// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/strength/peak_rating.h"

#include <algorithm>
#include <limits>
#include <set>

#include "engine/design/weld_geometry.h"
#include "engine/frame/nominal.h"

namespace seamwright::strength {

namespace {

double yield_of(const frame::Frame& f, const std::string& material) {
  for (const frame::Material& m : f.materials)
    if (m.id == material) return m.yield_mpa;
  return 0;
}

PeakRating worst_place(const frame::Frame& cut, const frame::Assembly& assembly, loads::PeakCase load) {
  PeakRating worst;
  worst.use = std::numeric_limits<double>::quiet_NaN();
  for (std::size_t i = 0; i < assembly.elements.size(); ++i) {
    const frame::Element& e = assembly.elements[i];
    const frame::Member& member = cut.members[e.member];
    const frame::Tube& tube = design::tube_of(cut, member);
    const frame::Vector12 forces = load.section_forces.segment<12>(12 * static_cast<Eigen::Index>(i));
    const auto ends = frame::equivalent_stress_mpa(e, tube.section, forces);
    const double stress = std::max(ends[0], ends[1]), yield = yield_of(cut, tube.material);
    const double use = yield > 0 ? stress / yield : std::numeric_limits<double>::quiet_NaN();
    const bool more = yield > 0 ? !(use <= worst.use) : !(worst.use > 0) && stress > worst.stress_mpa;
    if (!more) continue;
    worst.element = e.id;
    worst.stress_mpa = stress;
    worst.yield_mpa = yield;
    worst.use = use;
  }
  worst.load = std::move(load);
  return worst;
}

}  // namespace

PeakRatings rate_peaks(const rating::Job& job, const rules::Published& published) {
  const frame::Frame cut = design::frame_with_cuts(job.design);
  const frame::Assembly assembly = frame::assemble(cut, frame::Footing::nothing);
  const StrengthModel model = strength_model(job.design, cut, assembly, published);
  std::set<loads::Pose> loadings{loads::Pose{}};
  for (const loads::Leg* leg : loads::all_legs(job.duty)) {
    loads::Pose loading = leg->pose;
    loading.steering_deg = 0;
    loadings.insert(loading);
  }
  PeakRatings out;
  for (const loads::Pose& loading : loadings) {
    loads::PeakCases cases =
        loads::peak_cases(cut, job.design.carriers, job.duty, job.design.steering, loading);
    for (loads::PeakCase& c : cases.cases) {
      std::vector<StrengthCheck> checks = strength_checks(model, c.section_forces);
      out.cases.push_back(worst_place(cut, assembly, std::move(c)));
      out.cases.back().checks = std::move(checks);
    }
    out.missing = cases.missing;
  }
  return out;
}

}  // namespace seamwright::strength
