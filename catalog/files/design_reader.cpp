// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>

#include "catalog/files/design_rows.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/macros_reader.h"
#include "catalog/files/parse.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/published/sha256.h"
#include "engine/design/weld_geometry.h"
#include "engine/loads/tyre.h"
#include "engine/rating/job.h"
#include "engine/frame/check.h"
#include "engine/shape/clash.h"
#include "engine/shape/plan.h"

namespace seamwright::files {

namespace {

// No part of a trike weighs a tonne, and no tyre damps like a bridge.
constexpr Bounds mass{1e-9, 1000}, damping{0, 1e5};

Parameters read_parameters(const std::string& file, const toml::table& root) {
  Parameters parameters;
  const toml::table* table = root["parameters"].as_table();
  if (!table) return parameters;
  std::vector<std::pair<toml::source_position, std::string>>
      order;  // as written: later ones may use earlier ones
  for (const auto& [key, node] : *table) order.emplace_back(node.source().begin, std::string(key.str()));
  std::sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [place, name] : order) {
    Reader reader(file, "design.parameters", *table, &parameters, nullptr);
    parameters[name] = reader.real(name, any_number);
  }
  return parameters;
}

// A wall that leaves the tube hollow.
double read_wall(Reader& r, double outside_mm, const char* of) {
  const double wall = r.real("wall_mm", positive);
  if (!(2 * wall < outside_mm))
    r.fail("file.out-of-range", "wall_mm", number_as_typed(wall),
           std::string("less than half of ").append(of).append(" = ").append(number_as_typed(outside_mm)));
  return wall;
}

frame::Section read_section(Reader& r) {
  const std::string shape = r.text_or("shape", "round");
  if (shape == "round") {
    const double diameter = r.real("diameter_mm", positive);
    return frame::RoundTube{diameter, read_wall(r, diameter, "diameter_mm")};
  }
  if (shape == "rectangular" || shape == "flat-oval") {
    const double height = r.real("height_mm", positive), width = r.real("width_mm", positive);
    const double wall = read_wall(r, std::min(height, width), height < width ? "height_mm" : "width_mm");
    if (shape == "flat-oval") return frame::FlatOvalTube{height, width, wall};
    return frame::RectangularTube{height, width, wall, r.real("corner_radius_mm", not_negative)};
  }
  if (shape == "bar") return frame::SolidBar{r.real("diameter_mm", positive)};
  if (shape == "plate")
    return frame::PlateStrip{r.real("height_mm", positive), r.real("thickness_mm", positive)};
  r.fail("file.out-of-range", "shape", shape, "round, rectangular, flat-oval, bar, plate");
}

frame::Wheel read_wheel(Reader& r, const std::vector<frame::Node>& nodes) {
  frame::Wheel w;
  w.id = r.id("id");
  if (w.id != "FL" && w.id != "FR" && w.id != "R") r.fail("file.out-of-range", "id", w.id, "FL, FR, R");
  w.node = known_id(r, "node", nodes);
  w.radius_mm = r.real("radius_mm", positive);
  w.section_radius_mm = r.real_or_none("section_radius_mm", {0, w.radius_mm});
  if (r.has("pressure_kpa"))
    w.radial_n_mm = loads::tyre_stiffness(r.real("pressure_kpa", {50, 1000}), w.radius_mm,
                                          r.real("section_radius_mm", {5, 100}))
                        .radial_n_mm;
  else
    w.radial_n_mm = r.real("radial_n_mm", positive);
  w.lateral_n_mm = r.real("lateral_n_mm", positive);
  if (r.has("damping_ratio"))
    w.damping_n_s_m = loads::tyre_damping_n_s_m(r.real("damping_ratio", {0, 1}), w.radial_n_mm,
                                                r.real("carried_kg", {0, 1000}));
  else
    w.damping_n_s_m = r.real("damping_n_s_m", damping);
  w.contact_length_mm = r.real("contact_length_mm", {0, 1000});
  w.lateral_damping_n_s_m = r.real("lateral_damping_n_s_m", damping);
  if (r.has("camber_deg")) {
    w.camber_deg = r.real("camber_deg", {-15, 15});
    w.section_radius_mm = r.real("section_radius_mm", {1, 100});
    w.camber_thrust_per_deg = r.real_or("camber_thrust_per_deg", {0, 0.05}, 0.01);
  }
  r.need_possible("tyre-section", "section_radius_mm", w.id, w.section_radius_mm / (w.radius_mm / 2));
  if (r.has("torque_node")) w.torque_node = known_id(r, "torque_node", nodes);
  return w;
}

// Strengths of a steel as its certificate or a test states them.
void read_steel(Reader& r, design::Design& d) {
  const std::string id = r.text("steel");
  const auto m = std::find_if(d.frame.materials.begin(), d.frame.materials.end(),
                              [&](const frame::Material& steel) { return steel.id == id; });
  if (m == d.frame.materials.end())
    r.fail("file.unknown-id", "steel", id, "the steel of a tube of this design");
  m->yield_mpa = r.real("yield_mpa", {1, 3000});
  m->ultimate_mpa = r.real("ultimate_mpa", {1, 3000});
  if (m->ultimate_mpa < m->yield_mpa)
    r.fail("file.out-of-range", "ultimate_mpa", number_as_typed(m->ultimate_mpa), "at least yield_mpa");
  m->haz_yield_mpa = r.real_or_none("haz_yield_mpa", {1, 3000});
  d.assumptions.push_back({"file.strengths-by", {text("steel", m->id), text("by", r.text("by"))}});
}

// Moments of inertia are those of some body, and of one no longer than the frame.
void read_mass(Reader& r, frame::Frame& f) {
  frame::Mass m{
      r.id("id"), r.real("mass_kg", mass), r.vector("position_mm"), r.ids("nodes", 1), {0, 0, 0}};
  if (r.has("inertia_kg_m2")) {
    const std::vector<double> moments = r.reals("inertia_kg_m2", not_negative);
    if (moments.size() != 3)
      r.fail("file.out-of-range", "inertia_kg_m2", std::to_string(moments.size()) + " numbers", "[x, y, z]");
    m.inertia_kg_m2 = {moments[0], moments[1], moments[2]};
    const double largest = m.inertia_kg_m2.maxCoeff(), others = m.inertia_kg_m2.sum() - largest;
    if (largest > 0) r.need_possible("inertia", "inertia_kg_m2", m.id, others > 0 ? largest / others : 1e9);
    Eigen::AlignedBox3d box;
    for (const frame::Node& n : f.nodes) box.extend(n.position_mm);
    const double gyration = std::sqrt(largest / m.mass_kg) * 1000, half = box.diagonal().norm() / 2;
    if (half > 0) r.need_possible("gyration", "inertia_kg_m2", m.id, gyration / half);
  }
  f.masses.push_back(m);
}

// None where the design leaves it to what stands there. A negative one is cut off: no more than there is straight tube.
std::optional<double> read_overhang(Reader& r, const frame::Frame& frame, const frame::Member& m, bool at_start) {
  const char* key = at_start ? "start_overhang_mm" : "end_overhang_mm";
  if (!r.has(key)) return {};
  const double overhang = r.real(key, {-1000, 1000}), straight = shape::end_stretch_mm(frame, m, at_start);
  if (-overhang > straight - frame::same_place_mm)
    r.fail("file.out-of-range", key, number_as_typed(overhang),
           "no more cut off than its last straight length, " + number_as_typed(straight) + " mm");
  return overhang;
}

void read_structure(Rows& rows, design::Design& d, const published::Catalog& catalog) {
  rows.read_each("tube", [&](Reader& r) {
    frame::Tube tube{r.id("id"), read_section(r), r.text("steel")};
    const published::Steel* steel = published::find_steel(catalog, tube.material);
    if (!steel) {
      std::vector<std::string> ids;
      for (const auto& s : catalog.steels) ids.push_back(s.material.id);
      r.refuse_unknown("steel", tube.material, ids);
    }
    if (const std::optional<double> wall = frame::wall_mm(tube.section)) {
      const char* key = std::holds_alternative<frame::PlateStrip>(tube.section) ? "thickness_mm" : "wall_mm";
      r.need_possible("wall-least", key, tube.id, *wall);
    }
    if (const auto* round = std::get_if<frame::RoundTube>(&tube.section))
      r.need_possible("wall-radius", "wall_mm", tube.id, round->wall_mm / (round->diameter_mm / 2));
    if (!find(d.frame.materials, tube.material)) d.frame.materials.push_back(steel->material);
    frame::section_properties(tube.section, steel->material.poisson);
    d.frame.tubes.push_back(tube);
  });
  rows.read_each("steel", [&](Reader& r) { read_steel(r, d); });
  rows.read_each("node", [&](Reader& r) { d.frame.nodes.push_back({r.id("id"), r.vector("position_mm")}); });
  rows.read_each("member", [&](Reader& r) {
    frame::Member m;
    m.id = r.id("id");
    m.tube = known_id(r, "tube", d.frame.tubes);
    m.nodes = r.ids("nodes", 2);
    for (const std::string& node : m.nodes)
      if (!find(d.frame.nodes, node)) r.fail("file.unknown-id", "nodes", node, "a node of the design");
    if (r.has("up")) m.up = r.vector("up");
    m.axial_only = r.flag_or("axial_only", false);
    m.start_offset_mm = r.vector_or("start_offset_mm", {0, 0, 0});
    m.end_offset_mm = r.vector_or("end_offset_mm", {0, 0, 0});
    m.start_overhang_mm = read_overhang(r, d.frame, m, true);
    m.end_overhang_mm = read_overhang(r, d.frame, m, false);
    d.frame.members.push_back(m);
  });
  rows.read_each("hinge", [&](Reader& r) {
    const auto nodes = r.ids("nodes", 2);
    d.frame.hinges.push_back({r.id("id"), nodes[0], nodes[1], r.vector("axis", true)});
  });
  rows.read_each("damper", [&](Reader& r) {
    const auto nodes = r.ids("nodes", 2);
    d.frame.dampers.push_back({r.id("id"), nodes[0], nodes[1], r.real("damping_n_s_m", damping)});
  });
  rows.read_each("mass", [&](Reader& r) { read_mass(r, d.frame); });
  rows.read_each("wheel", [&](Reader& r) { d.frame.wheels.push_back(read_wheel(r, d.frame.nodes)); });
}

void read_cases(Rows& rows, design::Design& d) {
  rows.read_each("support", [&](Reader& r) {
    frame::Support s{known_id(r, "node", d.frame.nodes), {}};
    const std::vector<std::string> names{"ux", "uy", "uz", "rx", "ry", "rz"};
    for (const std::string& name : r.texts("fixed")) {
      const auto it = std::find(names.begin(), names.end(), name);
      if (it == names.end()) r.fail("file.out-of-range", "fixed", name, "ux, uy, uz, rx, ry, rz");
      s.fixed[static_cast<std::size_t>(it - names.begin())] = true;
    }
    d.frame.supports.push_back(s);
  });
  rows.read_each("case", [&](Reader& r) {
    frame::LoadCase c;
    c.id = r.id("id");
    c.gravity_factor = r.has("gravity_factor") ? r.real("gravity_factor", any_number) : 0;
    for (const toml::table* table : r.tables("load")) {
      Reader load = r.sub_reader("load", *table);
      c.loads.push_back({known_id(load, "node", d.frame.nodes), load.vector_or("force_n", {0, 0, 0}),
                         load.vector_or("moment_nmm", {0, 0, 0}, true)});
      load.finish();
    }
    d.frame.cases.push_back(c);
  });
}

void read_carriers(Reader& root, design::Design& d) {
  for (const toml::table* table : root.tables("rider")) {
    Reader r = root.sub_reader("rider", *table);
    d.carriers.saddle_node = known_id(r, "saddle_node", d.frame.nodes);
    d.carriers.pedal_node = known_id(r, "pedal_node", d.frame.nodes);
    d.carriers.bar_nodes = r.ids("bar_nodes", 1);
    r.finish();
  }
  for (const toml::table* table : root.tables("steering")) {
    Reader r = root.sub_reader("steering", *table);
    d.steering = {known_id(r, "hinge", d.frame.hinges), r.real("left_deg", {0, 80}),
                  r.real("right_deg", {0, 80})};
    r.finish();
  }
  for (const toml::table* table : root.tables("box")) {
    Reader r = root.sub_reader("box", *table);
    d.carriers.box_nodes = r.ids("nodes", 1);
    d.carriers.payload_centre_mm = r.vector("payload_centre_mm");
    r.finish();
  }
}

design::Design design_from(const SourceFile& file, const std::string& content,
                           const published::Catalog& catalog) {
  const toml::table table = parse(file.name, content);
  design::Design d;
  const Parameters parameters = read_parameters(file.name, table);
  Reader root(file, "design", table, &parameters, &d.assumptions);
  root.expects({"parameters", "inside", "flexible_joints", "tube",     "steel", "node",  "member", "hinge", "damper",
                "mass",       "wheel",           "joint",    "weld",  "notch", "bolts",  "end",   "support",
                "case",       "rider",           "steering", "box",   "plate", "sleeve"});
  root.choice("format", {"seamwright.design/1"});
  root.tables("parameters");
  d.identity = {root.text("name"), root.text_or("revision", ""), sha256_hex(content)};
  root.text_or("note", "");
  d.inside = root.one_of_or("inside", design::insides, design::Inside::vented);
  d.flexible_joints = root.flag_or("flexible_joints", false);
  d.joints_stated = root.has("flexible_joints");
  Rows rows(root, file, parameters, d.assumptions);
  try {
    read_structure(rows, d, catalog);
    read_welds(rows, d, catalog);
    read_beside_welds(rows, d);
    read_plates(rows, d, catalog);
    read_cases(rows, d);
    read_carriers(root, d);
  } catch (const Fault&) {
    root.refuse_misspelt(true);  // rows under a misspelt name are missed where others refer to them
    throw;
  }
  root.finish();
  prove_roots(d, file);
  return d;
}

}  // namespace

design::Design read_design(const SourceFile& file, const published::Catalog& catalog) {
  return read_design_text(file, read_text(file), catalog);
}

design::Design read_recorded_design(const SourceFile& file, const published::Catalog& catalog) {
  return design_from(file, read_text(file), catalog);
}

design::Design read_design_text(const SourceFile& file, const std::string& content,
                                const published::Catalog& catalog) {
  design::Design design = design_from(file, content, catalog);
  try {
    shape::check_clashes(design.frame, design.welds);
  } catch (const Fault& fault) {
    throw with_place_in(fault, file.name, content);
  }
  return design;
}

}  // namespace seamwright::files
