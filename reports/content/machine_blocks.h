// SPDX-License-Identifier: GPL-3.0-or-later
// Readings of a machine are held against what a procedure allows, while they are typed.
#pragma once

#include <limits>

#include "catalog/files/procedure_reader.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// edge: inside, but within a twentieth of the band of its end (our choice: instruments are not better).
enum class Place { unknown, inside, edge, outside };
const char* name_of(Place place);  ///< "inside", "edge", "outside", "unknown"
/// unknown for a band that is not stated and a value that is not positive.
Place place_of(const qualification::Span& band, double value);

struct GaugeValues {
  double amperes = 0, volts = 0, speed_mm_s = 0;  ///< 0 = not read yet
};
/// The readings of a run lie in these places of their bands, and this follows from them. Heat against the
/// band of the run, from the sheet's own ends; cooling time on the thickest and the thinnest wall that the
/// sheet covers.
struct Reading {
  Place amperes = Place::unknown, volts = Place::unknown, speed = Place::unknown, heat = Place::unknown;
  double heat_kj_mm = std::numeric_limits<double>::quiet_NaN();
  double least_heat = 0, most_heat = 0;
  double shortest_cooling_s = std::numeric_limits<double>::quiet_NaN(),
         longest_cooling_s = std::numeric_limits<double>::quiet_NaN();
};
/// run: index of the sheet's runs. Throws std::out_of_range.
Reading reading_of(const files::ProcedureFile& file, std::size_t run, const GaugeValues& shown);

/// The bands of a run as the sheet states them, for drawing.
struct Bands {
  qualification::Span amperes, volts, speed_mm_s;
};
Bands bands_of(const files::ProcedureFile& file, std::size_t run);

}  // namespace seamwright::reports
