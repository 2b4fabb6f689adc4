// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/fatigue/growth.h"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <limits>
#include <numbers>

namespace seamwright::fatigue {

using std::numbers::pi;

const Detection by_eye{"by eye", 15.78, 1.079};
const Detection by_magnetic_particles{"magnetic particles", 4.03, 1.297};

const std::array<const Detection*, 2> detections{&by_eye, &by_magnetic_particles};

const char* name_of(const Detection* by) { return by == &by_eye ? "eye" : "magnetic-particles"; }

double found_share(const Detection& by, double length) { return 1 - 1 / (1 + std::pow(length / by.x0_mm, by.b)); }

double net_section_moment(double radius, double wall, double half_angle, double tension, double yield) {
  if (!(radius > 0 && wall > 0 && yield > 0 && half_angle >= 0 && half_angle <= pi && std::isfinite(tension)))
    throw Fault{Message{"growth.bad-length", {number("from", radius, "mm"), number("to", wall, "mm"), number("range", yield, "MPa")}}};
  const double pressed = 0.5 * (pi - half_angle - std::abs(tension) / (2 * radius * wall * yield));  // angle of what is in compression
  if (pressed <= 0) return 0;
  return std::max(0.0, 2 * yield * radius * radius * wall * (2 * std::sin(pressed) - std::sin(half_angle)));
}

double growth_cycles(const Paris& paris, double range, double a, double b,
                     const std::function<double(double)>& shape) {
  if (!(a > 0 && b >= a && b < 1e6 && range > 0 && range < 1e5))
    throw Fault{Message{"growth.bad-length",
                        {number("from", a, "mm"), number("to", b, "mm"), number("range", range, "MPa")}}};
  // The integral runs over ln a, where the integrand is smooth from small cracks on.
  const auto speed = [&](double ln_a) {
    const double length = std::exp(ln_a);
    return length / (paris.c * std::pow(range * shape(length) * std::sqrt(pi * length), paris.m));
  };
  return boost::math::quadrature::gauss_kronrod<double, 31>::integrate(speed, std::log(a), std::log(b), 10,
                                                                       1e-10);
}

ThroughCrack through_crack(double radius, double wall, double half_angle) {
  const double x = half_angle / pi, slender = radius / wall;
  ThroughCrack c;
  Evidence& e = c.evidence;
  e.figure = std::string("through-crack");
  e.source = {"zahoor-1985", "circumferential through-wall crack"};
  e.from_memory = true;
  e.limits = {limit("R/t", slender, "", 5, 20), limit("theta/pi", x, "", 0, 0.55)};
  if (!all_inside(e.limits)) {
    e.coverage = Coverage::none;
    return c;
  }
  const double a = std::pow(slender <= 10 ? 0.125 * slender - 0.25 : 0.4 * slender - 3, 0.25);
  c.tension = 1 + a * (5.3303 * std::pow(x, 1.5) + 18.773 * std::pow(x, 4.24));
  c.bending = 1 + a * (4.5967 * std::pow(x, 1.5) + 2.6422 * std::pow(x, 4.24));
  e.value = c.tension;
  e.inputs = {{"bending", c.bending, ""}};
  return c;
}

std::optional<double> growth_around(double radius, double wall, double from_share, double to_share) {
  constexpr double stoutest = 3, in_range = 5;
  const double as_if = std::max(radius, in_range * wall);
  if (!(radius >= stoutest * wall && from_share > 0 && to_share > from_share) ||
      through_crack(as_if, wall, to_share * pi).evidence.coverage == Coverage::none)
    return std::nullopt;
  return growth_cycles({}, 1, from_share * pi * radius, to_share * pi * radius,
                       [&](double a) { return through_crack(as_if, wall, a / radius).tension; });
}

double growth_length_mm(double ligament, double bending_share) {
  if (!(ligament > 0 && ligament < 1e3 && bending_share >= 0 && bending_share <= 1))
    throw Fault{Message{"growth.bad-length", {number("from", 0, "mm"), number("to", ligament, "mm"), number("range", bending_share, "")}}};
  // Left over of the ligament: x of it. Delta K over its first value: x^-1.5 ((1 - share) x + share).
  const auto time = [&](double x) { return std::pow(x, 4.5) / std::pow((1 - bending_share) * x + bending_share, 3); };
  return ligament * boost::math::quadrature::gauss_kronrod<double, 31>::integrate(time, 0.0, 1.0, 10, 1e-9);
}

const Curve& growth_curve() {
  static const Curve curve = [] {
    Curve c;
    c.id = "crack growth";
    c.set = "growth";
    c.environment = "air";
    c.stress = StressKind::throat;
    c.segments = {{Paris{}.m, -std::log10(Paris{}.c), std::numeric_limits<double>::infinity()}};
    c.source = {"iiw-1823", "crack growth in steel"};
    c.from_memory = true;
    return c;
  }();
  return curve;
}

Interval inspection_interval(double radius, double wall, double range, double cycles_per_year,
                             const Detection& by) {
  Interval i;
  i.found_mm = by.x0_mm * std::pow(1 / (1 - 0.9) - 1, 1 / by.b);
  const double from = 0.5 * i.found_mm, to = 0.5 * pi * radius;
  ThroughCrack least = through_crack(radius, wall, from / radius);
  Evidence& e = i.evidence;
  e = least.evidence;
  e.figure = std::string("inspection-interval");
  e.subject = std::string(by.means);
  if (e.coverage == Coverage::none || !(from < to) || !(range > 0)) {
    e.coverage = Coverage::none;
    e.value = std::numeric_limits<double>::quiet_NaN();
    e.notes.push_back(
        {"growth.no-interval", {number("found", i.found_mm, "mm"), number("half", 2 * to, "mm")}});
    return i;
  }
  i.cycles = growth_cycles({}, range, from, to,
                           [&](double a) { return through_crack(radius, wall, a / radius).tension; });
  i.interval_years = i.cycles / cycles_per_year / 3;
  e.value = i.interval_years;
  e.unit = std::string("years");
  e.inputs = {
      {"length found", i.found_mm, "mm"},     {"range", range, "MPa"}, {"cycles of growth", i.cycles, ""},
      {"cycles a year", cycles_per_year, ""}, {"C", Paris{}.c, ""},    {"m", Paris{}.m, ""}};
  e.notes.push_back({"growth.habit", {}});
  if (e.subject == by_magnetic_particles.means) e.notes.push_back({"growth.ground", {}});
  return i;
}

}  // namespace seamwright::fatigue
