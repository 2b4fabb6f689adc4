// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "catalog/files/job.h"
#include "catalog/files/parse.h"

namespace seamwright::files {

namespace {

constexpr Bounds share{0, 1};

loads::Rider read_rider(Reader r) {
  loads::Rider rider;
  rider.mass_kg = r.real("mass_kg", {1, 300});
  rider.saddle_share = r.real("saddle_share", share);
  rider.pedal_share = r.real("pedal_share", share);
  rider.bar_share = r.real("bar_share", share);
  if (std::abs(rider.saddle_share + rider.pedal_share + rider.bar_share - 1) > 1e-6)
    r.fail("file.out-of-range", "saddle_share", "shares that do not sum to 1",
           "saddle, pedal and bar shares that sum to 1");
  rider.vertical_frequency_hz = r.real_or("vertical_frequency_hz", {0.1, 60}, 5);
  rider.vertical_damping = r.real_or("vertical_damping", {0, 2}, 0.475);
  if (r.has("lateral_frequency_hz")) {
    rider.lateral_frequency_hz = r.real("lateral_frequency_hz", {0.1, 60});
    rider.lateral_damping = r.real("lateral_damping", {0, 2});
  }
  if (r.has("fore_aft_frequency_hz")) {
    rider.fore_aft_frequency_hz = r.real("fore_aft_frequency_hz", {0.1, 60});
    rider.fore_aft_damping = r.real("fore_aft_damping", {0, 2});
  }
  rider.height_above_saddle_mm = r.real("height_above_saddle_mm", {0, 1000});
  r.finish();
  return rider;
}

loads::Road read_road(Reader r, const published::Catalog& catalog) {
  loads::Road road;
  road.id = r.id("id");
  if (r.has("class")) {
    road.road_class = r.choice("class", {"A", "B", "C", "D", "E", "F", "G", "H"});
    road.gd_n0_m3 = published::find_road_class(catalog, road.road_class)->mean_m3;
  } else {
    road.gd_n0_m3 = r.real("gd_n0_m3", {1e-9, 1});
  }
  road.waviness = r.real_or("waviness", {1.01, 5}, 2);
  road.min_cycles_m = r.real_or("min_cycles_m", {1e-4, 1}, 0.01);
  road.max_cycles_m = r.real_or("max_cycles_m", {1, 100}, 10);
  const std::string name = r.choice_or("coherence", {"isotropic", "full", "none"}, "isotropic");
  road.coherence = name == "full" ? loads::Coherence::full
                                  : (name == "none" ? loads::Coherence::none : loads::Coherence::isotropic);
  r.finish();
  return road;
}

void read_manoeuvres(Reader& r, loads::Leg& leg) {
  if (r.has("corners_per_km")) {
    leg.corners_per_km = r.real("corners_per_km", {0, 1000});
    leg.corner_m_s2 = r.real("corner_m_s2", {0, 10});
    leg.corner_s = r.real_or("corner_s", {0.2, 60}, 3);
  }
  if (r.has("stops_per_km")) {
    leg.stops_per_km = r.real("stops_per_km", {0, 1000});
    leg.braking_m_s2 = r.real("braking_m_s2", {0, 10});
    leg.braking_s = r.real_or("braking_s", {0.2, 60}, 2);
  }
  if (r.has("pedal_force_n")) {
    leg.pedal_force_n = r.real("pedal_force_n", {0, 5000});
    leg.turns_per_km = r.real("turns_per_km", {0, 2000});
  }
}

// Without the table every value is its default, and listed.
void read_drive(Reader r, loads::Drive& d) {
  d.crank_mm = r.real_or("crank_mm", {50, 300}, 170);
  d.pedal_offset_mm = r.real_or("pedal_offset_mm", {0, 400}, 135);
  d.chainring_radius_mm = r.real_or("chainring_radius_mm", {20, 200}, 77);
  d.sprocket_radius_mm = r.real_or("sprocket_radius_mm", {10, 200}, 37);
  d.chain_offset_mm = r.real_or("chain_offset_mm", {0, 200}, 45);
  d.bar_pull_share = r.real_or("bar_pull_share", {0, 1}, 0.3);
  r.finish();
}
void read_brakes(Reader r, loads::Brakes& b) {
  b.front_left = r.real_or("front_left_share", {0, 1}, 0.35);
  b.front_right = r.real_or("front_right_share", {0, 1}, 0.35);
  b.rear = r.real_or("rear_share", {0, 1}, 0.3);
  if (std::abs(b.front_left + b.front_right + b.rear - 1) > 1e-6)
    r.fail("file.out-of-range", "front_left_share", "shares that do not sum to 1",
           "front left, front right and rear shares that sum to 1");
  r.finish();
}

loads::Trip read_trip(Reader r, const std::vector<loads::Road>& roads) {
  loads::Trip trip;
  trip.trips_per_year = r.real("trips_per_year", {0.1, 1e5});
  trip.years = r.real("years", {0.1, 100});
  for (const toml::table* table : r.tables("leg")) {
    Reader l = r.sub("leg", *table);
    loads::Leg leg{l.id("id"), l.id("road"), l.real("distance_km", {0.01, 1000}),
                   l.real("speed_kmh", {1, 60}), l.real("payload_kg", {0, 1000})};
    read_manoeuvres(l, leg);
    if (std::none_of(roads.begin(), roads.end(), [&](const auto& road) { return road.id == leg.road; }))
      l.fail("file.unknown-id", "road", leg.road, "a road of the duty");
    l.finish();
    trip.legs.push_back(leg);
  }
  if (trip.legs.empty()) r.fail("file.duty-without-legs", "leg", "", "at least one leg");
  if (trip.legs.size() > 100)
    r.fail("file.out-of-range", "leg", std::to_string(trip.legs.size()), "at most 100 legs");
  r.finish();
  return trip;
}

rating::Rules read_rules(Reader r, std::vector<std::string>& seeds) {
  rating::Rules rules;
  rules.set = r.choice("set", {"dnv"});
  rules.consequence = r.choice("consequence", {"secondary-part", "whole-frame", "people"});
  rules.strategy = r.choice("strategy", {"safe-life", "inspected"});
  if (r.has("design_fatigue_factor")) rules.design_fatigue_factor = r.real("design_fatigue_factor", {1, 10});
  rules.load_scatter = r.real_or("load_scatter", {0, 1}, 0.20);
  if (r.has("load_factor")) rules.load_factor = r.real("load_factor", {1, 5});
  rules.environment_outside = r.choice_or("environment_outside", {"air"}, "air");
  rules.environment_inside = r.choice_or("environment_inside", {"air"}, "air");
  rules.chord_fixity = r.real_or("chord_fixity", {0.5, 1}, 0.7);
  seeds = r.texts("seeds");
  if (seeds.empty() || seeds.size() > 100)
    r.fail("file.out-of-range", "seeds", std::to_string(seeds.size()), "1 to 100 names");
  r.finish();
  return rules;
}

Reader only(Reader& root, const std::string& key) {
  const auto tables = root.tables(key);
  if (tables.size() != 1) root.fail("file.missing-key", key, "", "one table [" + key + "]");
  return root.sub(key, *tables[0]);
}

}  // namespace

DutyFile read_duty(const std::string& path, const published::Catalog& catalog) {
  const std::string content = read_text(path);
  const toml::table table = parse(path, content);
  DutyFile out;
  Reader root(path, "duty", table, nullptr, &out.assumptions);
  root.choice("format", {"seamwright.duty/1"});
  out.identity = {root.text("name"), root.text_or("revision", ""), sha256(content)};
  out.duty.name = out.identity.name;
  root.text_or("note", "");
  out.duty.rider = read_rider(only(root, "rider"));
  for (const toml::table* road : root.tables("road"))
    out.duty.roads.push_back(read_road(root.sub("road", *road), catalog));
  out.duty.trip = read_trip(only(root, "trip"), out.duty.roads);
  const toml::table nothing;
  const auto optional = [&](const char* key) {
    const auto tables = root.tables(key);
    return root.sub(key, tables.empty() ? nothing : *tables[0]);
  };
  const auto any = [&](double loads::Leg::*value) {
    return std::any_of(out.duty.trip.legs.begin(), out.duty.trip.legs.end(),
                       [&](const auto& leg) { return leg.*value > 0; });
  };
  if (any(&loads::Leg::pedal_force_n) || root.has("drive")) read_drive(optional("drive"), out.duty.drive);
  if (any(&loads::Leg::braking_m_s2) || root.has("brakes")) read_brakes(optional("brakes"), out.duty.brakes);
  Reader d = optional("dynamics");
  out.duty.sample_rate_hz = d.real_or("sample_rate_hz", {50, 2000}, 200);
  out.duty.highest_frequency_hz = d.real_or("highest_frequency_hz", {20, 100}, 60);
  out.duty.structural_damping = d.real_or("structural_damping", {0.001, 0.2}, 0.01);
  d.finish();
  out.rules = read_rules(only(root, "rules"), out.duty.seeds);
  root.finish();
  return out;
}

}  // namespace seamwright::files
