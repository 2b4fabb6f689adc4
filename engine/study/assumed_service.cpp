// SPDX-License-Identifier: GPL-3.0-or-later
// Assumed inputs of the service: legs, manoeuvres and obstacles.
#include <algorithm>
#include <cmath>

#include "engine/rating/job.h"
#include "engine/study/assumed.h"

namespace seamwright::study {

namespace {

using rating::Job;

template <typename Change>
auto on_legs(Change change) {
  return [change](Job& job, double x) {
    for (loads::Trip& trip : job.duty.trips)
      for (loads::Leg& leg : trip.legs) change(leg, x);
  };
}

// A factor on a number of every leg, where one of them has it.
AssumedInput of_legs(const char* name, std::vector<std::string> keys, double low, double high,
                     double& (*number)(loads::Leg&)) {
  return {name,
          "",
          std::move(keys),
          RangeKind::times,
          low,
          high,
          [number](const Job& job) {
            Job copy;
            copy.duty.trips = job.duty.trips;
            for (loads::Trip& trip : copy.duty.trips)
              for (loads::Leg& leg : trip.legs)
                if (number(leg) > 0) return 1.0;
            return no_such_input;
          },
          on_legs([number](loads::Leg& leg, double x) { number(leg) *= x; })};
}

// A factor on the level of every manoeuvre of one act.
AssumedInput of_act(const char* name, std::vector<std::string> keys, const loads::Act* act) {
  return {name,
          "",
          std::move(keys),
          RangeKind::times,
          0.7,
          1.3,
          [act](const Job& job) {
            const auto& all = job.duty.manoeuvres;
            return std::any_of(all.begin(), all.end(), [&](const auto& m) { return m.act == act; })
                       ? 1
                       : no_such_input;
          },
          [act](Job& job, double x) {
            for (loads::Manoeuvre& m : job.duty.manoeuvres)
              if (m.act == act) m.level *= x;
          }};
}

// A factor on a number of every manoeuvre or obstacle that has it.
template <typename Row>
AssumedInput of_rows(const char* name, std::vector<std::string> keys, double low, double high,
                     std::vector<Row> loads::Duty::*rows, double Row::*number) {
  return {name,
          "",
          std::move(keys),
          RangeKind::times,
          low,
          high,
          [rows, number](const Job& job) {
            const auto& all = job.duty.*rows;
            return std::any_of(all.begin(), all.end(), [&](const Row& row) { return row.*number > 0; })
                       ? 1
                       : no_such_input;
          },
          [rows, number](Job& job, double x) {
            for (Row& row : job.duty.*rows) row.*number *= x;
          }};
}

// The rear wheel's share of the braking force; the front wheels keep their ratio.
AssumedInput brake_share() {
  const auto braking = [](const Job& job) {
    const auto& all = job.duty.manoeuvres;
    return std::find_if(all.begin(), all.end(), [](const auto& m) { return m.act == &loads::act::brake; });
  };
  return {
      "brake-rear-share",
      "",
      {"duty.manoeuvre.front_left_share", "duty.manoeuvre.front_right_share", "duty.manoeuvre.rear_share"},
      RangeKind::plus,
      -0.2,
      0.2,
      [braking](const Job& job) {
        const auto found = braking(job);
        return found == job.duty.manoeuvres.end() ? no_such_input : found->brakes.rear;
      },
      [](Job& job, double x) {
        const double rear = std::clamp(x, 0.0, 1.0);
        for (loads::Manoeuvre& m : job.duty.manoeuvres) {
          if (m.act != &loads::act::brake) continue;
          const double fronts = m.brakes.front_left + m.brakes.front_right;
          const double left = fronts > 0 ? m.brakes.front_left / fronts : 0.5;
          m.brakes = {(1 - rear) * left, (1 - rear) * (1 - left), rear};
        }
      }};
}

double roughest(const loads::Duty& duty) {
  double most = 0;
  for (const loads::Road& road : duty.roads) most = std::max(most, road.gd_n0_m3);
  return most;
}

bool is_roughest(const loads::Duty& duty, const std::string& road) {
  return std::any_of(duty.roads.begin(), duty.roads.end(),
                     [&](const loads::Road& r) { return r.id == road && r.gd_n0_m3 == roughest(duty); });
}

// The rough share of the way is assumed: without a second road the distances only scale.
AssumedInput rough_distance() {
  return {"rough-distance",
          "",
          {"duty.trip.leg.distance_km"},
          RangeKind::times,
          0.5,
          2,
          [](const Job& job) {
            const auto legs = loads::all_legs(job.duty);
            const auto rough = std::count_if(
                legs.begin(), legs.end(), [&](const auto* leg) { return is_roughest(job.duty, leg->road); });
            return rough > 0 && rough < static_cast<std::ptrdiff_t>(legs.size()) ? 1 : no_such_input;
          },
          [](Job& job, double x) {
            for (loads::Trip& trip : job.duty.trips)
              for (loads::Leg& leg : trip.legs)
                if (is_roughest(job.duty, leg.road)) leg.distance_km *= x;
          }};
}

// The mix moves between two kinds of trips; one kind alone only scales.
AssumedInput trip_mix() {
  return {"trip-mix",
          "",
          {"duty.trip.trips_per_year"},
          RangeKind::times,
          0.5,
          2,
          [](const Job& job) { return job.duty.trips.size() > 1 ? 1 : no_such_input; },
          [](Job& job, double x) { job.duty.trips[0].trips_per_year *= x; }};
}

}  // namespace

std::vector<AssumedInput> assumed_of_legs() {
  using loads::Leg;
  const auto plus = [](const char* name, const char* unit, const char* key, double by,
                       double& (*number)(Leg&)) {
    // Each leg has its own: the row shows what is added to all.
    return AssumedInput{name,
                        unit,
                        {std::string("duty.trip.leg.").append(key)},
                        RangeKind::between,
                        -by,
                        by,
                        [](const Job&) { return 0.0; },
                        on_legs([number](Leg& leg, double x) { number(leg) += x; })};
  };
  return {
      of_legs("payload", {"duty.trip.leg.payload_kg"}, 0.8, 1.2,
              [](Leg& l) -> double& { return l.pose.payload_kg; }),
      plus("payload-ahead", "mm", "payload_ahead_mm", 100,
           [](Leg& l) -> double& { return l.pose.payload_ahead_mm; }),
      plus("payload-left", "mm", "payload_left_mm", 50,
           [](Leg& l) -> double& { return l.pose.payload_left_mm; }),
      of_legs("speed", {"duty.trip.leg.speed_kmh"}, 0.8, 1.2, [](Leg& l) -> double& { return l.speed_kmh; }),
      plus("cross-fall", "%", "cross_fall_percent", 2.5,
           [](Leg& l) -> double& { return l.cross_fall_percent; }),
      plus("leg-steering", "°", "steering_deg", 5, [](Leg& l) -> double& { return l.pose.steering_deg; }),
      of_legs("pedal-force", {"duty.trip.leg.pedal_force_n"}, 0.8, 1.2,
              [](Leg& l) -> double& { return l.pedal_force_n; }),
      of_legs("crank-turns", {"duty.trip.leg.turns_per_km"}, 0.8, 1.2,
              [](Leg& l) -> double& { return l.turns_per_km; }),
      of_legs("leg-gear", {"duty.trip.leg.sprocket_radius_mm"}, 0.7, 1.4,
              [](Leg& l) -> double& { return l.sprocket_radius_mm; }),
      rough_distance(),
      trip_mix()};
}

std::vector<AssumedInput> assumed_of_events() {
  using loads::Duty;
  using loads::Leg;
  using loads::Manoeuvre;
  using loads::Obstacle;
  return {
      {"event-rates",
       "",
       {"duty.trip.leg.per_km."},
       RangeKind::times,
       0.5,
       2,
       [](const Job& job) {
         const auto legs = loads::all_legs(job.duty);
         return std::any_of(legs.begin(), legs.end(), [](const auto* l) { return !l->rates.empty(); })
                    ? 1
                    : no_such_input;
       },
       on_legs([](Leg& leg, double x) {
         for (loads::Rate& rate : leg.rates) rate.per_km *= x;
       })},
      of_act("corner-level", {"duty.manoeuvre.m_s2", "duty.manoeuvre.radius_m", "duty.manoeuvre.speed_kmh"},
             &loads::act::corner),
      of_act("brake-level", {"duty.manoeuvre.m_s2"}, &loads::act::brake),
      of_act("start-force", {"duty.manoeuvre.pedal_force_n"}, &loads::act::start),
      of_act("sit-down-force", {"duty.manoeuvre.force_n"}, &loads::act::sit_down),
      of_act("bar-force", {"duty.manoeuvre.force_n"}, &loads::act::bars),
      of_rows("manoeuvre-seconds", {"duty.manoeuvre.seconds"}, 0.5, 2, &Duty::manoeuvres,
              &Manoeuvre::seconds),
      of_rows("manoeuvre-steering", {"duty.manoeuvre.steering_deg"}, 0.5, 1.5, &Duty::manoeuvres,
              &Manoeuvre::steering_deg),
      of_rows("motor-torque", {"duty.manoeuvre.motor_n_m"}, 0.8, 1.2, &Duty::manoeuvres,
              &Manoeuvre::motor_n_m),
      of_rows("start-gear", {"duty.manoeuvre.sprocket_radius_mm"}, 0.7, 1.4, &Duty::manoeuvres,
              &Manoeuvre::sprocket_radius_mm),
      brake_share(),
      of_rows("obstacle-height", {"duty.obstacle.height_mm"}, 0.7, 1.3, &Duty::obstacles,
              &Obstacle::height_mm),
      of_rows("obstacle-length", {"duty.obstacle.length_mm", "duty.obstacle.ramp_mm"}, 0.8, 1.25,
              &Duty::obstacles, &Obstacle::length_mm),
      of_rows("obstacle-speed", {"duty.obstacle.speed_kmh"}, 0.7, 1.3, &Duty::obstacles,
              &Obstacle::speed_kmh),
      of_rows("obstacle-steering", {"duty.obstacle.steering_deg"}, 0.5, 1.5, &Duty::obstacles,
              &Obstacle::steering_deg),
  };
}

}  // namespace seamwright::study
