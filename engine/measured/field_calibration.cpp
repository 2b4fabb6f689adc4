// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/measured/field_calibration.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <tuple>

#include "engine/design/weld_geometry.h"
#include "engine/rating/parts.h"

namespace seamwright::measured {

namespace {

constexpr std::size_t steps = 161;
constexpr double least_scatter = 0.05, most_scatter = 3;
constexpr double profile_drop =
    1.352772;  // half of the 90 % quantile of chi-square with one degree: 2.705543

double interpolated(const std::vector<double>& x, const std::vector<double>& y, double where) {
  const auto above = std::clamp<std::ptrdiff_t>(std::upper_bound(x.begin(), x.end(), where) - x.begin(), 1,
                                                static_cast<std::ptrdiff_t>(x.size()) - 1);
  const auto k = static_cast<std::size_t>(above);
  const double part = (where - x[k - 1]) / (x[k] - x[k - 1]);
  return y[k - 1] + part * (y[k] - y[k - 1]);
}

// ln of the normal survival, far into its tail.
double ln_survival(double z) {
  if (z < 30) return std::log(0.5 * boost::math::erfc(z / std::numbers::sqrt2));
  return -0.5 * z * z - std::log(z * std::sqrt(2 * std::numbers::pi));
}

double ln_likelihood(const std::vector<Observation>& observations, const std::vector<double>& lives,
                     double scatter) {
  double sum = 0;
  for (std::size_t i = 0; i < observations.size(); ++i) {
    const Observation& o = observations[i];
    const double z = (o.ln_km - lives[i]) / scatter;
    sum += o.count *
           (o.cracked ? -0.5 * z * z - std::log(scatter * std::sqrt(2 * std::numbers::pi)) : ln_survival(z));
  }
  return sum;
}

struct Grid {
  std::vector<double> x, y;           // ln factor, ln scatter
  std::vector<double> ln_likelihood;  // x-major
  double value(std::size_t i, std::size_t k) const { return ln_likelihood[i * y.size() + k]; }
};

std::vector<double> even_steps(double from, double to, std::size_t count) {
  std::vector<double> v;
  for (std::size_t i = 0; i < count; ++i)
    v.push_back(from + (to - from) * static_cast<double>(i) / static_cast<double>(count - 1));
  return v;
}

Grid grid_of(const std::vector<double>& ln_factor, const std::vector<Observation>& observations,
             double x_from, double x_to, double y_from, double y_to) {
  Grid g{even_steps(x_from, x_to, steps), even_steps(y_from, y_to, steps), {}};
  std::vector<double> lives(observations.size());
  for (const double x : g.x) {
    for (std::size_t i = 0; i < observations.size(); ++i)
      lives[i] = interpolated(ln_factor, observations[i].ln_life_km, x);
    for (const double y : g.y) g.ln_likelihood.push_back(ln_likelihood(observations, lives, std::exp(y)));
  }
  return g;
}

std::pair<std::size_t, std::size_t> top_of(const Grid& g) {
  const auto best =
      std::max_element(g.ln_likelihood.begin(), g.ln_likelihood.end()) - g.ln_likelihood.begin();
  return {static_cast<std::size_t>(best) / g.y.size(), static_cast<std::size_t>(best) % g.y.size()};
}

// The interval reaches as far as the profile over the other axis stays within the drop of its top.
Estimate interval(const Grid& g, bool of_x, double best) {
  const auto [tx, ty] = top_of(g);
  const double top = g.value(tx, ty);
  const std::vector<double>&mine = of_x ? g.x : g.y, &other = of_x ? g.y : g.x;
  Estimate e{std::exp(best), std::exp(mine.back()), std::exp(mine.front())};
  for (std::size_t i = 0; i < mine.size(); ++i) {
    double most = -std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < other.size(); ++k)
      most = std::max(most, of_x ? g.value(i, k) : g.value(k, i));
    if (most < top - profile_drop) continue;
    e.low = std::min(e.low, std::exp(mine[i]));
    e.high = std::max(e.high, std::exp(mine[i]));
  }
  return e;
}

// Median and 90 % of a marginal on an even axis.
Estimate marginal(const std::vector<double>& axis, const std::vector<double>& weight) {
  const double whole = std::accumulate(weight.begin(), weight.end(), 0.0);
  const auto quantile = [&](double share) {
    double sum = 0;
    for (std::size_t i = 0; i < axis.size(); ++i) {
      const double next = sum + weight[i] / whole;
      if (next >= share) {
        const double step = axis[1] - axis[0];
        return std::exp(axis[i] - step / 2 + step * (share - sum) / (next - sum));
      }
      sum = next;
    }
    return std::exp(axis.back());
  };
  return {quantile(0.5), quantile(0.05), quantile(0.95)};
}

}  // namespace

