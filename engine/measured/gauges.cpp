// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/measured/gauges.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/loads/manoeuvres.h"
#include "engine/rating/service.h"

namespace seamwright::measured {

namespace {

using frame::Vec3;

struct GaugeCandidates {
  std::vector<GaugePlace> places;
  std::vector<Eigen::VectorXd> rows;  // strain per section force, over all of them
};

const frame::Material& material_of(const frame::Frame& f, const std::string& id) {
  for (const frame::Material& m : f.materials)
    if (m.id == id) return m;
  throw Fault{Message{"frame.unknown-material", {text("tube", ""), text("material", id)}}};
}

// Strain in microstrain from the section forces at a share of the element: N, T and both moments run
// straight.
Eigen::VectorXd strain_row(const frame::Element& e, const frame::Material& m, Eigen::Index first,
                           Eigen::Index size, const GaugePlace& place) {
  Eigen::VectorXd row = Eigen::VectorXd::Zero(size);
  const double c = std::cos(place.angle_deg * degree), s = std::sin(place.angle_deg * degree);
  const frame::SectionProperties& p = e.section;
  // Stress per force: N/A - Mz y/Iz + My z/Iy; shear from torsion T/Wt.
  const double along = place.axis_deg == 0 ? 1 : (1 - m.poisson) / 2;
  const double shear_modulus = m.youngs_mpa / (2 * (1 + m.poisson));
  for (int end = 0; end < 2; ++end) {
    const double weight = 1e6 * (end == 0 ? 1 - place.share : place.share);
    const Eigen::Index at = first + 6 * end;
    row[at] += weight * along / (p.area_mm2 * m.youngs_mpa);
    row[at + 4] += weight * along * s / (p.w_y_mm3 * m.youngs_mpa);
    row[at + 5] -= weight * along * c / (p.w_z_mm3 * m.youngs_mpa);
    if (place.axis_deg != 0) row[at + 3] += weight / (p.w_t_mm3 * 2 * shear_modulus);
  }
  return row;
}

GaugeCandidates candidates_of(const frame::Frame& cut, const frame::Assembly& a) {
  GaugeCandidates out;
  const auto size = frame::section_force_count(a);
  for (std::size_t i = 0; i < a.elements.size(); ++i) {
    const frame::Element& e = a.elements[i];
    const frame::Member& member = cut.members[e.member];
    const frame::Tube& tube = design::tube_of(cut, member);
    const auto* round = std::get_if<frame::RoundTube>(&tube.section);
    if (!round || member.axial_only || e.length_mm < 4 * round->diameter_mm) continue;
    const Vec3 start = cut.nodes[e.first].position_mm, end = cut.nodes[e.second].position_mm;
    for (const double share : {0.25, 0.5, 0.75})
      for (int k = 0; k < 8; ++k)
        for (const double axis : {0.0, 45.0}) {
          const double angle = 45.0 * k;
          GaugePlace p{e.id, share, angle, axis, Vec3::Zero()};
          const Vec3 out_of = std::cos(angle * degree) * e.axes.row(1).transpose() +
                              std::sin(angle * degree) * e.axes.row(2).transpose();
          p.place_mm = start + share * (end - start) + round->diameter_mm / 2 * out_of;
          p.place_mm = (1e3 * p.place_mm).array().round() / 1e3;
          out.rows.push_back(
              strain_row(e, material_of(cut, tube.material), static_cast<Eigen::Index>(12 * i), size, p));
          out.places.push_back(p);
        }
  }
  return out;
}

struct Channels {
  std::vector<GaugeChannel> channels;
  std::vector<Eigen::VectorXd> forces;  // section forces at the level
};

Channels channels_of(const rating::Job& job, const frame::Frame& cut) {
  const loads::Duty& duty = job.duty;
  loads::Pose heavy, empty;
  double pedal = 0, wheel = 0;
  for (const loads::Leg* leg : loads::all_legs(duty)) {
    if (leg->pose.payload_kg >= heavy.payload_kg) heavy = leg->pose;
    pedal = std::max(pedal, leg->pedal_force_n);
  }
  heavy.steering_deg = 0;
  const auto posed = [&](const loads::Pose& pose) {
    return loads::PosedTrike(pose, cut, job.design.carriers, duty.rider, job.design.steering);
  };
  const loads::PosedTrike loaded = posed(heavy);
  Channels out;
  const auto add = [&](const char* id, double level, const char* unit, const Eigen::VectorXd& forces) {
    out.channels.push_back({id, level, unit});
    out.forces.push_back(forces);
  };
  const auto of_load = [&](const Eigen::VectorXd& load) {
    return Eigen::VectorXd(loaded.section_forces(loaded.displacements(load)).col(0));
  };
  if (heavy.payload_kg > 0)
    add("payload", heavy.payload_kg, "kg", loaded.standing_forces() - posed(empty).standing_forces());
  double corner = 1, braking = 1;
  loads::Brakes brakes{0.35, 0.35, 0.3};
  for (const loads::Manoeuvre& m : duty.manoeuvres) {
    if (m.act == &loads::act::corner) corner = m.level;
    if (m.act == &loads::act::brake) {
      braking = m.level;
      brakes = m.brakes;
    }
  }
  add("corner", corner, "m/s2", of_load(loads::corner_load(loaded, corner)));
  add("brake", braking, "m/s2", of_load(loads::brake_load(loaded, brakes, braking)));
  if (pedal > 0) {
    add("pedal-left", pedal, "N",
        of_load(loads::pedal_load(loaded, job.design.carriers, duty.rider, duty.drive, 1, pedal, 0)));
    add("pedal-right", pedal, "N",
        of_load(loads::pedal_load(loaded, job.design.carriers, duty.rider, duty.drive, -1, pedal, 0)));
  }
  // Half of the standing load more on one wheel, answered by inertia: what a wave of the road does slowly.
  const Eigen::VectorXd standing = loaded.wheel_loads(loaded.standing_displacement());
  for (std::size_t i = 0; i < loaded.frame().wheels.size(); ++i) {
    wheel = standing[static_cast<Eigen::Index>(i)] / 2;
    Eigen::VectorXd load = Eigen::VectorXd::Zero(loaded.assembly().full_size);
    load[6 * static_cast<Eigen::Index>(loaded.assembly().wheel_nodes[i]) + 2] = wheel;
    add(std::string("wheel-").append(loaded.frame().wheels[i].id).c_str(), wheel, "N",
        of_load(loads::balanced_load(loaded, load)));
  }
  return out;
}

// log det(I + S'S / noise^2): what the gauges say about the channels.
double information(const Eigen::MatrixXd& strain, const std::vector<std::size_t>& chosen, double noise) {
  Eigen::MatrixXd m = Eigen::MatrixXd::Identity(strain.cols(), strain.cols());
  for (const std::size_t i : chosen) {
    const Eigen::VectorXd row = strain.row(static_cast<Eigen::Index>(i)).transpose() / noise;
    m += row * row.transpose();
  }
  return 2 * Eigen::MatrixXd(m.llt().matrixL()).diagonal().array().log().sum();
}

// The best place beside the others, none of them again.
std::size_t best_beside(const Eigen::MatrixXd& strain, std::vector<std::size_t> others, double noise) {
  std::size_t best = 0;
  double most = -1;
  others.push_back(0);
  for (std::size_t i = 0; i < static_cast<std::size_t>(strain.rows()); ++i) {
    if (std::find(others.begin(), others.end() - 1, i) != others.end() - 1) continue;
    others.back() = i;
    const double value = information(strain, others, noise);
    if (value <= most) continue;
    most = value;
    best = i;
  }
  return best;
}

}  // namespace

GaugePlan gauge_plan(const rating::Job& job, std::size_t count) {
  const frame::Frame cut = rating::jointed_frame(job, rating::joints_of(job));
  const GaugeCandidates candidates = candidates_of(cut, frame::assemble(cut, frame::Footing::nothing));
  if (count < 1 || count > 12 || candidates.places.size() < count)
    throw Fault{Message{"gauges.too-few",
                        {number("places", static_cast<double>(candidates.places.size()), ""),
                         number("gauges", static_cast<double>(count), "")}}};
  const Channels channels = channels_of(job, cut);
  const auto columns = static_cast<Eigen::Index>(channels.forces.size());
  Eigen::MatrixXd strain(static_cast<Eigen::Index>(candidates.rows.size()), columns);
  for (Eigen::Index c = 0; c < columns; ++c)
    for (std::size_t i = 0; i < candidates.rows.size(); ++i)
      strain(static_cast<Eigen::Index>(i), c) =
          candidates.rows[i].dot(channels.forces[static_cast<std::size_t>(c)]);
  GaugePlan plan;
  plan.channels = channels.channels;
  std::vector<std::size_t> chosen;
  while (chosen.size() < count) chosen.push_back(best_beside(strain, chosen, plan.noise_microstrain));
  // Exchange until nothing gets better; a handful of rounds is enough, and their number is bounded.
  for (int round = 0; round < 10; ++round) {
    bool changed = false;
    for (std::size_t k = 0; k < count; ++k) {
      std::vector<std::size_t> others = chosen;
      others.erase(others.begin() + static_cast<std::ptrdiff_t>(k));
      const std::size_t best = best_beside(strain, others, plan.noise_microstrain);
      if (best == chosen[k]) continue;
      std::vector<std::size_t> next = chosen;
      next[k] = best;
      if (information(strain, next, plan.noise_microstrain) <=
          information(strain, chosen, plan.noise_microstrain) + 1e-9)
        continue;
      chosen = next;
      changed = true;
    }
    if (!changed) break;
  }
  plan.microstrain.resize(static_cast<Eigen::Index>(count), columns);
  Eigen::MatrixXd precision = Eigen::MatrixXd::Identity(columns, columns);
  for (std::size_t k = 0; k < count; ++k) {
    plan.gauges.push_back(candidates.places[chosen[k]]);
    plan.microstrain.row(static_cast<Eigen::Index>(k)) = strain.row(static_cast<Eigen::Index>(chosen[k]));
    const Eigen::VectorXd row =
        strain.row(static_cast<Eigen::Index>(chosen[k])).transpose() / plan.noise_microstrain;
    precision += row * row.transpose();
  }
  plan.error = precision.inverse().diagonal().cwiseSqrt();
  return plan;
}

GaugeResult judge_readings(const GaugePlan& plan, const std::vector<GaugeReading>& readings) {
  GaugeResult result;
  for (std::size_t c = 0; c < plan.channels.size(); ++c) {
    double both = 0, square = 0, rest = 0;
    std::size_t n = 0;
    const auto predicted = [&](const GaugeReading& r) {
      return plan.microstrain(static_cast<Eigen::Index>(r.gauge), static_cast<Eigen::Index>(c));
    };
    const auto counts = [&](const GaugeReading& r) {
      return r.channel == plan.channels[c].id && std::abs(predicted(r)) > plan.noise_microstrain;
    };
    for (const GaugeReading& r : readings) {
      if (!counts(r)) continue;
      both += r.microstrain * predicted(r);
      square += predicted(r) * predicted(r);
      ++n;
    }
    if (n == 0) continue;
    const double factor = both / square;
    for (const GaugeReading& r : readings)
      if (counts(r)) rest += std::pow(r.microstrain - factor * predicted(r), 2);
    const double degrees = static_cast<double>(n) - 1;
    result.channels.push_back({plan.channels[c].id, n, factor,
                               n > 1 ? std::sqrt(rest / degrees / (square / static_cast<double>(n)))
                                     : std::numeric_limits<double>::quiet_NaN()});
  }
  for (const GaugeReading& r : readings) {
    const bool known = std::any_of(plan.channels.begin(), plan.channels.end(),
                                   [&](const auto& c) { return c.id == r.channel; });
    if (!known) throw Fault{Message{"gauges.unknown-channel", {text("channel", r.channel)}}};
  }
  if (result.channels.empty()) throw Fault{Message{"gauges.no-reading", {}}};
  std::vector<double> factors;
  for (const ChannelFactor& c : result.channels) factors.push_back(c.factor);
  std::sort(factors.begin(), factors.end());
  const std::size_t n = factors.size();
  result.load_factor = n % 2 == 1 ? factors[n / 2] : (factors[n / 2 - 1] + factors[n / 2]) / 2;
  double mean = 0, square = 0;
  for (const double f : factors) mean += f / static_cast<double>(n);
  for (const double f : factors) square += (f - mean) * (f - mean);
  result.load_scatter = n > 1 ? std::sqrt(square / static_cast<double>(n - 1)) / mean
                              : std::numeric_limits<double>::quiet_NaN();
  return result;
}

}  // namespace seamwright::measured
