// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/compare.h"

#include <algorithm>
#include <cmath>

namespace seamwright::study {

namespace {

const rating::WeldRating* find(const rating::Rating& r, const std::string& id) {
  for (const rating::WeldRating& w : r.welds)
    if (w.id == id) return &w;
  return nullptr;
}

double ratio(double first, double second) {
  if (std::isinf(first) && std::isinf(second)) return 1;
  return second / first;
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
    const double a = life_km(first, w.id), b = life_km(second, w.id);
    c.welds.push_back({w.id, a, b, ratio(a, b), w.verdict, other->verdict});
  }
  for (const rating::WeldRating& w : second.welds)
    if (!find(first, w.id)) c.only_second.push_back(w.id);
  if (c.welds.empty())
    throw Fault{Message{"study.nothing-common",
                        {text("first", first.design.name), text("second", second.design.name)}}};
  std::stable_sort(c.welds.begin(), c.welds.end(), [](const auto& a, const auto& b) {
    if (std::isnan(a.ratio) || std::isnan(b.ratio)) return !std::isnan(a.ratio) && std::isnan(b.ratio);
    return a.ratio < b.ratio;
  });
  return c;
}

}  // namespace seamwright::study