Calibration calibrate(const std::vector<double>& ln_factor, const std::vector<Observation>& observations,
                      const Prior& prior) {
  if (observations.empty() || ln_factor.size() < 2) throw Fault{Message{"calibrate.no-returns", {}}};
  const double x0 = ln_factor.front(), x1 = ln_factor.back(), y0 = std::log(least_scatter),
               y1 = std::log(most_scatter);
  const Grid whole = grid_of(ln_factor, observations, x0, x1, y0, y1);
  auto [i, k] = top_of(whole);
  Calibration c;
  c.bounded = i > 0 && i + 1 < steps && k > 0 && k + 1 < steps;
  // Refined about the top, twice.
  double x = whole.x[i], y = whole.y[k], dx = whole.x[1] - whole.x[0], dy = whole.y[1] - whole.y[0];
  for (int round = 0; round < 2; ++round) {
    const Grid near = grid_of(ln_factor, observations, std::max(x0, x - 2 * dx), std::min(x1, x + 2 * dx),
                              std::max(y0, y - 2 * dy), std::min(y1, y + 2 * dy));
    std::tie(i, k) = top_of(near);
    x = near.x[i];
    y = near.y[k];
    dx = near.x[1] - near.x[0];
    dy = near.y[1] - near.y[0];
  }
  c.factor = interval(whole, true, x);
  c.scatter = interval(whole, false, y);

  const double top = *std::max_element(whole.ln_likelihood.begin(), whole.ln_likelihood.end());
  std::vector<double> of_x(steps, 0.0), of_y(steps, 0.0);
  double mean = 0, square = 0, weight_sum = 0, prior_mean = 0, prior_square = 0, prior_sum = 0;
  for (std::size_t a = 0; a < steps; ++a)
    for (std::size_t b = 0; b < steps; ++b) {
      const double u = whole.x[a] / prior.ln_factor_deviation,
                   v = (whole.y[b] - std::log(prior.scatter_median)) / prior.ln_scatter_deviation;
      const double before = std::exp(-0.5 * (u * u + v * v)),
                   weight = before * std::exp(whole.value(a, b) - top);
      of_x[a] += weight;
      of_y[b] += weight;
      weight_sum += weight;
      mean += weight * whole.x[a];
      square += weight * whole.x[a] * whole.x[a];
      prior_sum += before;
      prior_mean += before * whole.x[a];
      prior_square += before * whole.x[a] * whole.x[a];
    }
  c.posterior_factor = marginal(whole.x, of_x);
  c.posterior_scatter = marginal(whole.y, of_y);
  const auto deviation = [](double sum, double m, double s) {
    return std::sqrt(std::max(0.0, s / sum - (m / sum) * (m / sum)));
  };
  c.narrowing = deviation(weight_sum, mean, square) / deviation(prior_sum, prior_mean, prior_square);
  return c;
}

namespace {

// Places of the sites that a return may mean; for a frame that came home, all.
std::vector<std::size_t> sites_of(const rating::Job& job, const std::vector<sites::Site>& sites,
                                  const Return& r) {
  std::vector<std::size_t> found;
  bool weld = false, named = false;
  for (std::size_t i = 0; i < sites.size(); ++i) {
    if (sites[i].aside) continue;  // a check is no crack's beginning
    if (r.cracked && design::subject_of(job.design, sites[i].weld).id != r.weld) continue;
    weld = true;
    if (r.cracked && !r.site.empty() && name_of(sites[i]) != r.site) continue;
    named = true;
    if (sites[i].curve) found.push_back(i);
  }
  if (!weld) throw Fault{Message{"calibrate.unknown-weld", {text("weld", r.weld)}}};
  if (!named) throw Fault{Message{"calibrate.unknown-site", {text("weld", r.weld), site_argument("site", r.site)}}};
  if (found.empty()) throw Fault{Message{"calibrate.no-curve", {text("weld", r.weld)}}};
  return found;
}

}  // namespace

FieldModel field_model(const rating::Job& job, const rules::Published& published,
                       const std::vector<Return>& returns) {
  constexpr double usual_scatter = 0.2;
  const rating::JointsOfJob joints = rating::joints_of(job);
  const frame::Frame cut = rating::jointed_frame(job, joints);
  rating::Service service = rating::prepare(job, cut, rating::sites_of(job, cut, published, joints.modelled), 1);
  const std::vector<double> thickness = service.factors;
  FieldModel model;
  model.ln_factor = even_steps(std::log(0.2), std::log(5.0), 25);
  std::vector<std::vector<std::size_t>> places;
  for (const Return& r : returns) {
    places.push_back(sites_of(job, service.sites, r));
    model.observations.push_back({r.cracked, std::log(r.km), r.count, {}});
  }
  const double km_per_year = loads::km_per_year(job.duty);
  for (const double x : model.ln_factor) {
    for (std::size_t i = 0; i < thickness.size(); ++i) service.factors[i] = thickness[i] * std::exp(x);
    const Eigen::VectorXd damage =
        rating::damage_in_parts(service, job.range_model).factored.colwise().sum().transpose();
    for (std::size_t r = 0; r < returns.size(); ++r) {
      double shortest = std::numeric_limits<double>::infinity();
      for (const std::size_t i : places[r]) {
        const double scatter = service.sites[i].curve->scatter_log_n;
        const double median = std::log(10.0) * 2 * (scatter > 0 ? scatter : usual_scatter);
        shortest = std::min(shortest, std::log(job.rules.miner_median * km_per_year / damage[static_cast<Eigen::Index>(i)]) + median);
      }
      model.observations[r].ln_life_km.push_back(std::min(shortest, 100.0));
    }
  }
  return model;
}

}  // namespace seamwright::measured
