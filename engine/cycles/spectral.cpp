// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/cycles/spectral.h"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>

#include "engine/evidence/evidence.h"

namespace seamwright::cycles {
namespace {

constexpr double still_mpa2 = 1e-6;        // 1 kPa squared
constexpr double inequality_slack = 1e-5;  // moments come from quadrature and carry its rounding
constexpr double narrow_dirlik = 1e-4;     // 1 - irregularity below which Q = 0/0 loses its digits
constexpr double narrow_tovo = 1e-6;

// False when there is no stress to speak of.
bool moves(const Moments& m) {
  const bool finite =
      std::isfinite(m.m0) && std::isfinite(m.m1) && std::isfinite(m.m2) && std::isfinite(m.m4);
  if (finite && std::abs(m.m0) <= still_mpa2) return false;
  const double a = m.m1 / m.m0, b = m.m2 / m.m1, c = m.m4 / m.m2;  // Hz, Hz, Hz2
  const bool positive = m.m0 > 0 && m.m1 > 0 && m.m2 > 0 && m.m4 > 0;
  const double slack = 1 + inequality_slack;
  const bool possible = a <= b * slack && b * b <= c * slack;
  if (finite && positive && possible) return true;
  throw Fault{Message{"cycles.bad-moments",
                      {number("m0", m.m0, "MPa2"), number("m1", m.m1, "MPa2 Hz"),
                       number("m2", m.m2, "MPa2 Hz2"), number("m4", m.m4, "MPa2 Hz4")}}};
}

using Part = GaussianRanges::Part;

double density(Part::Shape shape, double u) {
  return shape == Part::Shape::rayleigh ? u * std::exp(-0.5 * u * u) : std::exp(-u);
}

// Gaussian stress as a sum of at most three parts.
std::array<Part, 3> parts_of(const Moments& m, RangeModel wanted) {
  using Shape = Part::Shape;
  const double sigma = std::sqrt(m.m0);
  const double peaks = peaks_per_s(m);
  const double gamma = irregularity(m);
  switch (model_used(m, wanted)) {
    case RangeModel::dirlik: {
      const Dirlik d = dirlik(m);
      return {Part{Shape::exponential, peaks * d.d1, sigma * d.q},
              Part{Shape::rayleigh, peaks * d.d2, sigma * d.r}, Part{Shape::rayleigh, peaks * d.d3, sigma}};
    }
    case RangeModel::tovo_benasciutti: {
      const double b = tovo_benasciutti_weight(m);
      return {Part{Shape::rayleigh, peaks * b * gamma, sigma},
              Part{Shape::rayleigh, peaks * (1 - b), sigma * gamma}, Part{}};
    }
    case RangeModel::narrow_band:
    case RangeModel::wirsching_light:
      break;
  }
  return {Part{Shape::rayleigh, upcrossings_per_s(m), sigma}, Part{}, Part{}};
}

// Panels in u: e^(-98) and e^(-60) are left beyond; the inner edges put Gauss-Kronrod points under the peak.
std::vector<double> panel_edges(const Part& part, const std::vector<double>& knees) {
  std::vector<double> edges = part.shape == Part::Shape::rayleigh ? std::vector<double>{0, 1, 2, 4, 8, 14}
                                                                  : std::vector<double>{0, 1, 3, 8, 20, 100};
  const double end = edges.back();
  for (const double knee : knees) {
    const double u = knee / (2 * part.amplitude_mpa);
    if (u < end) edges.push_back(u);
  }
  std::sort(edges.begin(), edges.end());
  return edges;
}

// factor_at_slope corrects each panel by the slope of the damage law there; empty = 1.
double damage_of_part(const Part& part, const std::function<double(double)>& damage_of_range,
                      const std::vector<double>& knees,
                      const std::function<double(double)>& factor_at_slope) {
  using Rule = boost::math::quadrature::gauss_kronrod<double, 31>;
  const auto integrand = [&](double u) {
    const double range = 2 * part.amplitude_mpa * u;
    const double damage = damage_of_range(range);
    if (!std::isfinite(damage) || damage < 0) {
      throw Fault{
          Message{"cycles.bad-damage-law", {number("range", range, "MPa"), number("damage", damage, "")}}};
    }
    return density(part.shape, u) * damage;
  };
  const std::vector<double> edges = panel_edges(part, knees);
  double sum = 0;
  for (std::size_t i = 1; i < edges.size(); ++i) {
    if (!(edges[i] > edges[i - 1])) continue;
    double factor = 1;
    if (factor_at_slope) {
      const double range = part.amplitude_mpa * (edges[i - 1] + edges[i]);
      const double here = damage_of_range(range), beside = damage_of_range(1.001 * range);
      if (here > 0 && beside > 0) factor = factor_at_slope(std::log(beside / here) / std::log(1.001));
    }
    sum += factor * Rule::integrate(integrand, edges[i - 1], edges[i], 8, 1e-9);
  }
  return part.per_s * sum;
}

// Gamma functions in plain double: the default's long double costs more than the rest of a rating.
using Double = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

// Incomplete gamma between two bounds, from the side that keeps its digits.
double gamma_between(double a, double from, double to) {
  if (std::isinf(to))
    return from > 0 ? boost::math::tgamma(a, from, Double()) : boost::math::tgamma(a, Double());
  if (!(from > 0)) return to > 0 ? boost::math::tgamma_lower(a, to, Double()) : 0;
  return from > a ? boost::math::tgamma(a, from, Double()) - boost::math::tgamma(a, to, Double())
                  : boost::math::tgamma_lower(a, to, Double()) - boost::math::tgamma_lower(a, from, Double());
}

double damage_of_part(const Part& part, const PowerLaw& law) {
  const double unit = 2 * part.amplitude_mpa, k = law.slope;
  const double from = law.from_mpa / unit, to = law.to_mpa / unit;
  const double size = part.per_s * law.scale * std::pow(unit, k);
  if (part.shape == Part::Shape::exponential) return size * gamma_between(1 + k, from, to);
  return size * std::pow(2, k / 2) * gamma_between(1 + k / 2, from * from / 2, to * to / 2);
}

}  // namespace

double upcrossings_per_s(const Moments& m) { return moves(m) ? std::sqrt(m.m2 / m.m0) : 0; }

double peaks_per_s(const Moments& m) { return moves(m) ? std::sqrt(m.m4 / m.m2) : 0; }

double irregularity(const Moments& m) {
  return moves(m) ? std::min(1.0, std::sqrt(m.m2 / m.m0) / std::sqrt(m.m4 / m.m2)) : 0;
}

double bandwidth_1(const Moments& m) {
  return moves(m) ? std::min(1.0, m.m1 / m.m0 / std::sqrt(m.m2 / m.m0)) : 0;
}

Dirlik dirlik(const Moments& m) {
  Dirlik d;
  if (!moves(m)) return d;
  const double gamma = irregularity(m);
  const double x_mean = bandwidth_1(m) * gamma;  // (m1/m0) sqrt(m2/m4)
  d.d1 = 2 * (x_mean - gamma * gamma) / (1 + gamma * gamma);
  const double rest = 1 - gamma - d.d1 + d.d1 * d.d1;
  d.r = (gamma - x_mean - d.d1 * d.d1) / rest;
  d.d2 = rest / (1 - d.r);
  d.d3 = 1 - d.d1 - d.d2;
  d.q = 1.25 * (gamma - d.d3 - d.d2 * d.r) / d.d1;
  d.fits = d.d1 >= 1e-9 && d.d2 >= 0 && d.d3 >= 0 && d.q > 0 && d.r > 0 && d.r < 1 && std::isfinite(d.q);
  return d;
}

const char* name_of(RangeModel model) {
  switch (model) {
    case RangeModel::dirlik:
      return "dirlik";
    case RangeModel::tovo_benasciutti:
      return "tovo-benasciutti";
    case RangeModel::narrow_band:
      return "narrow-band";
    case RangeModel::wirsching_light:
      return "wirsching-light";
  }
  return "dirlik";
}

double wirsching_light_factor(const Moments& m, double slope) {
  const double width = std::sqrt(std::max(0.0, 1 - irregularity(m) * irregularity(m)));
  const double a = 0.926 - 0.033 * slope, b = 1.587 * slope - 2.323;
  return a + (1 - a) * std::pow(1 - width, b);
}

double tovo_benasciutti_weight(const Moments& m) {
  if (!moves(m)) return 0;
  const double a1 = bandwidth_1(m), a2 = irregularity(m);
  if (1 - a2 < narrow_tovo) return 1;
  // (a1-a2) [1.112 (1 + a1 a2 - (a1+a2)) e^(2.11 a2) + (a1-a2)] / (a2-1)^2 with a1-a2 = t (1-a2), which keeps
  // its digits near a2 = 1.
  const double t = std::clamp((a1 - a2) / (1 - a2), 0.0, 1.0);
  return t * (1.112 * (1 - t) * (1 - a2) * std::exp(2.11 * a2) + t);
}

RangeModel model_used(const Moments& m, RangeModel wanted) {
  if (!moves(m) || wanted == RangeModel::narrow_band || wanted == RangeModel::wirsching_light) return wanted;
  const double narrowness = 1 - irregularity(m);
  if (narrowness < (wanted == RangeModel::dirlik ? narrow_dirlik : narrow_tovo))
    return RangeModel::narrow_band;
  if (wanted == RangeModel::dirlik && !dirlik(m).fits) return RangeModel::tovo_benasciutti;
  return wanted;
}

double ranges_per_s_mpa(const Moments& m, RangeModel model, double range_mpa) {
  if (!std::isfinite(range_mpa)) throw Fault{Message{"cycles.not-a-number", {number("index", 0, "")}}};
  if (!moves(m) || range_mpa < 0) return 0;
  double sum = 0;
  for (const Part& part : parts_of(m, model)) {
    if (part.per_s <= 0) continue;
    const double unit = 2 * part.amplitude_mpa;
    sum += part.per_s * density(part.shape, range_mpa / unit) / unit;
  }
  return sum;
}

double damage_per_s(const Moments& m, RangeModel model, const std::function<double(double)>& damage_of_range,
                    const std::vector<double>& knees) {
  for (std::size_t i = 0; i < knees.size(); ++i) {
    const bool ascending = i == 0 || knees[i] >= knees[i - 1];
    if (knees[i] > 0 && std::isfinite(knees[i]) && ascending) continue;
    throw Fault{Message{"cycles.bad-knees", {number("knee", knees[i], "MPa")}}};
  }
  if (!moves(m)) return 0;
  std::function<double(double)> factor_at_slope;
  if (model == RangeModel::wirsching_light)
    factor_at_slope = [&m](double slope) { return wirsching_light_factor(m, slope); };
  double sum = 0;
  for (const Part& part : parts_of(m, model)) {
    if (part.per_s > 0) sum += damage_of_part(part, damage_of_range, knees, factor_at_slope);
  }
  return sum;
}

GaussianRanges::GaussianRanges(const Moments& m, RangeModel model) : moments_(m), model_(model) {
  if (moves(m)) parts_ = parts_of(m, model);
}

double GaussianRanges::damage_per_s(const std::vector<PowerLaw>& laws) const {
  double sum = 0;
  for (const PowerLaw& law : laws) {
    if (!(law.from_mpa >= 0 && law.to_mpa >= law.from_mpa && law.slope >= 0 && law.slope <= 50 &&
          law.scale >= 0 && std::isfinite(law.scale)))
      throw Fault{Message{"cycles.bad-knees", {number("knee", law.from_mpa, "MPa")}}};
    const double factor = model_ == RangeModel::wirsching_light ? wirsching_light_factor(moments_, law.slope) : 1;
    for (const Part& part : parts_)
      if (part.per_s > 0) sum += factor * damage_of_part(part, law);
  }
  return sum;
}

double damage_per_s(const Moments& m, RangeModel model, const std::vector<PowerLaw>& laws) {
  return GaussianRanges(m, model).damage_per_s(laws);
}

}  // namespace seamwright::cycles
