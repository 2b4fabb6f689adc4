// SPDX-License-Identifier: GPL-3.0-or-later
// Rig cases against hand statics, gauges against the strain of a beam, calibration against closed forms.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "catalog/files/rig_reader.h"
#include "engine/design/weld_geometry.h"
#include "engine/loads/inverse.h"
#include "engine/loads/posed_trike.h"
#include "engine/measured/field_calibration.h"
#include "engine/measured/gauges.h"
#include "engine/measured/ride_fit.h"
#include "engine/measured/rig_rating.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::measured;
using namespace seamwright::rating;

namespace {

const std::string demo = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike";

Job of_tee() {
  Job job;
  job.design = tee();
  return job;
}

RigCase push(double from_n, double to_n, double cycles) {
  RigCase c;
  c.id = "push";
  c.cycles = cycles;
  c.fixings = {{"A", {true, true, true, true, true, true}}, {"B", {true, true, true, true, true, true}}};
  c.steps = {{{"T", {0, from_n, 0}, frame::Vec3::Zero()}}, {{"T", {0, to_n, 0}, frame::Vec3::Zero()}}};
  return c;
}

Rating none() { return {}; }

}  // namespace

TEST_CASE("a rig on a tee: range by hand, damage by the curve, cycles to equal it") {
  Job job;
  job.design = tee();
  // Root at the saddle: 100 N at 270 mm above the chord's surface over the brace's modulus, wall over
  // throat 1.
  const double modulus = std::numbers::pi / 32 * (std::pow(30, 4) - std::pow(26, 4)) / 30;
  const double range = 200 * 270 / modulus;  // from -100 to 100 N
  Rating service;
  WeldRating weld;
  weld.id = "W";
  SiteRating root;
  root.site = "root@90";
  root.curve = "W3";
  root.damage_unfactored = 0.5;
  weld.sites = {root};
  service.welds = {weld};
  const RigResult r = rate_rigs(job, published::catalog().data, {push(-100, 100, 1e6)}, service).at(0);
  const auto& curves = published::catalog().data.curves;
  const auto w3 = std::find_if(curves.begin(), curves.end(), [](const auto& c) { return c.id == "W3"; });
  REQUIRE(w3 != curves.end());
  const double expected = 1e6 / fatigue::cycles_to_failure(*w3, range);
  CHECK(r.rig_damage_there == Approx(expected).epsilon(1e-3));
  CHECK(r.equal_cycles == Approx(0.5 / expected * 1e6).epsilon(1e-3));
  CHECK(r.damage >= r.rig_damage_there);
  CHECK(r.residual < 1e-10);
  // Slope 3 above the knee, 5 below: the force that does 0.5 in a million cycles has a range on the curve.
  CHECK(1e6 / fatigue::cycles_to_failure(*w3, r.equal_force * range) == Approx(0.5).epsilon(1e-3));
}

TEST_CASE("swinging from nothing does less than swinging to and fro") {
  Job job;
  job.design = tee();
  const auto r = rate_rigs(job, published::catalog().data, {push(0, 300, 1e5), push(-300, 300, 1e5)}, none());
  CHECK(r[0].damage > 0);
  // Half the range: 2^3 to 2^5 less.
  CHECK(r[1].damage / r[0].damage > 7.9);
  CHECK(r[1].damage / r[0].damage < 32.1);
  CHECK(r[0].passes == (r[0].damage <= 1));
}

TEST_CASE("a rig that holds nothing is refused") {
  RigCase c = push(0, 100, 1000);
  c.fixings = {{"A", {false, false, true, false, false, false}}};
  CHECK_THROWS_AS(rate_rigs(of_tee(), published::catalog().data, {c}, none()), Fault);
}

