// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/procedure/heat.h"

#include <array>
#include <cmath>
#include <limits>

namespace seamwright::procedure {

namespace {

void need_positive(std::initializer_list<double> values) {
  for (const double x : values)
    if (!(x > 0 && x < 1e9)) throw Fault{Message{"procedure.bad-number", {number("value", x, "")}}};
}

struct Row {
  const char* process;
  double k;
  bool from_memory;
};
constexpr Row efficiencies[] = {{"121", 1.0, false}, {"111", 0.8, false}, {"131", 0.8, false},
                                {"135", 0.8, false}, {"136", 0.8, false}, {"114", 0.8, true},
                                {"132", 0.8, true},  {"133", 0.8, true},  {"138", 0.8, true},
                                {"141", 0.6, false}, {"15", 0.6, false}};

HeatInput heat_input_of(const std::string& process, double kilojoules_mm, std::vector<Input> inputs,
                        Source source, bool memory) {
  const Efficiency k = thermal_efficiency(process);
  HeatInput h;
  h.energy_kj_mm = kilojoules_mm;
  h.heat_kj_mm = k.k * kilojoules_mm;
  Evidence& e = h.evidence;
  e.figure = std::string("heat-input");
  e.value = h.heat_kj_mm;
  e.unit = std::string("kJ/mm");
  e.source = std::move(source);
  e.from_memory = memory;
  e.inputs = std::move(inputs);
  e.inputs.push_back({"arc_energy", h.energy_kj_mm, "kJ/mm"});
  e.coverage = k.evidence.coverage;
  e.because = {k.evidence};
  return h;
}

double inverse_difference(double start, int power) {
  return 1 / std::pow(500 - start, power) - 1 / std::pow(800 - start, power);
}

void check_start(double start) {
  if (!(start >= -50 && start <= 300))
    throw Fault{Message{"procedure.bad-start", {number("start", start, "C")}}};
}

}  // namespace

Efficiency thermal_efficiency(const std::string& process) {
  Efficiency out;
  Evidence& e = out.evidence;
  e.figure = std::string("thermal-efficiency");
  e.source = {"en-1011-1", "Table 1"};
  e.coverage = Coverage::none;
  for (const Row& row : efficiencies)
    if (process == row.process) {
      out.k = e.value = row.k;
      e.from_memory = row.from_memory;
      e.coverage = Coverage::inside;
    }
  if (e.coverage == Coverage::none)
    e.notes.push_back({"procedure.no-efficiency", {text("process", process)}});
  return out;
}

HeatInput heat_input(const std::string& process, double volts, double amperes, double speed) {
  need_positive({volts, amperes, speed});
  return heat_input_of(process, volts * amperes / speed / 1000,
                       {{"voltage", volts, "V"}, {"current", amperes, "A"}, {"travel_speed", speed, "mm/s"}},
                       {"en-1011-1", "8.7"}, false);
}

HeatInput heat_input_of_power(const std::string& process, double watts, double speed) {
  need_positive({watts, speed});
  return heat_input_of(process, watts / speed / 1000,
                       {{"instantaneous_power", watts, "W"}, {"travel_speed", speed, "mm/s"}},
                       {"iso-tr-18491", "instantaneous power"}, true);
}

ShapeFactors shape_factors(const std::string& shape) {
  if (shape == "bead") return {1, 1};
  if (shape == "butt") return {0.9, 0.9};
  if (shape == "fillet-tee") return {0.45, 0.67};
  if (shape == "fillet-corner") return {0.67, 0.67};
  if (shape == "fillet-lap") return {0.7, 0.67};
  throw Fault{Message{"procedure.unknown-shape", {text("shape", shape)}}};
}

Cooling cooling_time(double q, double start, double d, const ShapeFactors& shape) {
  need_positive({q, d, shape.f2, shape.f3});
  check_start(start);
  Cooling c;
  c.in_depth_s = (6700 - 5 * start) * q * inverse_difference(start, 1) * shape.f3;
  c.in_plane_s = (4300 - 4.3 * start) * 1e5 * q * q / (d * d) * inverse_difference(start, 2) * shape.f2;
  c.seconds = std::max(c.in_depth_s, c.in_plane_s);
  c.transition_mm = std::sqrt((4300 - 4.3 * start) / (6700 - 5 * start) * 1e5 * q *
                              (1 / (500 - start) + 1 / (800 - start)) * shape.f2 / shape.f3);
  Evidence& e = c.evidence;
  e.figure = std::string("cooling-time");
  e.value = c.seconds;
  e.unit = std::string("s");
  e.source = {"en-1011-2", "Annex D"};
  e.inputs = {{"heat_input", q, "kJ/mm"},
              {"start", start, "C"},
              {"thickness", d, "mm"},
              {"F2", shape.f2, ""},
              {"F3", shape.f3, ""},
              {"in_plane", c.in_plane_s, "s"},
              {"in_depth", c.in_depth_s, "s"},
              {"transition_thickness", c.transition_mm, "mm"}};
  if (d < 3) {
    e.coverage = Coverage::extended;
    e.notes.push_back({"procedure.thin-cooling", {}});
  }
  return c;
}

double heat_for_cooling(double seconds, double start, double d, double f2) {
  need_positive({seconds, d, f2});
  check_start(start);
  return std::sqrt(seconds * d * d / ((4300 - 4.3 * start) * 1e5 * f2 * inverse_difference(start, 2)));
}

char hydrogen_scale(double ml) {
  need_positive({ml});
  if (ml > 15) return 'A';
  if (ml > 10) return 'B';
  if (ml > 5) return 'C';
  return ml > 3 ? 'D' : 'E';
}

Preheat preheat_cet(double cet, double d, double hydrogen, double q, double yield) {
  need_positive({cet, d, hydrogen, q, yield});
  Preheat p;
  Evidence& e = p.evidence;
  e.figure = std::string("preheat");
  e.unit = std::string("C");
  e.source = {"en-1011-2", "C.8"};
  e.limits = {limit("CET", cet, "%", 0.20, 0.50), limit("thickness", d, "mm", 10, 90),
              limit("hydrogen", hydrogen, "ml/100 g", 1, 20), limit("heat_input", q, "kJ/mm", 0.5, 4.0),
              limit("yield", yield, "MPa", 0, 1000)};
  if (!all_inside(e.limits)) {
    e.coverage = Coverage::none;
    p.celsius = e.value = std::numeric_limits<double>::quiet_NaN();
    return p;
  }
  p.of_cet = 750 * cet - 150;
  p.of_thickness = 160 * std::tanh(d / 35) - 110;
  p.of_hydrogen = 62 * std::pow(hydrogen, 0.35) - 100;
  p.of_heat = (53 * cet - 32) * q - 53 * cet + 32;
  p.celsius = e.value = p.of_cet + p.of_thickness + p.of_hydrogen + p.of_heat;
  e.inputs = {{"of_cet", p.of_cet, "C"},
              {"of_thickness", p.of_thickness, "C"},
              {"of_hydrogen", p.of_hydrogen, "C"},
              {"of_heat_input", p.of_heat, "C"}};
  return p;
}

}  // namespace seamwright::procedure
