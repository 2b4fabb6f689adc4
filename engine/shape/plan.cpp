// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/plan.h"

#include <algorithm>

#include "engine/design/weld_geometry.h"
#include "engine/shape/fibre.h"
#include "engine/shape/planner.h"

namespace seamwright::shape {

namespace {

// What cuts counts as filled, and a seam lies on outer walls: another wall of a tube leaves its neighbours as they were.
void fill(Stretch& s) {
  if (const auto* tube = std::get_if<frame::RoundTube>(&s.section)) s.section = frame::SolidBar{tube->diameter_mm};
}

void fill(std::vector<Cut>& cuts) {
  for (Cut& c : cuts)
    if (auto* tool = std::get_if<Stretch>(&c.tool)) fill(*tool);
}

void fill(Plan& plan) {
  for (Part& p : plan.parts) fill(p.cuts);
  for (WeldBody& w : plan.welds) {
    fill(w.cuts);
    if (auto* around = std::get_if<FilletAround>(&w.body)) {
      fill(around->brace);
      fill(around->chord);
    }
    if (auto* ring = std::get_if<FilletRing>(&w.body)) fill(ring->tube);
  }
}

}  // namespace

Plan plan_of(const design::Design& d) {
  using namespace planner;
  Plan plan;
  Axes axes = axes_of(d.frame);
  apply_overhangs(d, axes);
  Cuts cuts;
  cut_mitres(d, axes, cuts);
  const Feet feet = feet_of(d, axes);
  cut_feet(axes, feet, cuts);
  cut_slots(d, axes, cuts);
  cut_notches(d, axes, cuts, plan.notes);
  for (const frame::Member& m : d.frame.members)
    if (!axes[m.id].empty())
      plan.parts.push_back({m.id, m.id, Hollow{axes[m.id]}, cuts[m.id], design::tube_of(d.frame, m).material});
  for (const design::Sleeve& s : d.sleeves)
    if (!axes[s.member].empty()) plan.parts.push_back(sleeve_of(d, axes, s));
  for (const design::Notch& n : d.notches)
    if (auto collar = collar_of(d, axes, n)) plan.parts.push_back(std::move(*collar));
  for (const design::Plate& p : d.plates) plan.parts.push_back(plate_of(d, axes, p));
  for (const joints::Weld& w : d.welds) {
    if (auto body = weld_body(d, axes, feet, w))
      plan.welds.push_back(std::move(*body));
    else
      plan.notes.push_back({w.layout == joints::Layout::tube_end ? MessageId("shape.butt-not-drawn") : MessageId("shape.weld-not-drawn"),
                            {text("weld", w.id)}});
    const bool asks_plate = w.layout == joints::Layout::slotted || w.layout == joints::Layout::plate_on_tube;
    const auto held = [&](const design::Plate& p) {
      return std::find(p.welds.begin(), p.welds.end(), w.id) != p.welds.end();
    };
    if (asks_plate && std::none_of(d.plates.begin(), d.plates.end(), held))
      plan.notes.push_back({"shape.plate-without-outline", {text("weld", w.id)}});
  }
  fill(plan);
  return plan;
}

double end_stretch_mm(const frame::Frame& frame, const frame::Member& member, bool at_start) {
  const std::vector<Stretch> all = planner::stretches_of(frame, member);
  return all.empty() ? 0 : length_mm(at_start ? all.front() : all.back());
}

}  // namespace seamwright::shape