TEST_CASE("the pedalling test has the moments of its geometry") {
  // 1000 N: about the frame's plane force cos 7.5 times 150 mm less the sideways part's lever; 130.53 N
  // sideways (sin 7.5). Arms of 175 mm at 45 degrees: 123.74 mm ahead and below.
  const Job job = short_demo();
  const auto steps = pedalling_steps(job.design, job.duty.drive, 1000);
  REQUIRE(steps.size() == 4);
  CHECK(steps[0].empty());
  const frame::NodeLoad& left = steps[1][0];
  CHECK(left.node == "BB");
  CHECK(left.force_n.y() == Approx(130.526).epsilon(1e-5));
  CHECK(steps[3][0].force_n.y() == Approx(-130.526).epsilon(1e-5));
  // The chain pulls with 1000 cos 7.5 * 123.74 / 77 less what the sideways part does not turn.
  const double chain = 991.445 * 123.744 / 77;
  CHECK(steps[1][1].node == "RW");
  CHECK(steps[1][1].force_n.norm() == Approx(chain).epsilon(1e-4));
  // Left and right differ by the chain alone: their sum of moments about the long axis is twice its part.
  const double lever = 130.526 * 123.744 - 991.445 * 150;
  CHECK((left.moment_nmm.x() - steps[3][0].moment_nmm.x()) / 2 == Approx(lever).epsilon(1e-4));
}

TEST_CASE("the demonstration on its rig") {
  const Job job = short_demo();
  const auto cases = files::read_rigs(demo + "/rig.toml", job, published::catalog());
  const Rating service = rated(job, Method::spectral);
  const auto r = rate_rigs(job, published::catalog().data, cases, service);
  REQUIRE(r.size() == 4);
  CHECK(r[2].not_applicable == "horizontal-at-dropouts");
  for (const std::size_t i : {0U, 1U, 3U}) {
    CHECK(r[i].residual < 1e-9);
    CHECK(r[i].damage > 0);
    CHECK(r[i].service_weld == service.welds[0].id);
    CHECK_FALSE(r[i].passes);  // the design has sites without a curve
  }
}

TEST_CASE("gauges are put where they tell the loads apart") {
  const Job job = short_demo();
  const GaugePlan six = gauge_plan(job, 6), four = gauge_plan(job, 4), eight = gauge_plan(job, 8);
  CHECK(six.gauges.size() == 6);
  CHECK(six.channels.size() == 8);
  CHECK(six.microstrain.rows() == 6);
  CHECK(six.microstrain.cols() == 8);
  // More gauges know more.
  CHECK(six.error.squaredNorm() < four.error.squaredNorm());
  CHECK(eight.error.squaredNorm() < six.error.squaredNorm());
  CHECK(eight.error.maxCoeff() < 0.8);
  // Six gauges cannot tell eight loads apart: two degrees stay as unknown as before.
  CHECK(six.error.squaredNorm() > 1.99);
  CHECK(six.error.maxCoeff() <= 1);
  Job small = of_tee();
  small.duty = job.duty;
  small.design.frame.members.resize(1);
  small.design.welds.clear();
  CHECK_THROWS_AS(gauge_plan(small, 6), Fault);
  CHECK_THROWS_AS(gauge_plan(job, 13), Fault);
}

TEST_CASE("readings made with a known factor come back") {
  const GaugePlan plan = gauge_plan(short_demo(), 6);
  std::vector<GaugeReading> readings;
  for (std::size_t k = 0; k < plan.gauges.size(); ++k)
    for (std::size_t c = 0; c < plan.channels.size(); ++c) {
      const double factor = plan.channels[c].id == "corner" ? 1.3 : 0.9;
      readings.push_back(
          {k, plan.channels[c].id,
           factor * plan.microstrain(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(c))});
    }
  const GaugeResult r = judge_readings(plan, readings);
  for (const ChannelFactor& c : r.channels) {
    CHECK(c.factor == Approx(c.channel == "corner" ? 1.3 : 0.9).epsilon(1e-9));
    if (c.readings > 1) CHECK(c.scatter == Approx(0).margin(1e-9));
  }
  CHECK(r.load_factor == Approx(0.9));
  CHECK(r.load_scatter > 0.05);
  CHECK_THROWS_AS(judge_readings(plan, {{0, "wind", 3}}), Fault);
  CHECK_THROWS_AS(judge_readings(plan, {}), Fault);
}

namespace {

// Lives that fall with the fourth power of the load factor.
std::vector<Observation> observations(const std::vector<std::tuple<bool, double, double>>& returns,
                                      const std::vector<double>& ln_factor, double life_km, double power) {
  std::vector<Observation> out;
  for (const auto& [cracked, km, count] : returns) {
    Observation o{cracked, std::log(km), count, {}};
    for (const double x : ln_factor) o.ln_life_km.push_back(std::log(life_km) - power * x);
    out.push_back(o);
  }
  return out;
}

std::vector<double> grid() {
  std::vector<double> g;
  for (int i = 0; i <= 24; ++i) g.push_back(std::log(0.2) + i * std::log(25.0) / 24);
  return g;
}

}  // namespace

