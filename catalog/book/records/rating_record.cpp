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
  double years = HUGE_VAL, km = HUGE_VAL;
  for (const rating::WeldRating& w : r.welds)
    for (const rating::SiteRating& site : w.sites) {
      if (std::isfinite(site.life_years)) years = std::min(years, site.life_years);
      if (std::isfinite(site.life_km)) km = std::min(km, site.life_km);
    }
  if (std::isfinite(years)) j[field::life_years] = years;
  if (std::isfinite(km)) j[field::life_km] = km;
  return j;
}

}  // namespace seamwright::book
