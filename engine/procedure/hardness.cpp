// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/procedure/hardness.h"

#include <algorithm>
#include <cmath>

namespace seamwright::procedure {

namespace {

double yurioka(const Chemistry& x, double log_t) {
  const double one =
      x.c + x.si / 24 + x.mn / 6 + x.cu / 15 + x.ni / 12 + x.cr * (1 - 0.16 * std::sqrt(x.cr)) / 8 + x.mo / 4;
  const double two =
      x.c + x.si / 24 + x.mn / 5 + x.cu / 10 + x.ni / 18 + x.cr / 5 + x.mo / 2.5 + x.v / 5 + x.nb / 3;
  const double three = x.c + x.mn / 3.6 + x.cu / 20 + x.ni / 9 + x.cr / 5 + x.mo / 4;
  const double place = (log_t - 2.30 * one - 1.35 * three + 0.882) / (1.15 * one - 0.673 * three - 0.601);
  return 442 * x.c + 99 * two + 206 + (402 * x.c - 90 * two + 80) * std::atan(place);
}

double dueren(const Chemistry& x, double log_t) {
  const double b = x.si / 11 + x.mn / 8 + x.cu / 9 + x.cr / 5 + x.ni / 17 + x.mo / 6 + x.v / 3;
  const double hv = 2019 * (x.c * (1 - 0.5 * log_t) + 0.3 * b) + 66 * (1 - 0.8 * log_t);
  const double martensite = 802 * x.c + 305, bainite = 350 * (x.c + b) + 101;
  return std::min(std::max(hv, bainite), martensite);
}

double suzuki(const Chemistry& x, double log_t) {
  const double p = pcm(x).value, k = 237 + 1633 * x.c - 1157 * p, soft = 884 * x.c + 287 - k;
  const double a = (566 + 5532 * x.c - 2880 * p) / k, middle = -0.03 - 6.00 * x.c + 7.77 * p;
  return soft + k / (1 + std::exp(a * (log_t - middle)));
}

}  // namespace

Hardness peak_hardness(const Chemistry& steel, double seconds) {
  if (!(seconds > 0 && seconds < 1e6))
    throw Fault{Message{"procedure.bad-number", {number("value", seconds, "s")}}};
  const double log_t = std::log10(seconds);
  Hardness h{yurioka(steel, log_t), dueren(steel, log_t), suzuki(steel, log_t), 0, {}};
  h.highest = std::max({h.yurioka, h.dueren, h.suzuki});
  Evidence& e = h.evidence;
  e.figure = std::string("peak-hardness");
  e.value = h.highest;
  e.unit = std::string("HV10");
  e.source = {"yurioka-1987", "beside Dueren 1986 and Suzuki 1985"};
  e.from_memory = true;
  e.inputs = {{"yurioka", h.yurioka, "HV10"},
              {"dueren", h.dueren, "HV10"},
              {"suzuki", h.suzuki, "HV10"},
              {"cooling_time", seconds, "s"}};
  e.limits = {limit("C", steel.c, "%", 0, 0.8)};
  if (!all_inside(e.limits)) e.coverage = Coverage::extended;
  e.notes.push_back({"procedure.hardness-spread", {}});
  return h;
}

std::optional<double> hardness_limit(const std::string& group, bool heat_treated) {
  const auto is = [&](const char* g) { return group == g || group.starts_with(std::string(g) + "."); };
  if (is("1") || is("2")) return heat_treated ? 320 : 380;
  if (is("3")) return heat_treated ? 380 : 450;
  if (is("4") || is("5"))
    return heat_treated ? std::optional<double>(320) : 380;  // the lower of both editions
  if (is("6")) return heat_treated ? std::optional<double>(350) : std::nullopt;
  if (group == "9.1") return heat_treated ? 300 : 350;
  if (group == "9.2" || group == "9.3") return heat_treated ? 350 : 450;
  return std::nullopt;
}

}  // namespace seamwright::procedure
