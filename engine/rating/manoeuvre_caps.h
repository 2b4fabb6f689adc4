// SPDX-License-Identifier: GPL-3.0-or-later
// Manoeuvres held to what the trike can do before it tips.
#pragma once

#include <map>

#include "engine/loads/stability.h"
#include "engine/rating/job.h"

namespace seamwright::rating {

/// The limits at which a trike tips, each pose worked out once.
class TipLimits {
 public:
  TipLimits(const design::Design& design, const frame::Frame& cut, const loads::Rider& rider);
  /// Throws what stability_case() throws.
  const loads::StabilityCase& in_pose(const loads::Pose& pose);
  /// Radius of the rear wheel. Throws Fault "loads.no-rear-wheel".
  double rear_radius_mm() const;

 private:
  const design::Design& design_;
  const frame::Frame& cut_;
  const loads::Rider& rider_;
  std::map<loads::Pose, loads::StabilityCase> known_;
};

/// A manoeuvre of a leg as it can be ridden: its level cut to the tip-over limit of its pose, with a note
/// "rating.corner-capped", "rating.brake-capped" or "rating.start-capped". A leg whose pose tips at rest is
/// refused with Fault "rating.tips-at-rest".
loads::Manoeuvre capped_manoeuvre(const loads::Manoeuvre& manoeuvre, const loads::Leg& leg, const loads::Drive& drive,
                                  TipLimits& limits, std::vector<Message>& notes);
void check_rest(const loads::Leg& leg, TipLimits& limits);

/// Pose of a manoeuvre on one side of a leg.
loads::Pose pose_of(const loads::Manoeuvre& manoeuvre, const loads::Leg& leg, double side);

/// Lateral part of gravity on the leg's cross fall, m/s2, as an acceleration to the left.
double cross_fall_m_s2(const loads::Leg& leg);

}  // namespace seamwright::rating
