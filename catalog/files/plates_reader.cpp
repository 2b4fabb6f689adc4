// SPDX-License-Identifier: GPL-3.0-or-later
// A design's plates and sleeves.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "catalog/files/design_rows.h"
#include "engine/design/weld_geometry.h"

namespace seamwright::files {

namespace {

constexpr std::size_t most_corners = 200;

std::vector<design::Corner> read_polygon(Reader& r) {
  std::vector<design::Corner> corners;
  for (const toml::table* table : r.tables("corner")) {
    Reader c = r.sub_reader("corner", *table);
    corners.push_back({c.real("x_mm", any_number), c.real("y_mm", any_number), 0});
    if (c.has("bulge")) corners.back().bulge = c.real("bulge", {-1, 1});
    c.finish();
  }
  if (corners.size() < 3 || corners.size() > most_corners)
    r.fail("file.out-of-range", "corner", std::to_string(corners.size()), "3 to 200 corners");
  if (design::crosses_itself(corners))
    r.fail("file.out-of-range", "corner", "sides that cross", "an outline that does not cross itself");
  if (design::outline_area_mm2(corners) < 0) {  // the same outline, the other way round
    std::reverse(corners.begin(), corners.end());
    std::vector<design::Corner> turned = corners;
    for (std::size_t i = 0; i < corners.size(); ++i) turned[i].bulge = -corners[(i + 1) % corners.size()].bulge;
    corners = turned;
  }
  return corners;
}

std::vector<design::Corner> read_outline(Reader& r) {
  const std::string shape = r.choice("shape", {"polygon", "triangle", "dished", "tongue"});
  if (shape == "polygon") return read_polygon(r);
  const double length = r.real("length_mm", positive);
  if (shape == "tongue") {
    const double width = r.real("width_mm", positive);
    if (!(width < 2 * length))
      r.fail("file.out-of-range", "width_mm", number_as_typed(width), "less than twice length_mm");
    return design::tongue(length, width);
  }
  const double height = r.real("height_mm", positive);
  if (shape == "triangle") return design::triangle(length, height);
  const double radius = r.real("radius_mm", positive);
  if (!(radius > std::hypot(length, height) / 2))
    r.fail("file.out-of-range", "radius_mm", number_as_typed(radius), "more than half of the long side");
  std::vector<design::Corner> corners = design::dished(length, height, radius);
  // The arc leaves its end at this angle to the long side; past the leg it would cut into the plate's own corner.
  const double dip = std::asin(std::hypot(length, height) / (2 * radius));
  if (!(dip < std::atan2(std::min(length, height), std::max(length, height))))
    r.fail("file.out-of-range", "radius_mm", number_as_typed(radius), "so much that the arc stays off both legs");
  return corners;
}

design::Plate read_plate(Reader& r, const design::Design& d, const published::Catalog& catalog) {
  design::Plate p;
  p.id = r.id("id");
  if (find(d.frame.members, p.id)) r.fail("file.doubled-id", "id", p.id, "an id that no member has");
  p.steel = r.text("steel");
  if (!published::find_steel(catalog, p.steel)) {
    std::vector<std::string> ids;
    for (const auto& s : catalog.steels) ids.push_back(s.material.id);
    r.refuse_unknown("steel", p.steel, ids);
  }
  p.thickness_mm = r.real("thickness_mm", positive);
  r.need_possible("wall-least", "thickness_mm", p.id, p.thickness_mm);
  p.origin_mm = r.vector("at_mm");
  p.x = r.vector("along").normalized();
  const frame::Vec3 across = r.vector("across");
  p.y = across - across.dot(p.x) * p.x;
  if (!(p.y.norm() > 0.01 * across.norm()) || !p.x.allFinite())
    r.fail("file.out-of-range", "across", "along the same line", "a direction across `along`");
  p.y.normalize();
  p.outline = read_outline(r);
  for (const toml::table* table : r.tables("hole")) {
    Reader h = r.sub_reader("hole", *table);
    const design::PlateHole hole{h.real("x_mm", any_number), h.real("y_mm", any_number), h.real("diameter_mm", positive)};
    const double depth = design::depth_within_mm(p.outline, hole.x_mm, hole.y_mm);
    if (!(depth > hole.diameter_mm / 2))
      h.fail("file.out-of-range", "diameter_mm", number_as_typed(hole.diameter_mm),
             depth > 0 ? "less than twice the distance to the edge, " + number_as_typed(depth) + " mm" : "a hole whose middle lies within the outline");
    p.holes.push_back(hole);
    h.finish();
  }
  if (r.has("welds"))
    for (const std::string& id : r.ids("welds", 1)) {
      const joints::Weld* weld = find(d.welds, id);
      if (!weld) r.fail("file.unknown-id", "welds", id, "a weld of the design");
      if (weld->plate_mm > 0 && std::abs(weld->plate_mm - p.thickness_mm) > 1e-6)
        r.fail("file.out-of-range", "thickness_mm", number_as_typed(p.thickness_mm),
               "plate_mm of weld " + id + ", " + number_as_typed(weld->plate_mm));
      p.welds.push_back(id);
    }
  return p;
}

design::Sleeve read_sleeve(Reader& r, const design::Design& d) {
  using Kind = design::Sleeve::Kind;
  design::Sleeve s;
  s.id = r.id("id");
  if (find(d.frame.members, s.id) || find(d.plates, s.id))
    r.fail("file.doubled-id", "id", s.id, "an id that no member or plate has");
  s.member = known_id(r, "member", d.frame.members);
  const frame::RoundTube* tube = design::round_tube(d.frame, s.member);
  if (!tube) r.fail("file.out-of-range", "member", s.member, "a round tube");
  const std::string kind = r.choice("kind", {"outer", "inner", "split"});
  s.kind = kind == "outer" ? Kind::outer : kind == "inner" ? Kind::inner : Kind::split;
  s.at_mm = r.real("at_mm", not_negative);
  s.length_mm = r.real("length_mm", positive);
  s.wall_mm = r.real("wall_mm", positive);
  r.need_possible("wall-least", "wall_mm", s.id, s.wall_mm);
  if (s.kind == Kind::inner && !(s.wall_mm < tube->diameter_mm / 2 - tube->wall_mm))
    r.fail("file.out-of-range", "wall_mm", number_as_typed(s.wall_mm), "a sleeve that fits into the bore");
  if (s.kind == Kind::split) s.gap_mm = r.real("gap_mm", {0.1, tube->diameter_mm});
  if (s.at_mm > design::member_length_mm(d.frame, *find(d.frame.members, s.member)))
    r.fail("file.out-of-range", "at_mm", number_as_typed(s.at_mm), "a place on the member");
  return s;
}

}  // namespace

void read_plates(Rows& rows, design::Design& d, const published::Catalog& catalog) {
  rows.read_each("plate", [&](Reader& r) {
    const design::Plate plate = read_plate(r, d, catalog);
    if (std::none_of(d.frame.materials.begin(), d.frame.materials.end(),
                     [&](const frame::Material& m) { return m.id == plate.steel; }))
      d.frame.materials.push_back(published::find_steel(catalog, plate.steel)->material);
    d.plates.push_back(plate);
  });
  rows.read_each("sleeve", [&](Reader& r) { d.sleeves.push_back(read_sleeve(r, d)); });
}

}  // namespace seamwright::files
