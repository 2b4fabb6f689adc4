// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/kept_counts.h"

#include <cstring>

#include "engine/rating/bytes.h"

namespace seamwright::rating {

namespace {

class Cursor {
 public:
  explicit Cursor(std::string_view bytes) : bytes_(bytes) {}
  template <class Number>
  bool get(Number& value) {
    return get(&value, 1);
  }
  template <class Number>
  bool get(Number* values, std::size_t count) {
    if (bytes_.size() / sizeof(Number) < count) return false;
    std::memcpy(values, bytes_.data(), count * sizeof(Number));
    bytes_.remove_prefix(count * sizeof(Number));
    return true;
  }
  bool at_end() const { return bytes_.empty(); }

 private:
  std::string_view bytes_;
};

void add_road(const loads::Road& r, ByteWriter& w) {
  w.add_all(r.gd_n0_m3, r.waviness, r.min_cycles_m, r.max_cycles_m, static_cast<int>(r.coherence), r.fit.knee_rad_m, r.fit.power, r.fit.reach, r.pitch_amplitude_mm, r.pitch_mm,
            r.profile_step_m, r.profile_from_m);
  for (const auto* profile : {&r.profile_left_m, &r.profile_right_m}) {
    w.add(profile->size());
    for (const double height : *profile) w.add(height);
  }
}

// The dynamics by their shapes and by the answer at three frequencies besides the poles, which fix all of them.
void add_state(const RatedState& s, ByteWriter& w) {
  w.add_all(s.rows, s.standing, s.state.moving.shapes, s.state.pushes, s.state.static_wheel_load_n, s.state.assembly.tyre_radial,
            s.state.assembly.tyre_stiffness, s.state.assembly.tyre_damping, s.transfer.poles());
  for (const double hz : {0.7, 7.0, 43.0}) w.add(s.transfer.response_at(hz));
  for (const loads::Track& t : s.state.tracks) w.add_all(t.x_m, t.y_m, t.contact_length_m);
}

// A rule on mean stress is known by what it makes of a few cycles.
void add_site(const sites::Site& site, double factor, ByteWriter& w) {
  w.add_all(site.weld, factor, site.curve != nullptr);
  if (!site.curve) return;
  for (const fatigue::Segment& s : site.curve->segments) w.add_all(s.slope, s.log_a, s.to_cycles);
  w.add(site.curve->cutoff_mpa.value_or(-1));
  for (const auto& [least, most] : {std::pair{-80.0, -10.0}, {-50.0, 20.0}, {-20.0, 50.0}, {10.0, 80.0}})
    w.add(site.mean ? site.mean(least, most) : 0.0);
}

void add_leg(const RatedLeg& leg, ByteWriter& w) {
  w.add_all(leg.leg->id, leg.leg->distance_km, leg.leg->speed_kmh, leg.leaves_ground, leg.standing);
  add_road(*leg.road, w);
  add_state(*leg.state, w);
  for (const RatedTrain& t : leg.trains) w.add_all(t.train.count, t.train.seconds, t.peaks);
  for (const auto& p : leg.passages) {
    w.add_all(p->count, p->ride->coordinates);
    add_state(*p->state, w);
  }
}

}  // namespace

std::string inputs_of(const Service& service) {
  ByteWriter w;
  const loads::Duty& d = service.duty;
  w.add_all(d.sample_rate_hz, d.highest_frequency_hz, d.structural_damping, d.most_batches, d.confidence, d.seeds.size());
  for (const std::string& seed : d.seeds) w.add(seed);
  for (std::size_t i = 0; i < service.sites.size(); ++i) {
    add_site(service.sites[i], service.factors[i], w);
    w.add(service.size_factors[i]);
  }
  for (std::size_t t = 0; t < service.trips.size(); ++t) {
    w.add_all(d.trips[t].trips_per_year, service.trips[t].size());
    for (const RatedLeg& leg : service.trips[t]) add_leg(leg, w);
  }
  return w.written();
}

std::string bytes_of(const HistoryCounts& c) {
  ByteWriter w;
  w.add_all(c.count, c.factored, c.unfactored, c.squares, c.largest, c.ranges.size());
  for (const RangeBins& bins : c.ranges)
    for (const RangeBins::Bin& b : bins.bins) w.add_all(b.cycles, b.damage);
  for (const auto& trip : c.lift)
    for (const double share : trip) w.add(share);
  return w.written();
}

std::optional<HistoryCounts> counts_of(std::string_view bytes, const Service& service) {
  Cursor from(bytes);
  HistoryCounts c;
  const auto sites = static_cast<Eigen::Index>(service.sites.size());
  if (!from.get(c.count) || c.count == 0) return {};
  for (Eigen::ArrayXd* all : {&c.factored, &c.unfactored, &c.squares, &c.largest}) {
    Eigen::Index rows = 0, columns = 0;
    if (!from.get(rows) || !from.get(columns) || rows != sites || columns != 1) return {};
    all->resize(sites);
    if (!from.get(all->data(), static_cast<std::size_t>(sites))) return {};
  }
  std::size_t ranges = 0;
  if (!from.get(ranges) || ranges != service.sites.size()) return {};
  c.ranges.resize(ranges);
  for (RangeBins& bins : c.ranges)
    for (RangeBins::Bin& b : bins.bins)
      if (!from.get(b.cycles) || !from.get(b.damage)) return {};
  for (const auto& trip : service.trips) {
    c.lift.emplace_back(trip.size());
    if (!from.get(c.lift.back().data(), trip.size())) return {};
  }
  if (!from.at_end()) return {};
  return c;
}

}  // namespace seamwright::rating
