// SPDX-License-Identifier: GPL-3.0-or-later
// Steps of plan_of(), shared by its sources.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "engine/design/design.h"
#include "engine/shape/fillet.h"

namespace seamwright::shape::planner {

/// Stretches of each member, by its id; none of members of no length.
using Axes = std::map<std::string, std::vector<Stretch>>;
/// The cuts of each member, in order.
using Cuts = std::map<std::string, std::vector<Cut>>;

/// A brace's foot on its chord.
struct Standing {
  const joints::Weld* weld = nullptr;
  FilletAround fillet;
};
/// The feet on each chord, in the order in which the braces run through.
using Feet = std::map<std::string, std::vector<Standing>>;

Axes axes_of(const frame::Frame& frame);
/// A member's stretches from its first node to its last, those in line made one.
std::vector<Stretch> stretches_of(const frame::Frame& frame, const frame::Member& member);
/// The foot of a weld around a brace's end on a chord; none of other layouts.
std::optional<FilletAround> fillet_of(const design::Design& design, const Axes& axes, const joints::Weld& weld);
/// The stretch that a place stands on.
const Stretch& stretch_at(const std::vector<Stretch>& stretches, const Vec3& place);
/// A member's end stretch, as it leaves the node.
Stretch leaving(const std::vector<Stretch>& stretches, bool at_start);

/// Ends go on past their nodes as far as the design says, or as what stands there asks.
void apply_overhangs(const design::Design& design, Axes& axes);
Feet feet_of(const design::Design& design, const Axes& axes);
void cut_feet(const Axes& axes, const Feet& feet, Cuts& cuts);
void cut_mitres(const design::Design& design, Axes& axes, Cuts& cuts);
void cut_slots(const design::Design& design, const Axes& axes, Cuts& cuts);
/// Holes, seats and slots with measures; a note for each notch that is not drawn.
void cut_notches(const design::Design& design, const Axes& axes, Cuts& cuts, std::vector<Message>& notes);

/// A shoulder's larger part as a ring around its bar, without the fillet; none where the design does not say
/// which end is large, or where the member is not a bar of the smaller diameter.
std::optional<Part> collar_of(const design::Design& design, const Axes& axes, const design::Notch& shoulder);
Part sleeve_of(const design::Design& design, const Axes& axes, const design::Sleeve& sleeve);
Part plate_of(const design::Design& design, const Axes& axes, const design::Plate& plate);
/// None where no body is drawn.
std::optional<WeldBody> weld_body(const design::Design& design, const Axes& axes, const Feet& feet,
                                  const joints::Weld& weld);

}  // namespace seamwright::shape::planner
