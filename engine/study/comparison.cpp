// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/comparison.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/rating/rate.h"
#include "engine/study/variant.h"

namespace seamwright::study {

namespace {

const rating::WeldRating* find(const rating::Rating& r, const std::string& id) {
  for (const rating::WeldRating& w : r.welds)
    if (w.id == id) return &w;
  return nullptr;
}

auto without_number(const rating::WeldRating& w) {
  return std::count_if(w.sites.begin(), w.sites.end(), [](const auto& s) { return s.curve.empty(); });
}

double ratio(double first, double second) {
  if ((std::isinf(first) && std::isinf(second)) || (first == 0 && second == 0)) return 1;
  return second / first;
}

// One half of the progress of two ratings.
rating::Progress half_of(const rating::Progress& whole, double from) {
  rating::Progress half;
  half.stop = whole.stop;
  if (whole.report) half.report = [&whole, from](double share) { whole.report(from + share / 2); };
  return half;
}

}  // namespace

Comparison compare(const rating::Rating& first, const rating::Rating& second) {
  Comparison c;
  for (const rating::WeldRating& w : first.welds) {
    const rating::WeldRating* other = find(second, w.id);
    if (!other) {
      c.only_first.push_back(w.id);
      continue;
    }
    const double a = life_km(first.welds, w.id), b = life_km(second.welds, w.id);
    const double gain =
        without_number(*other) > without_number(w) ? std::numeric_limits<double>::quiet_NaN() : ratio(a, b);
    c.welds.push_back({w.id, a, b, gain, w.at_most, other->at_most, w.verdict, other->verdict});
  }
  for (const rating::WeldRating& w : second.welds)
    if (!find(first, w.id)) c.only_second.push_back(w.id);
  if (c.welds.empty())
    throw Fault{Message{"study.nothing-common",
                        {text("first", first.design.name), text("second", second.design.name)}}};
  // A weld that has lost its number is worse than any ratio; one that never had any comes last.
  const auto rank = [](const WeldPair& p) {
    if (!std::isnan(p.ratio)) return 1;
    return std::isnan(p.first_km) ? 2 : 0;
  };
  std::stable_sort(c.welds.begin(), c.welds.end(), [&](const auto& a, const auto& b) {
    if (rank(a) != rank(b)) return rank(a) < rank(b);
    return !std::isnan(a.ratio) && a.ratio < b.ratio;
  });
  return c;
}

RatedPair rate_pair(const rating::Job& first, const rating::Job& second, const rules::Published& published,
                    rating::Method method, const rating::Progress& progress) {
  RatedPair pair;
  try {
    pair.first = rating::rate(first, published, method, half_of(progress, 0));
  } catch (const Fault& fault) {
    throw FirstJobFault(fault);
  }
  pair.second = rating::rate(second, published, method, half_of(progress, 0.5));
  pair.welds = compare(pair.first, pair.second);
  pair.first_kg = frame_mass_kg(first.design.frame);
  pair.second_kg = frame_mass_kg(second.design.frame);
  return pair;
}

}  // namespace seamwright::study
