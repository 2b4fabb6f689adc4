// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/figures/subjects.h"
#include "engine/joints/efthymiou.h"
#include "engine/joints/hot_spot.h"
#include "engine/joints/throat.h"
#include "engine/joints/xk.h"

namespace seamwright::figures {

namespace {

// The other brace of a K joint lies on the same chord.
joints::TyScf shared_factors(const Arguments& a, const joints::TyJoint& joint) {
  const double x = a.number("x_share", 0, 1), k = a.number("k_share", 0, 1);
  joints::TyJoint other = joint;
  if (k > 0) {
    other.brace_diameter_mm = a.number("other_diameter_mm");
    other.brace_wall_mm = a.number("other_wall_mm");
    other.angle_deg = a.number("other_angle_deg");
  }
  return joints::shared_scf(joint, a.number("fixity"), {1 - x - k, x, k}, &other,
                            k > 0 ? a.number("gap_mm") : 0);
}

joints::TyScf factors_of(const Arguments& a) {
  const joints::TyJoint joint{a.number("chord_diameter_mm"), a.number("chord_wall_mm"),
                              a.number("chord_length_mm"),   a.number("brace_diameter_mm"),
                              a.number("brace_wall_mm"),     a.number("angle_deg")};
  return shared_factors(a, joint);
}

void refuse_none(const Evidence& evidence) {
  if (evidence.coverage == Coverage::none && !evidence.notes.empty()) throw Fault{evidence.notes.back()};
}

FigureResult scf(const Arguments& a, const published::Catalog&) {
  const joints::TyScf f = factors_of(a);
  refuse_none(f.evidence);
  FigureResult r{"scf", {}, f.evidence};
  for (const auto& [side, factors] : {std::pair{"chord", &f.chord}, std::pair{"brace", &f.brace}}) {
    const std::string s = side;
    r.values.push_back({s + "_axial_crown", factors->axial_crown, ""});
    r.values.push_back({s + "_axial_saddle", factors->axial_saddle, ""});
    r.values.push_back({s + "_in_plane", factors->in_plane, ""});
    r.values.push_back({s + "_out_of_plane", factors->out_of_plane, ""});
  }
  r.values.push_back({"chord_own_stress", f.chord_attachment, ""});
  r.values.push_back({"chord_own_stress_brace_side", f.brace_attachment, ""});
  return r;
}

FigureResult hot_spot(const Arguments& a, const published::Catalog&) {
  const joints::TyScf f = factors_of(a);
  refuse_none(f.evidence);
  const joints::HotSpotResult h =
      joints::hot_spot(f, a.text_of("side") == "chord",
                       {a.number("axial_mpa"), a.number("in_plane_mpa"), a.number("out_of_plane_mpa")});
  FigureResult r{"hot-spot", {}, h.evidence};
  for (std::size_t i = 0; i < h.points_mpa.size(); ++i)
    r.values.push_back({std::string("at_")
                            .append(std::to_string(static_cast<int>(joints::point_angles_deg[i])))
                            .append("_deg"),
                        h.points_mpa[i], "MPa"});
  return r;
}

FigureResult throat_stress(const Arguments& a, const published::Catalog&) {
  const joints::ThroatResult t =
      joints::throat_stress_dnv({a.number("across_n_mm"), a.number("along_n_mm")}, a.number("throat_mm"));
  return {"throat-stress",
          {{"range", t.range_mpa, "MPa"},
           {"perpendicular_direct", t.sigma_perpendicular_mpa, "MPa"},
           {"perpendicular_shear", t.tau_perpendicular_mpa, "MPa"},
           {"parallel_shear", t.tau_parallel_mpa, "MPa"}},
          t.evidence};
}

std::vector<Parameter> joint_parameters() {
  return {needed_parameter("chord_diameter_mm", "mm"), needed_parameter("chord_wall_mm", "mm"),
          needed_parameter("chord_length_mm", "mm"),   needed_parameter("brace_diameter_mm", "mm"),
          needed_parameter("brace_wall_mm", "mm"),     defaulted_parameter("angle_deg", "deg", "90"),
          defaulted_parameter("fixity", "", "0.7"),    defaulted_parameter("x_share", "", "0"),
          defaulted_parameter("k_share", "", "0"),     optional_parameter("other_diameter_mm", "mm"),
          optional_parameter("other_wall_mm", "mm"),   optional_parameter("other_angle_deg", "deg"),
          optional_parameter("gap_mm", "mm")};
}

}  // namespace

std::vector<Figure> joint_figures() {
  std::vector<Parameter> stressed = joint_parameters();
  stressed.push_back(choice_parameter("side", {"chord", "brace"}, "chord"));
  for (const char* name : {"axial_mpa", "in_plane_mpa", "out_of_plane_mpa"})
    stressed.push_back(defaulted_parameter(name, "MPa", "0"));
  return {{"scf", joint_parameters(), {"dnv-rp-c203-2016", "Table B-1"}, scf},
          {"hot-spot", stressed, {"dnv-rp-c203-2016", "eqn 3.3.1"}, hot_spot},
          {"throat-stress",
           {needed_parameter("across_n_mm", "N/mm"), defaulted_parameter("along_n_mm", "N/mm", "0"),
            needed_parameter("throat_mm", "mm")},
           {"dnv-rp-c203-2016", "2.3.5"},
           throat_stress}};
}

}  // namespace seamwright::figures
