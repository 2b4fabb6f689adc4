// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/influence.h"

#include <algorithm>
#include <atomic>
#include <cmath>

#include "engine/rating/parallel.h"

namespace seamwright::study {

namespace {

using rating::Job;

struct Input {
  std::string name, unit;
  double low, as_is, high;
  std::function<void(Job&, double)> set;
  Source source{"seamwright", "range assumed"};
};

void each_leg(Job& job, const std::function<void(loads::Leg&)>& change) {
  for (loads::Trip& trip : job.duty.trips)
    for (loads::Leg& leg : trip.legs) change(leg);
}

void scale_walls(Job& job, double factor) {
  for (frame::Tube& t : job.design.frame.tubes)
    std::visit(
        [&](auto& section) {
          if constexpr (requires { section.wall_mm; }) section.wall_mm *= factor;
        },
        t.section);
}

void scale_tyres(Job& job, double factor) {
  for (frame::Wheel& w : job.design.frame.wheels) {
    w.radial_n_mm *= factor;
    w.lateral_n_mm *= factor;
  }
}

std::vector<Input> inputs_of(const Job& job) {
  const loads::Rider& rider = job.duty.rider;
  std::vector<Input> all{
      {"payload", "", 0.8, 1, 1.2,
       [](Job& j, double f) { each_leg(j, [f](loads::Leg& leg) { leg.pose.payload_kg *= f; }); }},
      {"rider-mass", "kg", 0.8 * rider.mass_kg, rider.mass_kg, 1.2 * rider.mass_kg,
       [](Job& j, double x) { j.duty.rider.mass_kg = x; }},
      {"rider-frequency", "Hz", 0.8 * rider.vertical_frequency_hz, rider.vertical_frequency_hz,
       1.2 * rider.vertical_frequency_hz, [](Job& j, double x) { j.duty.rider.vertical_frequency_hz = x; }},
      {"speed", "", 0.8, 1, 1.2,
       [](Job& j, double f) { each_leg(j, [f](loads::Leg& leg) { leg.speed_kmh *= f; }); }},
      {"road-roughness",
       "",
       0.5,
       1,
       2,
       [](Job& j, double f) {
         for (loads::Road& road : j.duty.roads) road.gd_n0_m3 *= f;
       },
       {"iso-8608-2016", "half and twice the mean of a class: the bounds of the class"}},
      {"tyre-stiffness", "", 0.75, 1, 1.25, [](Job& j, double f) { scale_tyres(j, f); }},
      {"structural-damping", "", 0.5 * job.duty.structural_damping, job.duty.structural_damping,
       3 * job.duty.structural_damping, [](Job& j, double x) { j.duty.structural_damping = x; }},
      {"chord-fixity",
       "",
       0.5,
       job.rules.chord_fixity,
       1,
       [](Job& j, double x) { j.rules.chord_fixity = x; },
       {"dnv-rp-c203-2016", "Appendix B, fixity of the chord's ends"}},
      {"walls",
       "",
       0.9,
       1,
       1.1,
       [](Job& j, double f) { scale_walls(j, f); },
       {"en-10305-1", "tolerance of a wall, 10 % [from memory]"}},
      {"throats", "", 0.8, 1, 1.2,
       [](Job& j, double f) {
         for (joints::Weld& w : j.design.welds) w.throat_mm *= f;
       }},
      {"chord-wall-gives-way",
       "",
       0,
       job.design.flexible_joints ? 1.0 : 0.0,
       1,
       [](Job& j, double x) {
         j.rules.bracket_joints = false;
         j.design.flexible_joints = x > 0.5;
       },
       {"fessler-1986", "rigid and flexible [from memory]"}},
  };
  if (job.rules.load_factor <= 0)
    all.push_back({"load-scatter", "", 0.5 * job.rules.load_scatter, job.rules.load_scatter,
                   1.5 * job.rules.load_scatter, [](Job& j, double x) { j.rules.load_scatter = x; }});
  std::erase_if(all, [](const Input& i) { return !(i.high > i.low); });
  return all;
}

}  // namespace

Influences influences(const Job& job, const rating::Published& published, const rating::Progress& progress) {
  const std::vector<Input> inputs = inputs_of(job);
  const rating::Rating as_is = rating::rate(job, published, rating::Method::spectral, {});
  std::vector<rating::Rating> ends(2 * inputs.size());
  std::atomic<std::size_t> done = 0;
  rating::over_tasks(ends.size(), 0, [&](std::size_t i) {
    if (progress.stop.stop_requested()) throw rating::Stopped{};
    const Input& input = inputs[i / 2];
    Job changed = job;
    input.set(changed, i % 2 == 0 ? input.low : input.high);
    ends[i] = rating::rate(changed, published, rating::Method::spectral, {});
    ++done;
    if (progress.report) progress.report(static_cast<double>(done) / static_cast<double>(ends.size()));
  });
  Influences all;
  all.weld = as_is.welds[0].id;
  all.life_km = as_is.welds[0].sites[0].life_km;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const rating::WeldRating &low = ends[2 * i].welds[0], &high = ends[2 * i + 1].welds[0];
    const double a = low.sites[0].life_km, b = high.sites[0].life_km;
    const auto [least, most] = std::minmax({a, b, all.life_km});
    all.inputs.push_back({inputs[i].name, inputs[i].unit, inputs[i].low, inputs[i].as_is, inputs[i].high, a,
                          b, low.id, high.id, most / least, inputs[i].source});
  }
  std::stable_sort(all.inputs.begin(), all.inputs.end(),
                   [](const auto& a, const auto& b) { return a.spread > b.spread; });
  return all;
}

}  // namespace seamwright::study
