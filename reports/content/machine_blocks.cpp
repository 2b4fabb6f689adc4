// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/machine_blocks.h"

#include <algorithm>
#include <cmath>

#include "engine/procedure/heat.h"

namespace seamwright::reports {

namespace {

// The sheet's form cools like this: a butt weld, else a fillet.
procedure::ShapeFactors shape_of(qualification::JointForm form) {
  return procedure::shape_factors(form == qualification::JointForm::butt ? "butt" : "fillet-tee");
}

double cooling_s(const files::ProcedureFile& f, double heat, double wall_mm) {
  if (!(wall_mm > 0) || !(heat > 0)) return std::nan("");
  try {
    const double start = f.sheet.preheat_c > 0 ? f.sheet.preheat_c : 20;  // as the sheet's own numbers
    return procedure::cooling_time(heat, start, wall_mm, shape_of(f.sheet.form)).seconds;
  } catch (const Fault&) {
    return std::nan("");  // a start temperature beyond the formula
  }
}

}  // namespace

const char* name_of(Place place) {
  switch (place) {
    case Place::inside:
      return "inside";
    case Place::edge:
      return "edge";
    case Place::outside:
      return "outside";
    case Place::unknown:
      break;
  }
  return "unknown";
}

Place place_of(const qualification::Span& band, double value) {
  constexpr double share = 0.05;
  if (!band.stated() || !(value > 0) || !std::isfinite(value)) return Place::unknown;
  if (value < band.least || value > band.most) return Place::outside;
  const double margin = share * (band.most - band.least);
  return value < band.least + margin || value > band.most - margin ? Place::edge : Place::inside;
}

Reading reading_of(const files::ProcedureFile& file, std::size_t run, const GaugeValues& shown) {
  const qualification::Sheet& s = file.sheet;
  const qualification::Run& r = s.runs.at(run);
  Reading reading{place_of(r.amperes, shown.amperes), place_of(r.volts, shown.volts),
                  place_of(r.speed_mm_s, shown.speed_mm_s)};
  const qualification::RunHeat band = qualification::heat_of(s, r);
  reading.least_heat = std::isfinite(band.lowest) ? band.lowest : 0;
  reading.most_heat = std::isfinite(band.highest) ? band.highest : 0;
  if (!(shown.amperes > 0) || !(shown.volts > 0) || !(shown.speed_mm_s > 0)) return reading;
  // Pulsed current: volts times amperes is not its power.
  if (r.power_w.stated()) return reading;
  reading.heat_kj_mm =
      procedure::heat_input(s.process, shown.volts, shown.amperes, shown.speed_mm_s).heat_kj_mm;
  reading.heat = place_of({reading.least_heat, reading.most_heat}, reading.heat_kj_mm);
  reading.shortest_cooling_s =
      cooling_s(file, reading.heat_kj_mm, std::max(s.wall_mm.most, s.other_wall_mm.most));
  reading.longest_cooling_s = cooling_s(file, reading.heat_kj_mm, s.wall_mm.least);
  return reading;
}

Bands bands_of(const files::ProcedureFile& file, std::size_t run) {
  const qualification::Run& r = file.sheet.runs.at(run);
  return {r.amperes, r.volts, r.speed_mm_s};
}

}  // namespace seamwright::reports
