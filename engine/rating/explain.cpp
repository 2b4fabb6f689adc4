// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/explain.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <string>

namespace seamwright::rating {

namespace {

// A section force by its number: of an element's end, or of a place of a joint's body. moment: N mm, else N.
struct NamedForce {
  std::string name;
  bool moment = false;
};

NamedForce force_named(const frame::Assembly& a, Eigen::Index index) {
  static constexpr std::array<const char*, 6> of_section{"N", "Vy", "Vz", "T", "My", "Mz"}, of_body{"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
  const auto element = static_cast<std::size_t>(index / 12);
  const auto part = static_cast<std::size_t>(index % 6);
  if (element < a.elements.size())
    return {a.elements[element].id + (index % 12 < 6 ? " start " : " end ") + of_section[part], part >= 3};
  auto body = a.bodies.begin();
  while (std::next(body) != a.bodies.end() && std::next(body)->first_row <= index) ++body;
  const std::size_t within = static_cast<std::size_t>(index - body->first_row);
  return {a.node_ids[body->nodes[within / 6]] + " " + of_body[within % 6], within % 6 >= 3};
}

}  // namespace

Evidence standing_stress(const sites::Site& site, const loads::State& state,
                         const Eigen::VectorXd& section_forces) {
  const frame::Assembly& a = state.assembly;
  Evidence e;
  e.figure = std::string("standing-stress");
  e.unit = std::string("MPa");
  e.source = {"statics", "section forces times factors"};
  e.inputs.push_back({"payload", state.payload_kg, "kg"});
  const sites::Row row = sites::row_under(site, section_forces);
  if (site.balance) {
    const joints::Shares shares = sites::shares_of(*site.balance, section_forces);
    e.inputs.push_back({"share_x", shares.x, ""});
    e.inputs.push_back({"share_k", shares.k, ""});
  }
  for (sites::Row::InnerIterator it(row); it; ++it) {
    const double force = section_forces[it.index()];
    const NamedForce named = force_named(a, it.index());
    e.inputs.push_back({named.name, force, named.moment ? "N mm" : "N"});
    e.inputs.push_back({"factor on " + named.name, it.value(), named.moment ? "MPa/(N mm)" : "MPa/N"});
    e.value += force * it.value();
  }
  return e;
}

Evidence leg_stress(const loads::Leg& leg, double deviation_mpa, double share) {
  Evidence e;
  e.figure = std::string("leg-stress-deviation");
  e.value = deviation_mpa;
  e.unit = std::string("MPa");
  e.source = {"iso-8608-2016", "road spectrum through the frame on its tyres"};
  e.notes.push_back({"rating.leg-share", {text("leg", leg.id), number("share", 100 * share, "%")}});
  return e;
}

namespace {

constexpr std::size_t shown = 8;  // as many lines as a reader will add up
constexpr double least_share = 0.005;

// Most first; what is too small to matter is left out.
std::vector<std::size_t> by_share(const std::vector<double>& shares) {
  std::vector<std::size_t> order(shares.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](auto a, auto b) { return std::abs(shares[a]) > std::abs(shares[b]); });
  std::erase_if(order, [&](auto i) { return !(std::abs(shares[i]) >= least_share); });
  if (order.size() > shown) order.resize(shown);
  return order;
}

Evidence coordinate(const RatedLeg& leg, const Eigen::VectorXd& row, std::size_t i, double share) {
  const auto at = static_cast<Eigen::Index>(i);
  const loads::State& state = leg.state->state;
  const Eigen::Index modes = state.modes.frequency_hz.size();
  Evidence e;
  e.figure = std::string("coordinate");
  e.value = 100 * share;
  e.unit = std::string("%");
  e.source = {"seamwright", "share of the variance of the stress"};
  const bool mode = at < modes;
  e.subject =
      std::string(mode ? "mode " : "remainder ").append(std::to_string(mode ? at + 1 : at - modes + 1));
  e.inputs = {{"stress per unit", row[at], "MPa/(mm sqrt(t))"},
              {"standard deviation", std::sqrt(std::max(0.0, leg.answer->moments.m0(at, at))), "mm sqrt(t)"}};
  if (mode) e.inputs.push_back({"frequency", state.modes.frequency_hz[at], "Hz"});
  return e;
}

// These coordinates move the site on the road of one leg.
std::vector<Evidence> coordinates(const RatedLeg& leg, Eigen::Index site) {
  const Eigen::VectorXd row = leg.state->rows.col(site);
  const Eigen::VectorXd parts = row.cwiseProduct(leg.answer->moments.m0 * row);
  const double variance = parts.sum();
  if (!(variance > 0)) return {};
  std::vector<double> shares;
  for (const double part : parts) shares.push_back(part / variance);
  std::vector<Evidence> all;
  for (const std::size_t i : by_share(shares)) all.push_back(coordinate(leg, row, i, shares[i]));
  return all;
}

}  // namespace

Evidence channels(const Service& service, const Parts& parts, std::size_t site) {
  const auto at = static_cast<Eigen::Index>(site);
  const double total = parts.factored.col(at).sum();
  Evidence e;
  e.figure = std::string("channels");
  e.value = 100;
  e.unit = std::string("%");
  e.source = {"seamwright", "damage of each load counted alone"};
  if (!(total > 0)) return e;
  std::vector<double> shares;
  for (const double d : parts.factored.col(at)) shares.push_back(d / total);
  for (const std::size_t i : by_share(shares)) {
    const Part& part = parts.parts[i];
    Evidence c;
    c.figure = std::string("channel");
    c.value = 100 * shares[i];
    c.unit = std::string("%");
    c.source = e.source;
    c.subject = part.leg.empty() ? part.source : std::string(part.leg).append(", ").append(part.source);
    c.inputs = {{"largest range", parts.range_mpa(static_cast<Eigen::Index>(i), at), "MPa"}};
    for (const auto& trip : service.trips)
      for (const RatedLeg& leg : trip)
        if (part.source == "road" && leg.leg->id == part.leg) c.because = coordinates(leg, at);
    e.because.push_back(std::move(c));
  }
  return e;
}

Evidence cycles_by_range(const RangeBins& ranges) {
  Evidence e;
  e.figure = std::string("cycles-by-range");
  e.source = {"astm-e1049", "5.4.4"};
  double total = 0;
  for (const RangeBins::Bin& bin : ranges.bins) {
    e.value += bin.cycles;
    total += bin.damage;
  }
  e.unit = std::string("1/year");
  if (!(total > 0)) return e;
  std::vector<double> shares;
  for (const RangeBins::Bin& bin : ranges.bins) shares.push_back(bin.damage / total);
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < shares.size(); ++i)
    if (ranges.bins[i].cycles > 0) order.push_back(i);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return shares[a] > shares[b]; });
  for (const std::size_t i : order) {
    Evidence b;
    b.figure = std::string("range");
    b.value = 100 * shares[i];
    b.unit = std::string("%");
    b.source = e.source;
    b.inputs = {{"from", RangeBins::from_mpa(i), "MPa"},
                {"to", RangeBins::from_mpa(i + 1), "MPa"},
                {"cycles", ranges.bins[i].cycles, "1/year"}};
    e.because.push_back(std::move(b));
  }
  return e;
}

}  // namespace seamwright::rating
