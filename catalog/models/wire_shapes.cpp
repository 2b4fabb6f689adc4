// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/wire_shapes.h"

namespace seamwright::models::wire {

namespace {

// Sections by the number of their alternative, then their measures in the order of the struct.
struct SectionJson {
  json operator()(const frame::RoundTube& t) const { return {0, rounded(t.diameter_mm), rounded(t.wall_mm)}; }
  json operator()(const frame::RectangularTube& t) const {
    return {1, rounded(t.height_mm), rounded(t.width_mm), rounded(t.wall_mm), rounded(t.corner_radius_mm)};
  }
  json operator()(const frame::FlatOvalTube& t) const {
    return {2, rounded(t.height_mm), rounded(t.width_mm), rounded(t.wall_mm)};
  }
  json operator()(const frame::SolidBar& b) const { return {3, rounded(b.diameter_mm)}; }
  json operator()(const frame::PlateStrip& p) const { return {4, rounded(p.height_mm), rounded(p.thickness_mm)}; }
};
frame::Section section_of(const json& j) {
  const auto measure = [&](std::size_t i) { return j.at(i).get<double>(); };
  switch (j.at(0).get<int>()) {
    case 0:
      return frame::RoundTube{measure(1), measure(2)};
    case 1:
      return frame::RectangularTube{measure(1), measure(2), measure(3), measure(4)};
    case 2:
      return frame::FlatOvalTube{measure(1), measure(2), measure(3)};
    case 3:
      return frame::SolidBar{measure(1)};
    case 4:
      return frame::PlateStrip{measure(1), measure(2)};
    default:
      refuse("not a section");
  }
}

json plate_json(const design::Plate& p) {
  json outline = json::array(), holes = json::array();
  for (const design::Corner& c : p.outline)
    outline.push_back({rounded(c.x_mm), rounded(c.y_mm), rounded(c.bulge)});
  for (const design::PlateHole& h : p.holes)
    holes.push_back({rounded(h.x_mm), rounded(h.y_mm), rounded(h.diameter_mm)});
  return {rounded(p.thickness_mm), to_json(p.origin_mm), to_json(p.x), to_json(p.y), outline, holes};
}
design::Plate plate_of(const json& j) {
  design::Plate p;
  p.thickness_mm = j.at(0).get<double>();
  p.origin_mm = vector_of(j.at(1));
  p.x = vector_of(j.at(2));
  p.y = vector_of(j.at(3));
  for (const json& c : j.at(4))
    p.outline.push_back({c.at(0).get<double>(), c.at(1).get<double>(), c.at(2).get<double>()});
  for (const json& h : j.at(5))
    p.holes.push_back({h.at(0).get<double>(), h.at(1).get<double>(), h.at(2).get<double>()});
  return p;
}

}  // namespace

json to_json(const Vec3& v) { return {rounded(v.x()), rounded(v.y()), rounded(v.z())}; }
Vec3 vector_of(const json& j) {
  if (j.size() != 3) refuse("not a vector");
  return {j[0].get<double>(), j[1].get<double>(), j[2].get<double>()};
}

json to_json(const shape::Stretch& s) {
  return {std::visit(SectionJson{}, s.section), to_json(s.from), to_json(s.to), to_json(s.up)};
}
shape::Stretch stretch_of(const json& j) {
  return {section_of(j.at(0)), vector_of(j.at(1)), vector_of(j.at(2)), vector_of(j.at(3))};
}

json to_json(const std::vector<shape::Cut>& cuts) {
  json out = json::array();
  for (const shape::Cut& c : cuts) {
    if (const auto* space = std::get_if<shape::HalfSpace>(&c.tool))
      out.push_back({c.by, to_json(space->point), to_json(space->away)});
    else
      out.push_back({c.by, to_json(std::get<shape::Stretch>(c.tool))});
  }
  return out;
}
std::vector<shape::Cut> cuts_of(const json& j) {
  std::vector<shape::Cut> cuts;
  for (const json& c : j) {
    const auto by = c.at(0).get<std::string>();
    if (c.size() == 3)
      cuts.push_back({shape::HalfSpace{vector_of(c[1]), vector_of(c[2])}, by});
    else
      cuts.push_back({stretch_of(c.at(1)), by});
  }
  return cuts;
}

json to_json(const shape::FilletAround& f) {
  return {to_json(f.brace), to_json(f.chord), to_json(f.crown), rounded(f.leg_crown_mm), rounded(f.leg_saddle_mm), rounded(f.leg_opposite_mm)};
}
shape::FilletAround fillet_of(const json& j) {
  return {stretch_of(j.at(0)), stretch_of(j.at(1)), vector_of(j.at(2)), j.at(3).get<double>(), j.at(4).get<double>(), j.at(5).get<double>()};
}

json to_json(const shape::Part& p) {
  json out{{"id", p.id}, {"cuts", to_json(p.cuts)}};
  if (const auto* hollow = std::get_if<shape::Hollow>(&p.body)) {
    for (const shape::Stretch& s : hollow->stretches) out["stretches"].push_back(to_json(s));
  } else {
    out["plate"] = plate_json(std::get<shape::Flat>(p.body).plate);
  }
  return out;
}
json to_json(const shape::WeldBody& w) {
  json out{{"id", w.id}, {"cuts", to_json(w.cuts)}};
  if (const auto* f = std::get_if<shape::FilletAround>(&w.body)) {
    out["around"] = to_json(*f);
  } else if (const auto* r = std::get_if<shape::FilletRing>(&w.body)) {
    out["ring"] = {to_json(r->tube), rounded(r->leg_mm)};
  } else {
    out["along"] = json::array();
    for (const shape::FilletAlong& l : std::get<std::vector<shape::FilletAlong>>(w.body))
      out["along"].push_back({to_json(l.from), to_json(l.to), to_json(l.one), to_json(l.other), rounded(l.leg_mm)});
  }
  return out;
}
shape::Part part_of(const json& j) {
  shape::Part p;
  p.id = j.at("id").get<std::string>();
  p.cuts = cuts_of(j.at("cuts"));
  if (j.contains("plate")) {
    p.body = shape::Flat{plate_of(j.at("plate"))};
    return p;
  }
  shape::Hollow hollow;
  for (const json& s : j.at("stretches")) hollow.stretches.push_back(stretch_of(s));
  if (hollow.stretches.empty()) refuse("a part of nothing");
  p.body = std::move(hollow);
  return p;
}

shape::WeldBody weld_of(const json& j) {
  shape::WeldBody w{j.at("id").get<std::string>(), {}, cuts_of(j.at("cuts"))};
  if (j.contains("around")) {
    w.body = fillet_of(j.at("around"));
    return w;
  }
  if (j.contains("ring")) {
    w.body = shape::FilletRing{stretch_of(j.at("ring").at(0)), j.at("ring").at(1).get<double>()};
    return w;
  }
  std::vector<shape::FilletAlong> lines;
  for (const json& l : j.at("along"))
    lines.push_back({vector_of(l.at(0)), vector_of(l.at(1)), vector_of(l.at(2)), vector_of(l.at(3)),
                     l.at(4).get<double>()});
  w.body = std::move(lines);
  return w;
}

}  // namespace seamwright::models::wire
