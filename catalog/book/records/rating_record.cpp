// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/rating_record.h"

#include <algorithm>
#include <cmath>

#include "catalog/book/records/names.h"
#include "engine/rating/rate.h"

namespace seamwright::book {

Json rating_payload(const rating::Rating& r, const std::string& program) {
  Json j{{field::design, r.design.name},      {field::design_sha256, r.design.sha256},
         {field::duty_sha256, r.duty.sha256}, {field::catalog_sha256, r.catalog_sha256},
         {field::program, program},           {field::rules, name_of(r.rules.set)},
         {field::method, r.method},           {field::verdict, rating::name_of(r.verdict)}};
  if (!r.governing_weld.empty()) j[field::governing_weld] = r.governing_weld;
  const double p = r.likelihood.frame.probability;
  if (std::isfinite(p)) j[field::failure_probability] = p;
  // The life lasts until the first weld's chance of a crack reaches its target.
  double used = 0;
  for (const rating::WeldRating& w : r.welds) {
    if (w.rejected) used = HUGE_VAL;
    for (const rating::SiteRating& site : w.sites)
      if (!std::isnan(site.used())) used = std::max(used, site.used());
  }
  if (used > 0) {
    j[field::life_years] = r.service_years / used;
    j[field::life_km] = r.service_km / used;
  }
  return j;
}

}  // namespace seamwright::book
