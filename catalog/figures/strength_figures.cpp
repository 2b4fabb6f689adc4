// SPDX-License-Identifier: GPL-3.0-or-later
// Static strength, notches, bolts and what offset walls and joints that give way do.
#include <cmath>

#include "catalog/figures/subjects.h"
#include "engine/evidence/named_values.h"
#include "engine/frame/slender.h"
#include "engine/joints/bolt.h"
#include "engine/joints/flexibility.h"
#include "engine/joints/notch.h"
#include "engine/joints/rectangular.h"
#include "engine/joints/resistance.h"
#include "engine/joints/weld_strength.h"
#include "engine/rules/misalignment.h"
#include "engine/rules/rule_sets.h"

namespace seamwright::figures {

namespace {

FigureResult shoulder(const Arguments& a, const published::Catalog&) {
  const auto f =
      joints::shoulder_factors({a.number("large_mm"), a.number("small_mm"), a.number("fillet_mm")});
  return {"shoulder-concentration",
          {{"tension", f.tension, ""}, {"bending", f.bending, ""}, {"torsion", f.torsion, ""}},
          f.evidence};
}

FigureResult hole(const Arguments& a, const published::Catalog&) {
  const auto f = joints::hole_edge_factors(a.number("angle_deg", 0, 360));
  Evidence e;
  e.figure = "hole-concentration";
  e.source = {"kirsch-1898", "stress beside a circular hole"};
  e.value = f[0];
  e.from_memory = true;
  return {"hole-concentration", {{"along", f[0], ""}, {"shear", f[1], ""}}, e};
}

FigureResult torque(const Arguments& a, const published::Catalog&) {
  const auto t = joints::tightening_torque({{a.number("thread_mm"), a.number("pitch_mm")},
                                            a.number("preload_n"),
                                            a.number("friction_thread"),
                                            a.number("friction_head"),
                                            a.number("head_diameter_mm")});
  return {"tightening-torque", {{"torque", t.torque_nmm / 1000, "N m"}}, t.evidence};
}

FigureResult bolt(const Arguments& a, const published::Catalog&) {
  const std::string grade = a.text_of("grade");
  const double ultimate = grade == "8.8" ? 800 : grade == "10.9" ? 1000 : 1200;
  const auto r =
      joints::bolt_resistance({a.number("thread_mm"), a.number("pitch_mm")}, ultimate, grade != "8.8");
  return {"bolt-resistance",
          {{"tension", r.tension_n, "N"},
           {"shear", r.shear_n, "N"},
           {"use", joints::bolt_use(r, a.number("tension_n"), a.number("shear_n")), ""}},
          r.evidence};
}

FigureResult tube_joint(const Arguments& a, const published::Catalog&) {
  joints::TubeJoint j;
  const std::string pattern = a.text_of("pattern");
  j.pattern = pattern == "x"   ? joints::Pattern::x
              : pattern == "k" ? joints::Pattern::k_gap
                               : joints::Pattern::t_or_y;
  j.chord_diameter_mm = a.number("chord_diameter_mm");
  j.chord_wall_mm = a.number("chord_wall_mm");
  j.brace_diameter_mm = a.number("brace_diameter_mm");
  j.brace_wall_mm = a.number("brace_wall_mm");
  j.angle_deg = a.number("angle_deg");
  j.chord_yield_mpa = a.number("yield_mpa");
  j.chord_stress_ratio = a.number("chord_stress_ratio");
  if (pattern == "k") j.gap_mm = a.number("gap_mm");
  const auto r = joints::tube_joint_resistance(j);
  return {"tube-joint-resistance",
          {{"axial", r.axial_n, "N"},
           {"in_plane", r.in_plane_nmm / 1000, "N m"},
           {"out_of_plane", r.out_of_plane_nmm / 1000, "N m"}},
          r.evidence};
}

FigureResult weld_use(const Arguments& a, const published::Catalog&) {
  const auto use = joints::weld_use(
      joints::throat_of(a.number("across_n_mm"), a.number("along_n_mm"), a.number("throat_mm")),
      {a.number("ultimate_mpa"), a.number("correlation")});
  return {
      "weld-use", {{"directional", use.directional, ""}, {"simplified", use.simplified, ""}}, use.evidence};
}

FigureResult full_strength(const Arguments& a, const published::Catalog&) {
  Evidence e;
  e.figure = "full-strength-throat";
  e.source = {"en-1993-1-8", "4.5.3.2"};
  e.from_memory = true;
  e.value = joints::full_strength_throat_ratio(a.number("yield_mpa"),
                                               {a.number("ultimate_mpa"), a.number("correlation")});
  return {"full-strength-throat", {{"throat/wall", e.value, ""}}, e};
}

FigureResult buckling(const Arguments& a, const published::Catalog&) {
  const double d = a.number("diameter_mm"), t = a.number("wall_mm"), inner = d - 2 * t;
  if (!(t > 0 && inner > 0)) throw Fault{Message{"joints.bad-size", {number("value", t, "mm")}}};
  constexpr double pi = 3.14159265358979323846;
  const auto b = frame::flexural_buckling(
      pi / 4 * (d * d - inner * inner), pi / 64 * (std::pow(d, 4) - std::pow(inner, 4)),
      a.number("youngs_mpa"), a.number("yield_mpa"), a.number("length_mm"), a.number("imperfection"));
  return {"buckling",
          {{"resistance", b.resistance_n, "N"},
           {"slenderness", b.slenderness, ""},
           {"reduction", b.reduction, ""},
           {"class", static_cast<double>(frame::round_tube_class(d, t, a.number("yield_mpa"))), ""}},
          b.evidence};
}

FigureResult offset_walls(const Arguments& a, const published::Catalog&) {
  const auto m = rules::misalignment(**find_named(rules::rule_sets, a.text_of("set")), a.number("wall_mm"),
                                     a.number("other_wall_mm"), a.number("offset_mm"));
  return {"misalignment", {{"factor", m.factor, ""}}, m.evidence};
}

FigureResult flexibility(const Arguments& a, const published::Catalog&) {
  const auto f = joints::joint_flexibility(
      {a.number("chord_diameter_mm"), a.number("chord_wall_mm"), 20 * a.number("chord_diameter_mm"),
       a.number("brace_diameter_mm"), a.number("brace_wall_mm"), a.number("angle_deg")},
      a.number("youngs_mpa"));
  return {"joint-flexibility",
          {{"axial", f.axial, "mm/N"},
           {"in_plane", f.in_plane, "rad/(N mm)"},
           {"out_of_plane", f.out_of_plane, "rad/(N mm)"}},
          f.evidence};
}

FigureResult square_k(const Arguments& a, const published::Catalog&) {
  const auto s =
      joints::square_k_scf({a.number("chord_width_mm"), a.number("chord_wall_mm"), a.number("brace_width_mm"),
                            a.number("brace_wall_mm"), a.number("angle_deg"), a.number("gap_mm")});
  if (s.evidence.coverage == Coverage::none) throw Fault{Message{"joints.no-square-k", {}}};
  return {"square-k-concentration",
          {{"chord_side", s.chord, ""}, {"brace_side", s.brace, ""}, {"chord_loading", s.chord_loading, ""}},
          s.evidence};
}

}  // namespace

std::vector<Figure> strength_figures() {
  const std::vector<Parameter> tubes{
      needed_parameter("chord_diameter_mm", "mm"), needed_parameter("chord_wall_mm", "mm"),
      needed_parameter("brace_diameter_mm", "mm"), needed_parameter("brace_wall_mm", "mm"),
      defaulted_parameter("angle_deg", "deg", "90")};
  std::vector<Parameter> resisting = tubes, giving = tubes;
  resisting.insert(resisting.end(),
                   {needed_parameter("yield_mpa", "MPa"), defaulted_parameter("chord_stress_ratio", "", "0"),
                    choice_parameter("pattern", {"t", "x", "k"}, "t"), optional_parameter("gap_mm", "mm")});
  giving.push_back(defaulted_parameter("youngs_mpa", "MPa", "210000"));
  return {
      {"shoulder-concentration",
       {needed_parameter("large_mm", "mm"), needed_parameter("small_mm", "mm"),
        needed_parameter("fillet_mm", "mm")},
       {"peterson-scf", "charts 3.4, 3.10, 3.12"},
       shoulder},
      {"hole-concentration", {needed_parameter("angle_deg", "deg")}, {"kirsch-1898", "round hole"}, hole},
      {"tightening-torque",
       {needed_parameter("thread_mm", "mm"), needed_parameter("pitch_mm", "mm"),
        needed_parameter("preload_n", "N"), needed_parameter("friction_thread", ""),
        needed_parameter("friction_head", ""), needed_parameter("head_diameter_mm", "mm")},
       {"vdi-2230", "tightening torque"},
       torque},
      {"bolt-resistance",
       {needed_parameter("thread_mm", "mm"), needed_parameter("pitch_mm", "mm"),
        choice_parameter("grade", {"8.8", "10.9", "12.9"}, "8.8"), defaulted_parameter("tension_n", "N", "0"),
        defaulted_parameter("shear_n", "N", "0")},
       {"en-1993-1-8", "Table 3.4"},
       bolt},
      {"tube-joint-resistance", resisting, {"en-1993-1-8", "Tables 7.2 and 7.5"}, tube_joint},
      {"weld-use",
       {needed_parameter("across_n_mm", "N/mm"), defaulted_parameter("along_n_mm", "N/mm", "0"),
        needed_parameter("throat_mm", "mm"), needed_parameter("ultimate_mpa", "MPa"),
        defaulted_parameter("correlation", "", "1")},
       {"en-1993-1-8", "4.5.3"},
       weld_use},
      {"full-strength-throat",
       {needed_parameter("yield_mpa", "MPa"), needed_parameter("ultimate_mpa", "MPa"),
        defaulted_parameter("correlation", "", "1")},
       {"en-1993-1-8", "4.5.3.2"},
       full_strength},
      {"buckling",
       {needed_parameter("diameter_mm", "mm"), needed_parameter("wall_mm", "mm"),
        needed_parameter("length_mm", "mm"), needed_parameter("yield_mpa", "MPa"),
        defaulted_parameter("youngs_mpa", "MPa", "210000"), defaulted_parameter("imperfection", "", "0.21")},
       {"en-1993-1-1", "6.3.1"},
       buckling},
      {"misalignment",
       {choice_parameter("set", names_of(rules::rule_sets), {}), needed_parameter("wall_mm", "mm"),
        needed_parameter("other_wall_mm", "mm"), needed_parameter("offset_mm", "mm")},
       {"en-1993-1-9", "Table 8.3, row 17"},
       offset_walls},
      {"joint-flexibility", giving, {"fessler-1986", "T and Y joints"}, flexibility},
      {"square-k-concentration",
       {needed_parameter("chord_width_mm", "mm"), needed_parameter("chord_wall_mm", "mm"),
        needed_parameter("brace_width_mm", "mm"), needed_parameter("brace_wall_mm", "mm"),
        needed_parameter("angle_deg", "deg"), needed_parameter("gap_mm", "mm")},
       {"cidect-dg8", "square hollow sections, K with gap"},
       square_k}};
}

}  // namespace seamwright::figures
