// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/procedure/carbon.h"

#include <cmath>

namespace seamwright::procedure {

namespace {

Equivalent equivalent_of(const char* figure, double value, Source source, bool from_memory,
                         std::vector<Limit> limits) {
  Equivalent e;
  e.value = value;
  e.evidence.figure = figure;
  e.evidence.value = value;
  e.evidence.unit = std::string("%");
  e.evidence.source = std::move(source);
  e.evidence.from_memory = from_memory;
  e.evidence.limits = std::move(limits);
  if (!all_inside(e.evidence.limits)) e.evidence.coverage = Coverage::extended;
  return e;
}

void check(const Chemistry& x) {
  for (const double share : {x.c, x.si, x.mn, x.p, x.s, x.cr, x.mo, x.ni, x.cu, x.v, x.nb, x.ti, x.b})
    if (!(share >= 0 && share <= 30))
      throw Fault{Message{"procedure.bad-chemistry", {number("share", share, "%")}}};
}

}  // namespace

Equivalent ce_iiw(const Chemistry& x) {
  check(x);
  const double ce = x.c + x.mn / 6 + (x.cr + x.mo + x.v) / 5 + (x.ni + x.cu) / 15;
  return equivalent_of(
      "ce-iiw", ce, {"en-1011-2", "C.2.1"}, false,
      {limit("C", x.c, "%", 0.05, 0.25), limit("Si", x.si, "%", 0, 0.8), limit("Mn", x.mn, "%", 0, 1.7),
       limit("Cr", x.cr, "%", 0, 0.9), limit("Cu", x.cu, "%", 0, 1.0), limit("Ni", x.ni, "%", 0, 2.5),
       limit("Mo", x.mo, "%", 0, 0.75), limit("V", x.v, "%", 0, 0.20), limit("CE", ce, "%", 0.30, 0.70)});
}

Equivalent cet(const Chemistry& x) {
  check(x);
  return equivalent_of(
      "cet", x.c + (x.mn + x.mo) / 10 + (x.cr + x.cu) / 20 + x.ni / 40, {"en-1011-2", "C.3.2.1"}, false,
      {limit("C", x.c, "%", 0.05, 0.32), limit("Si", x.si, "%", 0, 0.8), limit("Mn", x.mn, "%", 0.5, 1.9),
       limit("Cr", x.cr, "%", 0, 1.5), limit("Cu", x.cu, "%", 0, 0.7), limit("Mo", x.mo, "%", 0, 0.75),
       limit("Nb", x.nb, "%", 0, 0.06), limit("Ni", x.ni, "%", 0, 2.5), limit("Ti", x.ti, "%", 0, 0.12),
       limit("V", x.v, "%", 0, 0.18), limit("B", x.b, "%", 0, 0.005)});
}

Equivalent pcm(const Chemistry& x) {
  check(x);
  return equivalent_of(
      "pcm", x.c + x.si / 30 + (x.mn + x.cu + x.cr) / 20 + x.ni / 60 + x.mo / 15 + x.v / 10 + 5 * x.b,
      {"ito-bessyo-1968", "IIW Doc. IX-576-68"}, false,
      {limit("C", x.c, "%", 0.07, 0.22), limit("Si", x.si, "%", 0, 0.60), limit("Mn", x.mn, "%", 0.40, 1.40),
       limit("Cu", x.cu, "%", 0, 0.50), limit("Ni", x.ni, "%", 0, 1.20), limit("Cr", x.cr, "%", 0, 1.20),
       limit("Mo", x.mo, "%", 0, 0.70), limit("V", x.v, "%", 0, 0.12), limit("Nb", x.nb, "%", 0, 0.04),
       limit("Ti", x.ti, "%", 0, 0.05), limit("B", x.b, "%", 0, 0.005)});
}

Equivalent cen(const Chemistry& x) {
  check(x);
  const double a = 0.75 + 0.25 * std::tanh(20 * (x.c - 0.12));
  const double rest = x.si / 24 + x.mn / 6 + x.cu / 15 + x.ni / 20 + (x.cr + x.mo + x.v + x.nb) / 5 + 5 * x.b;
  return equivalent_of("cen", x.c + a * rest, {"yurioka-1983", "CEN"}, true, {});
}

}  // namespace seamwright::procedure
