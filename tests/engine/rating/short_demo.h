// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration job, shortened for tests: one seed, legs of fifty metres.
#pragma once

#include <algorithm>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/rating/rate.h"

namespace seamwright::rating {

inline Job short_demo() {
  Job job =
      files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());
  job.duty.seeds = {"test"};
  job.duty.most_batches = 1;
  job.rules.bracket_joints = false;  // one model of the joints: tests hold ratings against services
  for (loads::Leg& leg : job.duty.trips[0].legs) {
    leg.distance_km = 0.05;
    std::erase_if(leg.rates, [](const loads::Rate& r) {  // without obstacles
      return r.id == "drop-kerb-up" || r.id == "drop-kerb-down" || r.id == "hump";
    });
  }
  return job;
}

inline std::vector<loads::Leg>& legs(Job& job) { return job.duty.trips[0].legs; }

inline Job one_leg() {
  Job job = short_demo();
  legs(job).resize(1);
  return job;
}

/// Leaves out manoeuvres, obstacles and pedalling.
inline Job straight(Job job) {
  for (loads::Leg& leg : legs(job)) {
    leg.rates.clear();
    leg.pedal_force_n = 0;
  }
  return job;
}

/// Level and rate of one of the duty's manoeuvres, in every leg.
inline void set_manoeuvre(Job& job, const std::string& id, double level, double per_km) {
  for (loads::Manoeuvre& m : job.duty.manoeuvres)
    if (m.id == id) m.level = level;
  for (loads::Leg& leg : legs(job)) {
    std::erase_if(leg.rates, [&](const loads::Rate& r) { return r.id == id; });
    leg.rates.push_back({id, per_km});
  }
}

inline Rating rated(const Job& job, Method method = Method::time) {
  return rate(job, published::catalog().data, method, {});
}

inline const WeldRating& weld(const Rating& rating, const std::string& id) {
  for (const WeldRating& w : rating.welds)
    if (w.id == id) return w;
  throw Fault{Message{"rating.unknown-weld", {text("weld", id)}}};
}

inline const SiteRating& site(const WeldRating& w, const std::string& name) {
  for (const SiteRating& s : w.sites)
    if (s.site == name) return s;
  throw Fault{Message{"calibrate.unknown-site", {text("site", name)}}};
}

}  // namespace seamwright::rating
