// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration job, shortened for tests: one seed, legs of fifty metres.
#pragma once

#include "catalog/files/job.h"
#include "engine/rating/rate.h"

namespace seamwright::rating {

inline Job short_demo() {
  Job job =
      files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());
  job.duty.seeds = {"test"};
  for (loads::Leg& leg : job.duty.trip.legs) leg.distance_km = 0.05;
  return job;
}

inline Job one_leg() {
  Job job = short_demo();
  job.duty.trip.legs = {job.duty.trip.legs[0]};
  return job;
}

/// Without corners, stops and pedalling.
inline Job straight(Job job) {
  for (loads::Leg& leg : job.duty.trip.legs) leg.corner_m_s2 = leg.braking_m_s2 = leg.pedal_force_n = 0;
  return job;
}

inline Rating rated(const Job& job, Method method = Method::time) {
  return rate(job, published::catalog().data, method, {});
}

inline const WeldRating& weld(const Rating& rating, const std::string& id) {
  for (const WeldRating& w : rating.welds)
    if (w.id == id) return w;
  throw Fault{Message{"no weld", {text("weld", id)}}};
}

inline const SiteRating& site(const WeldRating& w, const std::string& name) {
  for (const SiteRating& s : w.sites)
    if (s.site == name) return s;
  throw Fault{Message{"no site", {text("site", name)}}};
}

}  // namespace seamwright::rating