TEST_CASE("without survivors the likelihood has the closed form of the log-normal") {
  // Maximum likelihood: mean of ln km and root of the mean square about it (any textbook of statistics).
  const std::vector<double> km{2000, 3000, 5000, 4000};
  double mean = 0, square = 0;
  for (const double x : km) mean += std::log(x) / 4;
  for (const double x : km) square += std::pow(std::log(x) - mean, 2) / 4;
  std::vector<std::tuple<bool, double, double>> returns;
  for (const double x : km) returns.emplace_back(true, x, 1);
  const Calibration c = calibrate(grid(), observations(returns, grid(), 6000, 4), {});
  CHECK(c.bounded);
  CHECK(c.factor.value == Approx(std::exp((std::log(6000) - mean) / 4)).epsilon(1e-3));
  CHECK(c.scatter.value == Approx(std::sqrt(square)).epsilon(2e-3));
  CHECK(c.factor.low < c.factor.value);
  CHECK(c.factor.high > c.factor.value);
}

TEST_CASE("with survivors it is what a general optimiser finds") {
  // SciPy 1.10, Nelder-Mead on norm.logpdf and norm.logsf: cracks at 2900, 4100, 3500 km; six whole at 1500,
  // one at 5200 km; median life 5000 km at factor 1, power 4.
  const Calibration c = calibrate(
      grid(),
      observations({{true, 2900, 1}, {true, 4100, 1}, {true, 3500, 1}, {false, 1500, 6}, {false, 5200, 1}},
                   grid(), 5000, 4),
      {});
  CHECK(c.factor.value == Approx(1.05875546).epsilon(1e-3));
  CHECK(c.scatter.value == Approx(0.27501381).epsilon(3e-3));
}

TEST_CASE("survivors alone bound nothing, and little data leave the prior as it was") {
  const Calibration c = calibrate(grid(), observations({{false, 100, 1}}, grid(), 5000, 4), {});
  CHECK_FALSE(c.bounded);
  CHECK(c.narrowing > 0.9);
  CHECK(c.posterior_factor.value == Approx(1).epsilon(0.1));
  CHECK_THROWS_AS(calibrate(grid(), {}, {}), Fault);
  // Much data overrule it.
  const Calibration much =
      calibrate(grid(), observations({{true, 500, 200}, {true, 700, 200}}, grid(), 5000, 4), {});
  CHECK(much.narrowing < 0.1);
  CHECK(much.posterior_factor.value == Approx(much.factor.value).epsilon(0.02));
}

TEST_CASE("frames made to crack where the model says are judged to carry the model's loads") {
  const Job job = short_demo();
  const FieldModel one = field_model(job, published::catalog().data, {{true, "W41", "", 1000, 1}});
  // The median life stands at factor 1 10^0.4 above the spectral life without factors, times the median Miner sum.
  const SiteRating s = weld(rated(job, Method::spectral), "W41").sites[0];
  const std::size_t middle = one.ln_factor.size() / 2;
  CHECK(one.ln_factor[middle] == Approx(0).margin(1e-12));
  CHECK(one.observations[0].ln_life_km[middle] ==
        Approx(std::log(0.5 * s.life_km_unfactored) + 0.4 * std::log(10.0)).epsilon(1e-6));
  CHECK_THROWS_AS(field_model(job, published::catalog().data, {{true, "W99", "", 1000, 1}}), Fault);
  CHECK_THROWS_AS(field_model(job, published::catalog().data, {{true, "W41", "toe@7", 1000, 1}}), Fault);
}

TEST_CASE("a recorded stress of one range does the damage of its cycles") {
  const std::vector<fatigue::Curve>& curves = published::catalog().data.curves;
  const auto curve = std::find_if(curves.begin(), curves.end(), [](const auto& c) {
    return c.reference_thickness_mm > 0 && fatigue::cycles_to_failure(c, 200) < 1e6;
  });
  REQUIRE(curve != curves.end());
  std::vector<double> stress;
  for (int i = 0; i < 25; ++i) stress.insert(stress.end(), {-80, 120});
  const double each = 25 / fatigue::cycles_to_failure(*curve, 200);
  const StressDamage unknown = stress_damage(*curve, 0, stress, 0);
  CHECK(unknown.damage == Approx(each).epsilon(1e-9));
  CHECK(unknown.largest_mpa == Approx(200));
  CHECK(unknown.life_km == 0);
  CHECK(stress_damage(*curve, 0, stress, 3).life_km == Approx(3 / each).epsilon(1e-9));
  const double thick = 2 * curve->reference_thickness_mm;
  CHECK(stress_damage(*curve, thick, stress, 0).damage ==
        Approx(25 / fatigue::cycles_to_failure(*curve, 200 * fatigue::thickness_factor(*curve, thick))));
}

