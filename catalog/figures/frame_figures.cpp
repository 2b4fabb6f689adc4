// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/figures/subjects.h"
#include "engine/frame/section.h"

namespace seamwright::figures {

namespace {

frame::Section section_of(const Arguments& a) {
  const std::string& shape = a.text_of("shape");
  if (shape == "round") return frame::RoundTube{a.number("diameter_mm"), a.number("wall_mm")};
  if (shape == "rectangular")
    return frame::RectangularTube{a.number("height_mm"), a.number("width_mm"), a.number("wall_mm"),
                                  a.has("corner_radius_mm") ? a.number("corner_radius_mm") : 0};
  if (shape == "flat-oval")
    return frame::FlatOvalTube{a.number("height_mm"), a.number("width_mm"), a.number("wall_mm")};
  if (shape == "bar") return frame::SolidBar{a.number("diameter_mm")};
  return frame::PlateStrip{a.number("height_mm"), a.number("wall_mm")};
}

FigureResult section(const Arguments& a, const published::Catalog&) {
  const frame::SectionResult r = frame::section_properties(section_of(a), a.number("poisson", 0, 0.5));
  const frame::SectionProperties& p = r.properties;
  return {"section",
          {{"area", p.area_mm2, "mm2"},
           {"second_moment_z", p.i_z_mm4, "mm4"},
           {"second_moment_y", p.i_y_mm4, "mm4"},
           {"torsion_constant", p.torsion_mm4, "mm4"},
           {"modulus_z", p.w_z_mm3, "mm3"},
           {"modulus_y", p.w_y_mm3, "mm3"},
           {"torsion_modulus", p.w_t_mm3, "mm3"},
           {"shear_area_y", p.shear_area_y_mm2, "mm2"},
           {"shear_area_z", p.shear_area_z_mm2, "mm2"}},
          r.evidence};
}

}  // namespace

std::vector<Figure> frame_figures() {
  return {{"section",
           {choice_parameter("shape", {"round", "rectangular", "flat-oval", "bar", "plate"}, "round"),
            optional_parameter("diameter_mm", "mm"), optional_parameter("wall_mm", "mm"),
            optional_parameter("height_mm", "mm"), optional_parameter("width_mm", "mm"),
            optional_parameter("corner_radius_mm", "mm"), defaulted_parameter("poisson", "", "0.3")},
           {"cowper-1966", "shear areas; areas and moments by integration"},
           section}};
}

}  // namespace seamwright::figures
