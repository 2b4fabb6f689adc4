// SPDX-License-Identifier: GPL-3.0-or-later
// Manoeuvres held to what the trike can do before it tips.
#pragma once

#include "engine/rating/job.h"

namespace seamwright::rating {

/// A manoeuvre of a leg as it can be ridden: its level cut to the tip-over limit of its pose, with a note
/// "rating.corner-capped", "rating.brake-capped" or "rating.start-capped". A leg whose pose tips at rest is
/// refused with Fault "rating.tips-at-rest".
loads::Manoeuvre capped_manoeuvre(const loads::Manoeuvre& manoeuvre, const loads::Leg& leg,
                                  const design::Design& design, const frame::Frame& cut,
                                  const loads::Duty& duty, std::vector<Message>& notes);
void check_rest(const loads::Leg& leg, const design::Design& design, const frame::Frame& cut,
                const loads::Duty& duty);

/// Pose of a manoeuvre on one side of a leg.
loads::Pose pose_of(const loads::Manoeuvre& manoeuvre, const loads::Leg& leg, double side);

/// Lateral part of gravity on the leg's cross fall, m/s2, as an acceleration to the left.
double cross_fall_m_s2(const loads::Leg& leg);

}  // namespace seamwright::rating
