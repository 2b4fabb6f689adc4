// SPDX-License-Identifier: GPL-3.0-or-later
// The sites of one weld are counted together. Their stresses follow from few forces at the weld, so that the
// histories are made of those, and each site is a small sum of them.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "engine/cycles/loops.h"
#include "engine/cycles/rainflow.h"
#include "engine/fatigue/curve.h"
#include "engine/rating/range_bins.h"
#include "engine/rating/service.h"

namespace seamwright::rating {

/// Sums in fours over shared parts (cycles::Sums), the last four filled up with zeros.
struct SumTable {
  std::vector<double> offsets, weights;
  std::size_t parts = 0;
  std::size_t fours() const { return offsets.size() / cycles::sums_together; }
  cycles::Sums four(std::size_t number) const;
};

/// Forces of a weld from the rows of a block (coordinates, then shapes), and its sites' stresses from those, MPa.
/// There are as few forces as the sites need: what is left of a site's row is below 1e-13 of it.
struct WeldRows {
  SumTable forces, sites;
  bool bounded = false;  ///< stresses are below 2^1023 where the forces are below largest_force
};
inline constexpr double largest_force = 0x1p500;
/// rows: coordinates x sites; peaks: shapes x sites, or empty; standing: per site.
WeldRows weld_rows(const std::vector<Eigen::Index>& sites, const Eigen::MatrixXd& rows, const Eigen::MatrixXd& peaks,
                   const Eigen::VectorXd& standing);

/// A part of a history that is at hand: rows of coordinates and shapes, and what a thread needs to count it.
class Block {
 public:
  static constexpr std::size_t most_samples = 512;
  /// A stretch that begins has the standing stress before its samples: a column of zeros.
  void fill(const Eigen::Ref<const Eigen::MatrixXd>& coordinates, const Eigen::MatrixXd* shapes, Eigen::Index first_shape,
            bool begins);

 private:
  friend class WeldCounter;
  static constexpr std::size_t stride = cycles::padded(most_samples + 1);
  std::vector<double> rows_, forces_, stress_;
  std::size_t samples_ = 0;
  std::vector<double> ranges_, damages_;  ///< of one site
  std::size_t cycles_ = 0;                ///< of which so many are in use
};

struct SiteCount {
  RangeBins ranges{};                   ///< damage with the stress factor
  double factored = 0, unfactored = 0;  ///< damage with and without the stress factor
  double largest_mpa = 0;
};

class WeldCounter {
 public:
  /// The sites, which all have a curve.
  WeldCounter(const Service& service, std::vector<Eigen::Index> sites);
  const std::vector<Eigen::Index>& sites() const { return sites_; }

  void count(const WeldRows& rows, Block& block);
  /// Closes the residue as if the history repeated. In the order of sites().
  std::vector<SiteCount> finish(Block& block);

 private:
  struct Site {
    cycles::Rainflow flow;
    fatigue::DamageLaw law, bare;
    rules::EffectiveRange mean = nullptr;
    SiteCount count;
    RangeBins odd{};  ///< every other cycle: neighbours often share a bin, and would wait for each other
    double range_of(double from, double to) const;
    void collect(Block& block, const double* from, const double* to, std::size_t cycles) const;
    void add(Block& block);
  };

  std::vector<Eigen::Index> sites_;
  std::vector<Site> counts_;
};

/// The counters of a service's welds, in their order; welds without a site that has a curve have none, and checks beside a rating are not
/// counted: see Damage.
std::vector<WeldCounter> weld_counters(const Service& service);

}  // namespace seamwright::rating
