// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/trips_reader.h"

#include <algorithm>
#include <cmath>

#include "catalog/files/column.h"
#include "catalog/published/surface_names.h"

namespace seamwright::files {

namespace {

template <typename Row>
bool has_id(const std::vector<Row>& rows, const std::string& id) {
  return std::any_of(rows.begin(), rows.end(), [&](const Row& row) { return row.id == id; });
}

template <typename Row>
std::vector<std::string> row_ids(const std::vector<Row>& rows) {
  std::vector<std::string> ids;
  for (const Row& row : rows) ids.push_back(row.id);
  return ids;
}

std::vector<double> heights(const SourceFile& file, const std::string& column) {
  std::vector<double> out;
  read_column(file, column,
              [&](std::span<const double> values) { out.insert(out.end(), values.begin(), values.end()); });
  return out;
}

void read_profile(Reader& r, loads::Road& road) {
  const SourceFile file = r.file().beside(r.text("profile"));
  road.profile_step_m = r.real("profile_step_m", {0.001, 1});
  const std::string left = r.text("profile_left"), right = r.text_or("profile_right", left);
  road.profile_left_m = heights(file, left);
  road.profile_right_m = right == left ? road.profile_left_m : heights(file, right);
  if (road.profile_left_m.size() < 10)
    r.fail("file.out-of-range", "profile", std::to_string(road.profile_left_m.size()), "10 heights and more");
  for (const double z : road.profile_left_m)
    if (std::abs(z) > 10) r.fail("file.out-of-range", "profile", number_as_typed(z), "heights within 10 m");
}

void read_class(Reader& r, const published::Catalog& catalog, loads::Road& road) {
  road.road_class = r.choice("class", {"A", "B", "C", "D", "E", "F", "G", "H"});
  const published::RoadClass& known = *published::find_road_class(catalog, road.road_class);
  road.gd_n0_m3 = known.mean_m3;
  road.fit = {known.knee_rad_m, known.power, 1};
}

void read_surface(Reader& r, const published::Catalog& catalog, loads::Road& road) {
  const published::RoadSurface& known = *published::find_road_surface(catalog, r.choice("surface", published::surface_names()));
  road.gd_n0_m3 = known.gd_n0_m3();
  road.waviness = known.waviness;
  road.fit = {known.knee_rad_m, known.power, known.reach};
}

// Only who names a measured surface asks for its tracks as measured without saying so.
void read_coherence(Reader& r, loads::Road& road) {
  using loads::Coherence;
  const std::string name = r.choice_or("coherence", {"isotropic", "full", "fitted", "none"}, r.has("surface") ? "fitted" : "isotropic");
  road.coherence = name == "full"     ? Coherence::full
                   : name == "fitted" ? Coherence::fitted
                   : name == "none"   ? Coherence::none
                                      : Coherence::isotropic;
  if (road.coherence == Coherence::fitted && !(road.fit.knee_rad_m > 0))
    r.fail("file.out-of-range", "coherence", name, "a road of class A to E or a measured surface, whose tracks have a fit");
}

loads::Road read_road(Reader r, const published::Catalog& catalog) {
  loads::Road road;
  road.id = r.id("id");
  if (r.has("class")) {
    read_class(r, catalog, road);
  } else if (r.has("surface")) {
    read_surface(r, catalog, road);
  } else if (r.has("profile")) {
    read_profile(r, road);
  } else {
    road.gd_n0_m3 = r.real("gd_n0_m3", {1e-9, 1});
  }
  road.max_cycles_m = r.real_or("max_cycles_m", {1, 100}, 10);
  if (road.profile_left_m.empty()) {
    if (!r.has("surface")) road.waviness = r.real_or("waviness", {1.01, 5}, 2);
    road.min_cycles_m = r.real_or("min_cycles_m", {1e-4, 1}, 0.01);
    read_coherence(r, road);
    if (r.has("pitch_mm")) {
      road.pitch_mm = r.real("pitch_mm", {10, 10000});
      road.pitch_amplitude_mm = r.real("pitch_amplitude_mm", {0, 50});
    }
  }
  r.finish();
  return road;
}

loads::Side read_side(Reader& r, const char* key) {
  const std::string side = r.has(key) ? r.choice(key, {"both", "left", "right"}) : r.text_or(key, "both");
  return side == "left" ? loads::Side::left : side == "right" ? loads::Side::right : loads::Side::both;
}

double corner_level(Reader& r) {
  if (!r.has("radius_m")) return r.real("m_s2", {0, 10});
  const double v = r.real("speed_kmh", {0.1, 100}) / 3.6;
  return v * v / r.real("radius_m", {0.5, 1000});
}

loads::Brakes read_brakes(Reader& r) {
  const loads::Brakes b{r.real_or("front_left_share", share, 0.35),
                        r.real_or("front_right_share", share, 0.35), r.real_or("rear_share", share, 0.3)};
  if (std::abs(b.front_left + b.front_right + b.rear - 1) > 1e-6)
    r.fail("file.out-of-range", "front_left_share", "shares that do not sum to 1",
           "front left, front right and rear shares that sum to 1");
  return b;
}

constexpr Bounds act_seconds{0.05, 60}, act_newton{0, 5000};

void read_corner(Reader& r, loads::Manoeuvre& m) {
  m.level = corner_level(r);
  m.seconds = r.real_or("seconds", act_seconds, 3);
  m.side = read_side(r, "side");
  m.steering_deg = r.real_or("steering_deg", {0, 80}, 0);
}

void read_steering(Reader& r, loads::Manoeuvre& m) {
  m.steering_deg = r.real_or_none("steering_deg", {-80, 80});
}

void read_brake(Reader& r, loads::Manoeuvre& m) {
  read_steering(r, m);
  m.level = r.real("m_s2", {0, 10});
  m.seconds = r.real_or("seconds", act_seconds, 2);
  m.brakes = read_brakes(r);
}

void read_start(Reader& r, loads::Manoeuvre& m) {
  read_steering(r, m);
  m.level = r.real("pedal_force_n", act_newton);
  m.motor_n_m = r.real_or_none("motor_n_m", {0, 500});
  m.sprocket_radius_mm = r.real_or_none("sprocket_radius_mm", {0, 200});
  m.seconds = r.real_or("seconds", act_seconds, 0.8);
  m.side = read_side(r, "side");
}

void read_sit_down(Reader& r, loads::Manoeuvre& m) {
  read_steering(r, m);
  m.level = r.real("force_n", act_newton);
  m.seconds = r.real_or("seconds", act_seconds, 0.3);
}

void read_bars(Reader& r, loads::Manoeuvre& m) {
  read_steering(r, m);
  m.level = r.real("force_n", act_newton);
  m.seconds = r.real_or("seconds", act_seconds, 0.8);
  m.side = read_side(r, "side");
}

loads::Obstacle read_obstacle(Reader r) {
  using loads::Shape;
  static const std::vector<std::pair<std::string, Shape>> shapes{{"kerb-up", Shape::kerb_up},
                                                                 {"kerb-down", Shape::kerb_down},
                                                                 {"pothole", Shape::pothole},
                                                                 {"round-hump", Shape::round_hump},
                                                                 {"sine-hump", Shape::sine_hump},
                                                                 {"flat-hump", Shape::flat_hump},
                                                                 {"bar", Shape::bar}};
  std::vector<std::string> names;
  for (const auto& [name, shape] : shapes) names.push_back(name);
  loads::Obstacle o;
  o.id = r.id("id");
  const std::string wanted = r.choice("shape", names);
  for (const auto& [name, shape] : shapes)
    if (name == wanted) o.shape = shape;
  o.height_mm = r.real("height_mm", {1, 300});
  if (o.shape != Shape::kerb_up && o.shape != Shape::kerb_down) o.length_mm = r.real("length_mm", {5, 30000});
  if (o.shape == Shape::flat_hump) o.ramp_mm = r.real("ramp_mm", {10, 10000});
  if (o.shape == Shape::round_hump && o.height_mm > o.length_mm / 2)
    r.fail("file.out-of-range", "height_mm", number_as_typed(o.height_mm), "at most half the length");
  o.wheels = read_side(r, "wheels");
  o.speed_kmh = r.has("speed_kmh") ? r.real("speed_kmh", {1, 60}) : 0;
  o.steering_deg = r.real_or_none("steering_deg", {-80, 80});
  r.text_or("source", "");
  r.finish();
  return o;
}

loads::Leg read_leg(Reader l, const loads::Duty& duty) {
  constexpr Bounds offset{-1000, 1000};
  loads::Leg leg{l.id("id"),
                 l.id("road"),
                 l.real("distance_km", {0.01, 1000}),
                 l.real("speed_kmh", {1, 60}),
                 {},
                 0,
                 0,
                 0,
                 0,
                 {}};
  leg.pose = {l.real("payload_kg", {0, 1000}), l.real_or_none("payload_ahead_mm", offset),
              l.real_or_none("payload_left_mm", offset), l.real_or_none("steering_deg", {-80, 80})};
  leg.cross_fall_percent = l.real_or_none("cross_fall_percent", {-30, 30});
  if (l.has("pedal_force_n")) {
    leg.pedal_force_n = l.real("pedal_force_n", {0, 5000});
    leg.turns_per_km = l.real("turns_per_km", {0, 2000});
    leg.sprocket_radius_mm = l.real_or_none("sprocket_radius_mm", {0, 200});
  }
  for (const auto& [id, per_km] : l.numbers("per_km", {0, 10000})) {
    if (!has_id(duty.manoeuvres, id) && !has_id(duty.obstacles, id)) {
      std::vector<std::string> known = row_ids(duty.manoeuvres), obstacles = row_ids(duty.obstacles);
      known.insert(known.end(), obstacles.begin(), obstacles.end());
      l.refuse_unknown("per_km", id, known);
    }
    leg.rates.push_back({id, per_km});
  }
  if (!has_id(duty.roads, leg.road)) l.refuse_unknown("road", leg.road, row_ids(duty.roads));
  l.finish();
  return leg;
}

loads::Trip read_trip(Reader r, const loads::Duty& duty) {
  loads::Trip trip;
  trip.id = r.has("id") ? r.id("id") : r.text_or("id", "trip");
  trip.trips_per_year = r.real("trips_per_year", {0.1, 1e5});
  for (const toml::table* table : r.tables("leg")) {
    trip.legs.push_back(read_leg(r.sub_reader("leg", *table), duty));
    const std::string& id = trip.legs.back().id;
    const auto legs_called_so = [&](const loads::Trip& t) {
      return std::count_if(t.legs.begin(), t.legs.end(), [&](const auto& leg) { return leg.id == id; });
    };
    auto uses = legs_called_so(trip);
    for (const loads::Trip& t : duty.trips) uses += legs_called_so(t);
    if (uses > 1) r.fail("file.doubled-id", "leg", id, "an id of its own");
  }
  if (trip.legs.empty()) r.fail("file.duty-without-legs", "leg", "", "at least one leg");
  if (trip.legs.size() > 100)
    r.fail("file.out-of-range", "leg", std::to_string(trip.legs.size()), "at most 100 legs");
  r.finish();
  return trip;
}

template <typename Row, typename Read>
void read_rows(Reader& root, const char* key, std::vector<Row>& rows, const Read& read) {
  for (const toml::table* table : root.tables(key)) {
    Reader r = root.sub_reader(key, *table);
    rows.push_back(read(r));
    const std::string id = rows.back().id;
    if (std::count_if(rows.begin(), rows.end(), [&](const Row& row) { return row.id == id; }) > 1)
      r.fail("file.doubled-id", "id", id, "an id of its own");
  }
}

}  // namespace

const std::vector<ActKeys>& act_keys() {
  static const std::vector<ActKeys> all{{&loads::act::corner, read_corner},
                                        {&loads::act::brake, read_brake},
                                        {&loads::act::start, read_start},
                                        {&loads::act::sit_down, read_sit_down},
                                        {&loads::act::bars, read_bars}};
  return all;
}

loads::Manoeuvre read_manoeuvre(Reader r, const std::vector<ActKeys>& acts) {
  loads::Manoeuvre m;
  m.id = r.id("id");
  std::vector<std::string> names;
  for (const ActKeys& a : acts) names.push_back(name_of(a.act));
  const auto at = std::find(names.begin(), names.end(), r.choice("act", names)) - names.begin();
  const ActKeys& chosen = acts[static_cast<std::size_t>(at)];
  m.act = chosen.act;
  chosen.read(r, m);
  r.finish();
  return m;
}

void read_service(Reader& root, const published::Catalog& catalog, loads::Duty& duty) {
  read_rows(root, "road", duty.roads, [&](const Reader& r) { return read_road(r, catalog); });
  read_rows(root, "manoeuvre", duty.manoeuvres,
            [](const Reader& r) { return read_manoeuvre(r, act_keys()); });
  read_rows(root, "obstacle", duty.obstacles, [&](const Reader& r) {
    loads::Obstacle o = read_obstacle(r);
    if (has_id(duty.manoeuvres, o.id)) r.fail("file.doubled-id", "id", o.id, "an id of its own");
    return o;
  });
  read_rows(root, "trip", duty.trips, [&](const Reader& r) { return read_trip(r, duty); });
  if (duty.trips.empty()) root.refuse_missing("trip", "one table [[trip]] or more");
}

}  // namespace seamwright::files
