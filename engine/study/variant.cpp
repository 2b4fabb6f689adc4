// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/variant.h"

#include "engine/design/weld_geometry.h"
#include "engine/frame/section.h"
#include "engine/rating/rate.h"

namespace seamwright::study {

double frame_mass_kg(const frame::Frame& f) {
  double kg = 0;
  for (const frame::Member& m : f.members) {
    const frame::Tube& tube = design::tube_of(f, m);
    for (const frame::Material& steel : f.materials)
      if (steel.id == tube.material)
        kg += frame::section_properties(tube.section, steel.poisson).properties.area_mm2 *
              design::member_length_mm(f, m) * steel.density_kg_m3 * 1e-9;
  }
  return kg;
}

double life_km(const std::vector<rating::WeldRating>& welds, const std::string& weld) {
  for (const rating::WeldRating& w : welds)
    if (w.id == weld && !w.sites[0].curve.empty()) return w.sites[0].life_km_predicted;
  return std::numeric_limits<double>::quiet_NaN();
}

}  // namespace seamwright::study
