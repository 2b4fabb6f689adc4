// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers of welding procedures and of inspection.
#include "catalog/figures/subjects.h"
#include "engine/inspection/limits.h"
#include "engine/procedure/hardness.h"
#include "engine/procedure/heat.h"

namespace seamwright::figures {

namespace {

procedure::Chemistry steel_of(const Arguments& a) {
  procedure::Chemistry x;
  x.c = a.number("C");
  x.si = a.number("Si");
  x.mn = a.number("Mn");
  x.cr = a.number("Cr");
  x.mo = a.number("Mo");
  x.ni = a.number("Ni");
  x.cu = a.number("Cu");
  x.v = a.number("V");
  x.b = a.number("B");
  return x;
}

std::vector<Parameter> chemistry() {
  std::vector<Parameter> all{needed_parameter("C", "%")};
  for (const char* element : {"Si", "Mn", "Cr", "Mo", "Ni", "Cu", "V", "B"})
    all.push_back(defaulted_parameter(element, "%", "0"));
  return all;
}

FigureResult equivalents(const Arguments& a, const published::Catalog&) {
  const procedure::Chemistry x = steel_of(a);
  Evidence e = procedure::ce_iiw(x).evidence;
  e.figure = "carbon-equivalents";
  e.because = {procedure::cet(x).evidence, procedure::pcm(x).evidence, procedure::cen(x).evidence};
  return {"carbon-equivalents",
          {{"ce", e.value, "%"},
           {"cet", e.because[0].value, "%"},
           {"pcm", e.because[1].value, "%"},
           {"cen", e.because[2].value, "%"}},
          e};
}

FigureResult heat(const Arguments& a, const published::Catalog&) {
  const double power = a.number("power_w", 0, 1e6);
  const procedure::HeatInput h =
      power > 0 ? procedure::heat_input_of_power(a.text_of("process"), power, a.number("speed_mm_s"))
                : procedure::heat_input(a.text_of("process"), a.number("volts"), a.number("amperes"),
                                        a.number("speed_mm_s"));
  if (h.evidence.coverage == Coverage::none) throw Fault{h.evidence.because[0].notes[0]};
  return {"heat-input",
          {{"heat_input", h.heat_kj_mm, "kJ/mm"}, {"arc_energy", h.energy_kj_mm, "kJ/mm"}},
          h.evidence};
}

FigureResult cooling(const Arguments& a, const published::Catalog&) {
  const procedure::Cooling c =
      procedure::cooling_time(a.number("heat_kj_mm"), a.number("start_c"), a.number("thickness_mm"),
                              procedure::shape_factors(a.text_of("shape")));
  return {"cooling-time",
          {{"t8/5", c.seconds, "s"},
           {"in_plane", c.in_plane_s, "s"},
           {"in_depth", c.in_depth_s, "s"},
           {"transition_thickness", c.transition_mm, "mm"}},
          c.evidence};
}

FigureResult preheat(const Arguments& a, const published::Catalog&) {
  const procedure::Preheat p =
      procedure::preheat_cet(a.number("cet"), a.number("thickness_mm"), a.number("hydrogen_ml"),
                             a.number("heat_kj_mm"), a.number("yield_mpa"));
  return {"preheat", {{"preheat", p.celsius, "C"}}, p.evidence};
}

FigureResult hardness(const Arguments& a, const published::Catalog&) {
  const procedure::Hardness h = procedure::peak_hardness(steel_of(a), a.number("cooling_s"));
  return {"peak-hardness",
          {{"yurioka", h.yurioka, "HV10"}, {"dueren", h.dueren, "HV10"}, {"suzuki", h.suzuki, "HV10"}},
          h.evidence};
}

FigureResult hydrogen(const Arguments& a, const published::Catalog&) {
  const char scale = procedure::hydrogen_scale(a.number("ml_per_100_g"));
  Evidence e;
  e.figure = std::string("hydrogen-scale");
  e.value = scale - 'A' + 1;
  e.source = {"en-1011-2", "Table C.2"};
  e.notes.push_back({"procedure.hydrogen", {text("scale", std::string(1, scale))}});
  return {"hydrogen-scale", {{"scale (1 = A, 5 = E)", e.value, ""}}, e};
}

FigureResult tolerance(const Arguments& a, const published::Catalog&) {
  const char letter = a.text_of("class")[0];
  const double length = a.number("length_mm");
  const auto mm = letter <= 'D' ? inspection::length_tolerance_mm(length, letter)
                                : inspection::straightness_mm(length, letter);
  Evidence e;
  e.figure = std::string("general-tolerance");
  e.unit = std::string("mm");
  e.source = {"iso-13920", letter <= 'D' ? "Table 1" : "Table 3"};
  e.from_memory = letter == 'H' || (letter == 'G' && length > 120);
  if (!mm) throw Fault{Message{"inspection.no-tolerance", {number("length", length, "mm")}}};
  e.value = *mm;
  return {"general-tolerance", {{"tolerance", *mm, "mm"}}, e};
}

}  // namespace

std::vector<Figure> procedure_figures() {
  std::vector<Parameter> hard = chemistry();
  hard.push_back(needed_parameter("cooling_s", "s"));
  return {{"carbon-equivalents", chemistry(), {"en-1011-2", "C.2.1 and C.3.2.1"}, equivalents},
          {"heat-input",
           {choice_parameter("process", {}, {}), defaulted_parameter("volts", "V", "1"),
            defaulted_parameter("amperes", "A", "1"), needed_parameter("speed_mm_s", "mm/s"),
            defaulted_parameter("power_w", "W", "0")},
           {"en-1011-1", "8.7"},
           heat},
          {"cooling-time",
           {needed_parameter("heat_kj_mm", "kJ/mm"), defaulted_parameter("start_c", "C", "20"),
            needed_parameter("thickness_mm", "mm"),
            choice_parameter("shape", {"bead", "butt", "fillet-tee", "fillet-corner", "fillet-lap"}, "bead")},
           {"en-1011-2", "Annex D"},
           cooling},
          {"preheat",
           {needed_parameter("cet", "%"), needed_parameter("thickness_mm", "mm"),
            needed_parameter("hydrogen_ml", "ml/100 g"), needed_parameter("heat_kj_mm", "kJ/mm"),
            needed_parameter("yield_mpa", "MPa")},
           {"en-1011-2", "C.8"},
           preheat},
          {"peak-hardness", hard, {"yurioka-1987", "beside Dueren 1986 and Suzuki 1985"}, hardness},
          {"hydrogen-scale",
           {needed_parameter("ml_per_100_g", "ml/100 g")},
           {"en-1011-2", "Table C.2"},
           hydrogen},
          {"general-tolerance",
           {needed_parameter("length_mm", "mm"),
            choice_parameter("class", {"A", "B", "C", "D", "E", "F", "G", "H"}, {})},
           {"iso-13920", "Tables 1 and 3"},
           tolerance}};
}

}  // namespace seamwright::figures
