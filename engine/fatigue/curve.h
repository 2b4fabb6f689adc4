// SPDX-License-Identifier: GPL-3.0-or-later
// S-N curves as data, damage by Palmgren-Miner. Ranges, not amplitudes; MPa; log = log10.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"
#include "engine/machine/instructions.h"

namespace seamwright::fatigue {

/// log N = log_a - slope * log S, valid up to to_cycles (infinite for the last).
struct Segment {
  double slope = 0;
  double log_a = 0;
  double to_cycles = 0;
};

enum class StressKind { nominal, hot_spot, throat, shear };
const char* name_of(StressKind kind);

struct Curve {
  std::string id;   ///< "T", "F", "W3"
  std::string set;  ///< name of its rule set, or "shop"
  std::string edition;
  std::string environment;  ///< "air"
  StressKind stress = StressKind::nominal;
  std::vector<Segment> segments;                              ///< high to low stress
  std::optional<double> cutoff_mpa;                           ///< at or below it: no damage
  double reference_thickness_mm = 0, thickness_exponent = 0;  ///< 0 = no rule
  double scatter_log_n = 0;  ///< standard deviation of log10 N, 0 = not given
  Source source;
  bool from_memory = false;
};

/// Knee stresses, descending, MPa (between segments).
std::vector<double> knees_mpa(const Curve& curve);

/// Cycles to failure at a stress range > 0; infinity below the cut-off or for range 0. Throws Fault for
/// negative or NaN.
double cycles_to_failure(const Curve& curve, double range_mpa);

/// 1/N, fast form for hot loops: built once per curve and factor; damage(range) of a cycle whose range is
/// multiplied by stress_factor first.
class DamageLaw {
 public:
  explicit DamageLaw(const Curve& curve, double stress_factor = 1.0);
  double damage(double range_mpa) const;
  /// The same of many ranges, with the same digits; `out` is as long.
  void damages(std::span<const double> ranges_mpa, double* out,
               machine::Instructions instructions = machine::best_instructions()) const;

  /// damage = inverse_a * range^slope for ranges above above_mpa; from high to low.
  struct Piece {
    double above_mpa = 0;
    double slope = 0, inverse_a = 0;
    int whole_slope = 0;  ///< 0 when the slope is not a whole number
  };
  const std::vector<Piece>& pieces() const { return pieces_; }
  double cutoff_mpa() const { return cutoff_mpa_; }  ///< 0 = none

 private:
  std::vector<Piece> pieces_;
  double cutoff_mpa_ = 0;
};

/// Factor >= 1 on stress for thickness: (t / t_ref)^k for t > t_ref, else 1.
double thickness_factor(const Curve& curve, double thickness_mm);

/// Cycles to failure with evidence.
struct LifeResult {
  double cycles = 0;
  Evidence evidence;
};
LifeResult sn_life(const Curve& curve, double range_mpa, double thickness_mm);

/// Miner sum of a binned spectrum with evidence.
struct SpectrumLine {
  double cycles = 0, range_mpa = 0;
};
struct MinerResult {
  double damage = 0;
  std::vector<double> parts;
  Evidence evidence;
};
MinerResult miner(const Curve& curve, const std::vector<SpectrumLine>& spectrum, double thickness_mm);

}  // namespace seamwright::fatigue
