// SPDX-License-Identifier: GPL-3.0-or-later
// Ratings of like jobs share this, made when it is first asked for: the trike solved in its poses, its answer to a road,
// its ride over an obstacle, and the damage of a weld under one load. Each is found by the values that it follows
// from, compared one by one; the oldest are forgotten. Several threads may ask at once.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "engine/loads/posed_trike.h"
#include "engine/loads/ride.h"
#include "engine/rating/load_paths.h"

namespace seamwright::rating {

struct SolvedTrike {
  loads::State state;
  loads::Transfer transfer;
};

/// The road of a leg does this to a trike.
struct LegAnswer {
  loads::Spectra spectra;
  loads::MomentMatrices moments;
  loads::LegLevels levels;
};

/// Damage of one load at each site of a weld, each time that it comes, and its largest range.
struct WeldDamage {
  Eigen::ArrayXd factored, unfactored, range_mpa;
};
/// The load, kept so long as its damage is known, and what else the damage follows from, in bytes.
struct WeldLoad {
  std::shared_ptr<const void> load;
  std::string with;
  bool operator==(const WeldLoad&) const = default;
};

class Memory {
 public:
  Memory();
  ~Memory();

  /// Throws what PosedTrike throws.
  std::shared_ptr<const loads::PosedTrike> posed(const frame::Frame& posed_frame);
  /// Throws what make_state() and Transfer throw.
  std::shared_ptr<const SolvedTrike> solved(const frame::Frame& posed_frame, double payload_kg, double highest_hz,
                                            double structural_damping);
  /// Throws what leg_spectra() and levels_of() throw.
  std::shared_ptr<const LegAnswer> answer(const std::shared_ptr<const SolvedTrike>& trike, const loads::Road& road,
                                          const loads::Leg& leg, double highest_hz, const std::string& saddle_node);
  /// A ride over an obstacle from rest to rest at the sample rate, ridden in `steps` a sample. Throws what
  /// ground_over() and ride() throw.
  struct Crossing {
    loads::Obstacle obstacle;
    std::vector<double> radius_mm;  ///< of each wheel
    double speed_m_s = 0, sample_rate_hz = 0, structural_damping = 0;
    Eigen::Index steps = 1;
    bool operator==(const Crossing&) const = default;
  };
  std::shared_ptr<const loads::Ride> ride(const std::shared_ptr<const SolvedTrike>& trike, const Crossing& crossing);

  /// Throws what load_paths() throws.
  std::shared_ptr<const std::vector<LoadPath>> paths(const RiddenFrame& ridden);

  /// All that is known of a weld whose sites follow from these bytes.
  class Weld;
  std::shared_ptr<Weld> weld(std::string sites);
  std::shared_ptr<const WeldDamage> damage(Weld& weld, const WeldLoad& load, const std::function<WeldDamage()>& make);

 private:
  struct Kept;
  std::unique_ptr<Kept> kept_;
};

}  // namespace seamwright::rating
