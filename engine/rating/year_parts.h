// SPDX-License-Identifier: GPL-3.0-or-later
// The year of a service in its parts, each load counted alone, and the cycles of a part at a site before any curve.
#pragma once

#include <optional>

#include "engine/cycles/spectral.h"
#include "engine/rating/part.h"
#include "engine/rating/service.h"

namespace seamwright::rating {

/// One of these is the load: all legs of a trip for the loading; a leg alone for its road; a leg with a train or a
/// passage.
struct YearPart {
  Part name;
  double per_year = 0;  ///< it comes so often
  const std::vector<RatedLeg>* trip = nullptr;
  const RatedLeg* leg = nullptr;
  const RatedTrain* train = nullptr;
  const RatedPassage* passage = nullptr;
  bool is_road() const { return leg && !train && !passage; }
};
std::vector<YearPart> year_parts(const Service& service);

/// Cycles of a site, each time that the part comes.
struct SiteCycles {
  std::vector<double> ranges_mpa, counts;
};

/// A part at the sites first..last: the moments of their stress on a road, or their cycles, counted one site after
/// the other.
class PartCycles {
 public:
  PartCycles(const YearPart& part, Eigen::Index first, Eigen::Index last);
  /// Moments of a road alone, MPa2 Hz^n.
  cycles::Moments moments(Eigen::Index site) const;
  /// Writes the cycles of another part over `out`.
  void count(Eigen::Index site, SiteCycles& out) const;

 private:
  const YearPart& part_;
  Eigen::Index first_;
  Eigen::Matrix4Xd moments_;  // m0, m1, m2, m4 of each site
  Eigen::MatrixXd stress_;    // of a passage: samples x sites
};

}  // namespace seamwright::rating