TEST_CASE("a profile comes back from the acceleration that it makes") {
  const Job job = short_demo();
  const frame::Frame f = loads::frame_in(loads::Pose{}, design::frame_with_cuts(job.design),
                                         job.design.carriers, job.duty.rider, job.design.steering);
  const loads::State state = loads::make_state(f, 0, 60);
  const loads::Transfer transfer(state, 0.01);
  // A bump of a quarter of a metre every eight: ridden by the model, measured at the box, and undone.
  loads::Road road;
  road.id = "bumps";
  road.profile_step_m = 0.02;
  for (int i = 0; i < 4000; ++i) {
    const double x = std::fmod(0.02 * i, 8.0);
    road.profile_left_m.push_back(x < 0.25 ? 0.005 * (1 - std::cos(2 * std::numbers::pi * x / 0.25)) : 0);
  }
  road.profile_right_m = road.profile_left_m;
  loads::Leg leg;
  leg.id = "leg";
  leg.distance_km = 0.078;
  leg.speed_kmh = 12;
  const double rate = 200, speed = 12 / 3.6;
  const auto row =
      state.moving.shapes.row(6 * static_cast<Eigen::Index>(state.assembly.node_index.at("E.L")) + 2);
  const auto shaken = [&](const loads::Road& over) {
    const Eigen::RowVectorXd z =
        row * loads::leg_coordinates(state, transfer, over, leg, rate, 60, "") / 1000;
    std::vector<double> a(static_cast<std::size_t>(z.size()), 0.0);
    for (Eigen::Index i = 1; i + 1 < z.size(); ++i)
      a[static_cast<std::size_t>(i)] = (z[i - 1] - 2 * z[i] + z[i + 1]) * rate * rate;
    return a;
  };
  const std::vector<double> acceleration = shaken(road);
  loads::Road found;
  found.id = "found";
  found.profile_step_m = speed / rate;
  found.profile_left_m =
      loads::profile_from_acceleration(state, transfer, "E.L", speed, rate, acceleration, {0.3, 45});
  found.profile_right_m = found.profile_left_m;
  REQUIRE(found.profile_left_m.size() == acceleration.size());
  // Ridden again, it shakes the box as the bumps did: what the box does not answer to stays unknown.
  const std::vector<double> again = shaken(found);
  double both = 0, mine = 0, theirs = 0;
  for (std::size_t i = 500; i + 500 < again.size(); ++i) {
    both += again[i] * acceleration[i];
    mine += again[i] * again[i];
    theirs += acceleration[i] * acceleration[i];
  }
  CHECK(both / std::sqrt(mine * theirs) > 0.97);
  CHECK(std::sqrt(mine / theirs) == Approx(1).epsilon(0.05));
  CHECK_THROWS_AS(loads::profile_from_acceleration(state, transfer, "no", speed, rate, acceleration, {1, 30}),
                  Fault);
}

TEST_CASE("the road that fits a measured acceleration is the road that made it") {
  const Job job = straight(one_leg());
  const Rating r = rated(job, Method::spectral);
  const frame::Frame f = loads::frame_in(job.duty.trips[0].legs[0].pose, design::frame_with_cuts(job.design),
                                         job.design.carriers, job.duty.rider, job.design.steering);
  const loads::State state = loads::make_state(f, 100, 60);
  const loads::Transfer transfer(state, job.duty.structural_damping);
  const double roughness = loads::equivalent_roughness_m3(state, transfer, job.design.carriers.saddle_node,
                                                          r.legs[0].speed_kmh / 3.6, {0.01, 60},
                                                          r.legs[0].levels.seat_acceleration_rms_m_s2);
  CHECK(roughness == Approx(256e-6).epsilon(1e-3));
}
