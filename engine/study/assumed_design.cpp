// SPDX-License-Identifier: GPL-3.0-or-later
// Assumed inputs of the design: tyres, masses, walls, welds, bolts.
#include <algorithm>
#include <cmath>

#include "engine/rating/job.h"
#include "engine/study/assumed.h"

namespace seamwright::study {

namespace {

using rating::Job;

// A factor on a number of every row of a list that has it.
template <typename Row, typename List, typename Number>
AssumedInput scaled(const char* name, std::vector<std::string> keys, double low, double high, List list,
                    Number number, Source range = {"seamwright", "range assumed"}) {
  return {name,
          "",
          std::move(keys),
          RangeKind::times,
          low,
          high,
          [list, number](const Job& job) {
            const auto& rows = list(job);
            return std::any_of(rows.begin(), rows.end(), [&](const Row& row) { return number(row) != 0; })
                       ? 1
                       : no_such_input;
          },
          [list, number](Job& job, double x) {
            for (Row& row : list(job)) number(row) *= x;
          },
          {},
          std::move(range)};
}

constexpr auto wheels_in = [](auto& job) -> auto& { return job.design.frame.wheels; };
constexpr auto masses_in = [](auto& job) -> auto& { return job.design.frame.masses; };
constexpr auto dampers_in = [](auto& job) -> auto& { return job.design.frame.dampers; };
constexpr auto welds_in = [](auto& job) -> auto& { return job.design.welds; };
constexpr auto notches_in = [](auto& job) -> auto& { return job.design.notches; };
constexpr auto bolts_in = [](auto& job) -> auto& { return job.design.bolts; };

void scale_walls(Job& job, double factor) {
  for (frame::Tube& t : job.design.frame.tubes)
    std::visit(
        [&](auto& section) {
          if constexpr (requires { section.wall_mm; }) section.wall_mm *= factor;
        },
        t.section);
}

AssumedInput tyre_stiffness() {
  return {"tyre-stiffness",
          "",
          {"design.wheel.radial_n_mm", "design.wheel.pressure_kpa"},
          RangeKind::times,
          0.75,
          1.25,
          [](const Job& job) { return job.design.frame.wheels.empty() ? no_such_input : 1; },
          [](Job& job, double x) {
            for (frame::Wheel& w : job.design.frame.wheels) {
              w.radial_n_mm *= x;
              w.lateral_n_mm *= x;
            }
          }};
}

AssumedInput chord_wall() {
  return {"chord-wall-gives-way",
          "",
          {"design.flexible_joints"},
          RangeKind::words,
          0,
          0,
          [](const Job& job) { return job.rules.bracket_joints     ? 2
                                      : job.design.flexible_joints ? 1
                                                                   : 0; },
          [](Job& job, double x) {
            job.rules.bracket_joints = x > 1.5;
            job.design.flexible_joints = x > 0.5 && x < 1.5;
          },
          {"joints.rigid", "joints.flexible", "joints.bracketed"},
          {"fessler-1986", "rigid and flexible [from memory]"}};
}

AssumedInput payload_height() {
  return {"payload-height",
          "mm",
          {"design.box.payload_centre_mm"},
          RangeKind::plus,
          -100,
          100,
          [](const Job& job) {
            return job.design.carriers.box_nodes.empty() ? no_such_input
                                                         : job.design.carriers.payload_centre_mm.z();
          },
          [](Job& job, double x) { job.design.carriers.payload_centre_mm.z() = x; }};
}

}  // namespace

std::vector<AssumedInput> assumed_of_tyres() {
  using frame::Wheel;
  const auto row_of = [](const char* name, std::vector<std::string> keys, double low, double high,
                         double Wheel::*number) {
    return scaled<Wheel>(
        name, std::move(keys), low, high, wheels_in, [number](auto& w) -> auto& { return w.*number; });
  };
  return {tyre_stiffness(),
          row_of("tyre-lateral-stiffness", {"design.wheel.lateral_n_mm"}, 0.5, 2, &Wheel::lateral_n_mm),
          row_of("tyre-damping",
                 {"design.wheel.damping_n_s_m", "design.wheel.damping_ratio", "design.wheel.carried_kg"}, 0.5,
                 2, &Wheel::damping_n_s_m),
          row_of("tyre-lateral-damping", {"design.wheel.lateral_damping_n_s_m"}, 0.5, 2,
                 &Wheel::lateral_damping_n_s_m),
          row_of("tyre-envelope", {"design.wheel.contact_length_mm"}, 0.5, 1.5, &Wheel::contact_length_mm),
          row_of("camber-thrust", {"design.wheel.camber_thrust_per_deg"}, 0.5, 1.5,
                 &Wheel::camber_thrust_per_deg)};
}

std::vector<AssumedInput> assumed_of_design() {
  return {
      payload_height(),
      scaled<frame::Mass>(
          "masses", {"design.mass.mass_kg"}, 0.8, 1.2, masses_in, [](auto& m) -> auto& { return m.mass_kg; }),
      {"inertias",
       "",
       {"design.mass.inertia_kg_m2"},
       RangeKind::times,
       0.5,
       2,
       [](const Job& job) {
         const auto& all = job.design.frame.masses;
         return std::any_of(all.begin(), all.end(), [](const auto& m) { return m.inertia_kg_m2.norm() > 0; })
                    ? 1
                    : no_such_input;
       },
       [](Job& job, double x) {
         for (frame::Mass& m : job.design.frame.masses) m.inertia_kg_m2 *= x;
       }},
      scaled<frame::Damper>(
          "steering-damper", {"design.damper.damping_n_s_m"}, 0.5, 2, dampers_in,
          [](auto& d) -> auto& { return d.damping_n_s_m; }),
      {"walls",
       "",
       {"design.tube.wall_mm"},
       RangeKind::times,
       0.9,
       1.1,
       [](const Job&) { return 1.0; },
       scale_walls,
       {},
       {"en-10305-1", "tolerance of a wall, 10 % [from memory]"}},
      scaled<joints::Weld>(
          "throats", {"design.weld.throat_mm"}, 0.8, 1.2, welds_in,
          [](auto& w) -> auto& { return w.throat_mm; }),
      scaled<joints::Weld>(
          "joint-shares", {"design.weld.x_share", "design.weld.k_share"}, 0.5, 1, welds_in,
          [](auto& w) -> auto& { return w.x_share > 0 ? w.x_share : w.k_share; }),
      chord_wall(),
      scaled<design::Notch>(
          "notch-factors", {"design.notch.factor"}, 0.9, 1.1, notches_in,
          [](auto& n) -> auto& { return n.factor; }),
      scaled<design::BoltCircle>(
          "bolt-preload", {"design.bolts.preload_n"}, 0.7, 1.1, bolts_in,
          [](auto& b) -> auto& { return b.preload_n; }),
      scaled<design::BoltCircle>(
          "bolt-loss", {"design.bolts.loss_percent"}, 0.5, 2, bolts_in,
          [](auto& b) -> auto& { return b.loss_percent; }),
      scaled<design::BoltCircle>(
          "bolt-prying", {"design.bolts.prying"}, 1, 1.5, bolts_in,
          [](auto& b) -> auto& { return b.prying; }),
  };
}

}  // namespace seamwright::study
