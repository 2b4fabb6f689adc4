// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <optional>
#include <set>

#include "catalog/files/job.h"
#include "catalog/files/macros.h"
#include "catalog/files/parse.h"
#include "catalog/files/procedure.h"
#include "engine/loads/tyre.h"
#include "engine/rating/geometry.h"
#include "engine/shape/clash.h"

namespace seamwright::files {

namespace {

constexpr std::size_t most_rows = 5000;

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
    r.fail("file.out-of-range", "wall_mm", typed(wall),
           std::string("less than half of ").append(of).append(" = ").append(typed(outside_mm)));
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

// Reads a table row, and its mirrored twin when it asks for one; refuses doubled ids.
class Rows {
 public:
  Rows(Reader& root, const std::string& file, const Parameters& parameters, std::vector<Message>& assumptions)
      : root_(root), file_(file), parameters_(parameters), assumptions_(assumptions) {}
  void each(const std::string& key, const std::function<void(Reader&)>& read) {
    std::set<std::string> ids;
    const auto tables = root_.tables(key);
    if (tables.size() > most_rows)
      root_.fail("file.out-of-range", key, std::to_string(tables.size()), "at most 5000 rows");
    for (const toml::table* table : tables)
      for (bool twin : {false, true}) {
        std::string name("design.");
        name.append(key);
        Reader reader(file_, name, *table, &parameters_, &assumptions_, twin);
        if (!reader.flag_or("mirror", false) && twin) continue;
        if (reader.has("id") && !ids.insert(reader.id("id")).second)
          reader.fail(twin ? "file.mirror-same-id" : "file.doubled-id", "id", reader.id("id"),
                      "an id of its own");
        try {
          read(reader);
        } catch (const Fault& fault) {
          throw reader.placed(fault);
        }
        reader.finish();
      }
  }

 private:
  Reader& root_;
  const std::string& file_;
  const Parameters& parameters_;
  std::vector<Message>& assumptions_;
};

template <class T>
const T* find(const std::vector<T>& rows, const std::string& id) {
  const auto it = std::find_if(rows.begin(), rows.end(), [&](const T& row) { return row.id == id; });
  return it == rows.end() ? nullptr : &*it;
}

template <class T>
std::string known(Reader& r, const std::string& key, const std::vector<T>& rows) {
  std::string id = r.id(key);
  if (!find(rows, id)) {
    std::vector<std::string> ids;
    for (const T& row : rows) ids.push_back(row.id);
    r.unknown(key, id, ids);
  }
  return id;
}

struct Joint {
  std::string id, node, kind, chord;
  joints::Layout layout;
};

frame::Wheel read_wheel(Reader& r, const std::vector<frame::Node>& nodes) {
  frame::Wheel w;
  w.id = r.id("id");
  if (w.id != "FL" && w.id != "FR" && w.id != "R") r.fail("file.out-of-range", "id", w.id, "FL, FR, R");
  w.node = known(r, "node", nodes);
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
    w.damping_n_s_m = r.real("damping_n_s_m", not_negative);
  w.contact_length_mm = r.real("contact_length_mm", not_negative);
  w.lateral_damping_n_s_m = r.real("lateral_damping_n_s_m", not_negative);
  if (r.has("camber_deg")) {
    w.camber_deg = r.real("camber_deg", {-15, 15});
    w.section_radius_mm = r.real("section_radius_mm", {1, 100});
    w.camber_thrust_per_deg = r.real_or("camber_thrust_per_deg", {0, 0.05}, 0.01);
  }
  r.possible("tyre-section", "section_radius_mm", w.id, w.section_radius_mm / (w.radius_mm / 2));
  if (r.has("torque_node")) w.torque_node = known(r, "torque_node", nodes);
  return w;
}

// Strengths of a steel as its certificate or a test states them.
void read_steel(Reader& r, rating::Design& d) {
  const std::string id = r.text("steel");
  const auto m = std::find_if(d.frame.materials.begin(), d.frame.materials.end(),
                              [&](const frame::Material& steel) { return steel.id == id; });
  if (m == d.frame.materials.end())
    r.fail("file.unknown-id", "steel", id, "the steel of a tube of this design");
  m->yield_mpa = r.real("yield_mpa", {1, 3000});
  m->ultimate_mpa = r.real("ultimate_mpa", {1, 3000});
  if (m->ultimate_mpa < m->yield_mpa)
    r.fail("file.out-of-range", "ultimate_mpa", typed(m->ultimate_mpa), "at least yield_mpa");
  m->haz_yield_mpa = r.real_or_none("haz_yield_mpa", {1, 3000});
  d.assumptions.push_back({"file.strengths-by", {text("steel", m->id), text("by", r.text("by"))}});
}

// Moments of inertia are those of some body, and of one no longer than the frame.
void read_mass(Reader& r, frame::Frame& f) {
  frame::Mass m{
      r.id("id"), r.real("mass_kg", positive), r.vector("position_mm"), r.ids("nodes", 1), {0, 0, 0}};
  if (r.has("inertia_kg_m2")) {
    const std::vector<double> moments = r.reals("inertia_kg_m2", not_negative);
    if (moments.size() != 3)
      r.fail("file.out-of-range", "inertia_kg_m2", std::to_string(moments.size()) + " numbers", "[x, y, z]");
    m.inertia_kg_m2 = {moments[0], moments[1], moments[2]};
    const double largest = m.inertia_kg_m2.maxCoeff(), others = m.inertia_kg_m2.sum() - largest;
    if (largest > 0) r.possible("inertia", "inertia_kg_m2", m.id, others > 0 ? largest / others : 1e9);
    Eigen::AlignedBox3d box;
    for (const frame::Node& n : f.nodes) box.extend(n.position_mm);
    const double gyration = std::sqrt(largest / m.mass_kg) * 1000, half = box.diagonal().norm() / 2;
    if (half > 0) r.possible("gyration", "inertia_kg_m2", m.id, gyration / half);
  }
  f.masses.push_back(m);
}

void read_structure(Rows& rows, rating::Design& d, const published::Catalog& catalog) {
  rows.each("tube", [&](Reader& r) {
    frame::Tube tube{r.id("id"), read_section(r), r.text("steel")};
    const published::Steel* steel = published::find_steel(catalog, tube.material);
    if (!steel) {
      std::vector<std::string> ids;
      for (const auto& s : catalog.steels) ids.push_back(s.material.id);
      r.unknown("steel", tube.material, ids);
    }
    if (const std::optional<double> wall = frame::wall_mm(tube.section)) {
      const char* key = std::holds_alternative<frame::PlateStrip>(tube.section) ? "thickness_mm" : "wall_mm";
      r.possible("wall-least", key, tube.id, *wall);
    }
    if (const auto* round = std::get_if<frame::RoundTube>(&tube.section))
      r.possible("wall-radius", "wall_mm", tube.id, round->wall_mm / (round->diameter_mm / 2));
    if (!find(d.frame.materials, tube.material)) d.frame.materials.push_back(steel->material);
    frame::section_properties(tube.section, steel->material.poisson);
    d.frame.tubes.push_back(tube);
  });
  rows.each("steel", [&](Reader& r) { read_steel(r, d); });
  rows.each("node", [&](Reader& r) { d.frame.nodes.push_back({r.id("id"), r.vector("position_mm")}); });
  rows.each("member", [&](Reader& r) {
    frame::Member m;
    m.id = r.id("id");
    m.tube = known(r, "tube", d.frame.tubes);
    m.nodes = r.ids("nodes", 2);
    for (const std::string& node : m.nodes)
      if (!find(d.frame.nodes, node)) r.fail("file.unknown-id", "nodes", node, "a node of the design");
    if (r.has("up")) m.up = r.vector("up");
    m.axial_only = r.flag_or("axial_only", false);
    m.start_offset_mm = r.vector_or("start_offset_mm", {0, 0, 0});
    m.end_offset_mm = r.vector_or("end_offset_mm", {0, 0, 0});
    d.frame.members.push_back(m);
  });
  rows.each("hinge", [&](Reader& r) {
    const auto nodes = r.ids("nodes", 2);
    d.frame.hinges.push_back({r.id("id"), nodes[0], nodes[1], r.vector("axis", true)});
  });
  rows.each("damper", [&](Reader& r) {
    const auto nodes = r.ids("nodes", 2);
    d.frame.dampers.push_back({r.id("id"), nodes[0], nodes[1], r.real("damping_n_s_m", not_negative)});
  });
  rows.each("mass", [&](Reader& r) { read_mass(r, d.frame); });
  rows.each("wheel", [&](Reader& r) { d.frame.wheels.push_back(read_wheel(r, d.frame.nodes)); });
}

// The member end that is welded; a plate along a chord need not be a member.
void read_end(Reader& r, const frame::Frame& f, joints::Weld& w) {
  if (w.layout == joints::Layout::plate_on_tube && !r.has("member")) return;
  w.member = known(r, "member", f.members);
  const frame::Member& member = *find(f.members, w.member);
  if (w.chord == w.member) r.fail("file.out-of-range", "member", w.member, "another member than the chord");
  const bool start = member.nodes.front() == w.node, end = member.nodes.back() == w.node;
  if (!start && !end) r.fail("file.weld-not-at-node", "member", w.member, w.node);
  w.at_start = start && end ? r.choice("end", {"start", "end"}) == "start" : start;
}

// Direction of a member where it meets a node.
frame::Vec3 axis_at(const frame::Frame& f, const std::string& id, const std::string& node) {
  const auto& nodes = find(f.members, id)->nodes;
  const auto at = static_cast<std::size_t>(std::find(nodes.begin(), nodes.end(), node) - nodes.begin());
  const std::size_t other = at + 1 < nodes.size() ? at + 1 : at - 1;
  return (find(f.nodes, nodes[other])->position_mm - find(f.nodes, node)->position_mm).normalized();
}

joints::Thread read_thread(Reader& r) {
  const joints::Thread t{r.real("thread_mm", positive), r.real("pitch_mm", positive)};
  if (!(t.pitch_mm < 0.5 * t.diameter_mm))
    r.fail("file.out-of-range", "pitch_mm", typed(t.pitch_mm), "less than half of thread_mm");
  return t;
}

// What a weld between a tube and a plate needs beside its throat.
void read_plate(Reader& r, const frame::Frame& f, joints::Weld& w) {
  if (w.layout != joints::Layout::slotted && w.layout != joints::Layout::plate_on_tube) return;
  w.plate_mm = r.real("plate_mm", positive);
  w.line_mm = r.real("line_mm", positive);
  const bool slotted = w.layout == joints::Layout::slotted;
  const char* key = slotted ? "plate_normal" : "stands";
  Eigen::Vector3d& direction = slotted ? w.plate_normal : w.stands;
  direction = r.vector(key);
  const frame::Vec3 axis = axis_at(f, slotted ? w.member : w.chord, w.node);
  if (!(direction.cross(axis).norm() > 0.1 * direction.norm()))
    r.fail("file.out-of-range", key, "along the tube", "a direction across the tube");
  if (slotted)
    r.possible("weld-line", "line_mm", w.id,
               w.line_mm / rating::member_length_mm(f, *find(f.members, w.member)));
  if (!slotted) w.carries_load = r.flag_or("carries_load", true);
}

Joint read_joint(Reader& r, const frame::Frame& f, const published::Catalog& catalog) {
  Joint j{r.id("id"), known(r, "node", f.nodes), r.text("kind"), "", {}};
  const published::JointKind* kind = published::find_joint_kind(catalog, j.kind);
  if (!kind) r.fail("file.unknown-id", "kind", j.kind, "a joint kind of the catalog");
  j.layout = kind->layout;
  if (kind->needs_chord) {
    j.chord = known(r, "chord", f.members);
    const auto& nodes = find(f.members, j.chord)->nodes;
    if (std::find(nodes.begin(), nodes.end(), j.node) == nodes.end())
      r.fail("file.weld-not-at-node", "chord", j.chord, j.node);
  }
  return j;
}

void read_welds(Rows& rows, rating::Design& d, const published::Catalog& catalog) {
  std::vector<Joint> joints;
  rows.each("joint", [&](Reader& r) { joints.push_back(read_joint(r, d.frame, catalog)); });
  std::vector<std::pair<joints::Weld, Reader>> partners;
  rows.each("weld", [&](Reader& r) {
    joints::Weld w;
    w.id = r.id("id");
    w.joint = known(r, "joint", joints);
    const Joint& joint = *find(joints, w.joint);
    w.node = joint.node;
    w.kind = joint.kind;
    w.layout = joint.layout;
    w.chord = joint.chord;
    read_end(r, d.frame, w);
    w.throat_mm = r.real("throat_mm", positive);
    read_plate(r, d.frame, w);
    w.filler_ultimate_mpa = r.real_or_none("filler_ultimate_mpa", {1, 3000});
    w.root_proof = r.text_or("root_proof", "");
    if (!w.root_proof.empty() && !fused_macro(r.folder(), w.root_proof))
      r.fail("file.unknown-id", "root_proof", w.root_proof,
             "a [[macro]] with root = \"fused\" in procedures/");
    w.procedure = r.text_or("procedure", "");
    if (r.has("positions")) w.positions = known_positions(r);
    w.stress_relieved = r.flag_or("stress_relieved", false);
    if (w.kind == "tube-splice") {
      w.offset_mm = r.real_or_none("offset_mm", {0, 100});
      w.other_wall_mm = r.real_or_none("other_wall_mm", positive);
    }
    if (r.has("attachment_length_mm")) w.attachment_length_mm = r.real("attachment_length_mm", positive);
    w.shares_given = r.has("x_share") || r.has("k_share");
    w.x_share = r.real_or_none("x_share", {0, 1});
    w.k_share = r.real_or_none("k_share", {0, 1});
    if (w.x_share + w.k_share > 1)
      r.fail("file.out-of-range", "k_share", typed(w.x_share + w.k_share),
             "x and k shares of at most 1 together");
    if (w.k_share > 0 || r.has("partner")) {
      w.partner = r.id("partner");
      w.gap_mm = r.real("gap_mm", {-200, 1000});
      partners.emplace_back(w, r);
    }
    r.possible("throat-wall", "throat_mm", w.id, w.throat_mm / rating::thinnest_wall_mm(d.frame, w));
    d.welds.push_back(w);
  });
  for (const auto& [w, r] : partners) {
    const joints::Weld* other = find(d.welds, w.partner);
    if (!other || other == find(d.welds, w.id) || other->chord != w.chord || other->node != w.node)
      r.fail("file.unknown-id", "partner", w.partner, "another weld on the same chord at the same node");
  }
}

// Notches that are not welds, and bolts: what each kind needs is in its own keys.
void read_notch(Reader& r, rating::Design& d) {
  rating::Notch n;
  n.id = r.id("id");
  n.kind = r.choice("kind", {"shoulder", "hole", "thread", "seat", "clamp-slot"});
  n.member = known(r, "member", d.frame.members);
  n.at_mm = r.real("at_mm", not_negative);
  const double length = rating::member_length_mm(d.frame, *find(d.frame.members, n.member));
  if (n.at_mm > length) r.fail("file.out-of-range", "at_mm", typed(n.at_mm), "a place on the member");
  if (n.kind == "shoulder") {
    n.shoulder = {r.real("large_mm", positive), r.real("small_mm", positive), r.real("fillet_mm", positive)};
    if (!(n.shoulder.large_mm > n.shoulder.small_mm))
      r.fail("file.out-of-range", "small_mm", typed(n.shoulder.small_mm), "less than large_mm");
  } else if (n.kind == "hole") {
    n.hole_mm = r.real("hole_mm", positive);
    n.faces = r.vector("faces");
    const frame::Vec3 axis = axis_at(d.frame, n.member, find(d.frame.members, n.member)->nodes[0]);
    if (const frame::RoundTube* tube = rating::round_tube(d.frame, n.member))
      r.possible("hole", "hole_mm", n.id, n.hole_mm / tube->diameter_mm);
    if (!(n.faces.cross(axis).norm() > 0.1 * n.faces.norm()))
      r.fail("file.out-of-range", "faces", "along the tube", "a direction across the tube");
  } else if (n.kind == "thread") {
    n.thread = read_thread(r);
  } else if (r.has("factor")) {
    n.factor = r.real("factor", {1, 20});
    n.factor_source = r.text("factor_source");
  }
  d.notches.push_back(n);
}

// An end that no weld holds: clamped, pressed, one tube with another member.
void read_end_declared(Reader& r, rating::Design& d) {
  rating::UnweldedEnd e;
  e.member = known(r, "member", d.frame.members);
  e.node = known(r, "node", d.frame.nodes);
  const auto& nodes = find(d.frame.members, e.member)->nodes;
  if (nodes.front() != e.node && nodes.back() != e.node)
    r.fail("file.weld-not-at-node", "member", e.member, e.node);
  if (!r.has("continues")) {
    e.because = r.text("because");
    if (e.because.empty()) r.fail("file.out-of-range", "because", "", "why nothing is rated there");
    d.assumptions.push_back({"assumption.end-not-rated",
                             {text("member", e.member), text("node", e.node), text("because", e.because)}});
    d.unwelded_ends.push_back(e);
    return;
  }
  e.continues = known(r, "continues", d.frame.members);
  const frame::Member &one = *find(d.frame.members, e.member), &other = *find(d.frame.members, e.continues);
  if (e.continues == e.member || (other.nodes.front() != e.node && other.nodes.back() != e.node))
    r.fail("file.weld-not-at-node", "continues", e.continues, e.node);
  const auto away = [&](const frame::Member& m) {
    const std::string& next = m.nodes.front() == e.node ? m.nodes[1] : m.nodes[m.nodes.size() - 2];
    return (find(d.frame.nodes, next)->position_mm - find(d.frame.nodes, e.node)->position_mm).normalized();
  };
  constexpr double straight = 0.9994;  // cosine of two degrees
  if (one.tube != other.tube || away(one).dot(away(other)) > -straight)
    r.fail("file.out-of-range", "continues", e.continues, "a member of the same tube, straight on");
  d.unwelded_ends.push_back(e);
}

void read_bolts(Reader& r, rating::Design& d) {
  rating::BoltCircle b;
  b.id = r.id("id");
  b.member = known(r, "member", d.frame.members);
  b.at_start = r.choice("end", {"start", "end"}) == "start";
  b.thread = read_thread(r);
  b.count = static_cast<int>(r.real("count", {2, 100}));
  b.circle_mm = r.real("circle_mm", positive);
  const std::string grade = r.choice("grade", {"8.8", "10.9", "12.9"});
  b.ultimate_mpa = grade == "8.8" ? 800 : grade == "10.9" ? 1000 : 1200;
  b.brittle_in_shear = grade != "8.8";
  b.preload_n = r.real_or_none("preload_n", not_negative);
  if (b.preload_n > 0) b.loss_percent = r.real("loss_percent", {0, 100});
  b.prying = r.real_or("prying", {1, 5}, 1);
  b.friction = r.real_or_none("friction", {0.01, 1});
  b.head_mm = r.real_or_none("head_mm", positive);
  d.bolts.push_back(b);
}

void read_cases(Rows& rows, rating::Design& d) {
  rows.each("support", [&](Reader& r) {
    frame::Support s{known(r, "node", d.frame.nodes), {}};
    const std::vector<std::string> names{"ux", "uy", "uz", "rx", "ry", "rz"};
    for (const std::string& name : r.texts("fixed")) {
      const auto it = std::find(names.begin(), names.end(), name);
      if (it == names.end()) r.fail("file.out-of-range", "fixed", name, "ux, uy, uz, rx, ry, rz");
      s.fixed[static_cast<std::size_t>(it - names.begin())] = true;
    }
    d.frame.supports.push_back(s);
  });
  rows.each("case", [&](Reader& r) {
    frame::LoadCase c;
    c.id = r.id("id");
    c.gravity_factor = r.has("gravity_factor") ? r.real("gravity_factor", any_number) : 0;
    for (const toml::table* table : r.tables("load")) {
      Reader load = r.sub("load", *table);
      c.loads.push_back({known(load, "node", d.frame.nodes), load.vector_or("force_n", {0, 0, 0}),
                         load.vector_or("moment_nmm", {0, 0, 0}, true)});
      load.finish();
    }
    d.frame.cases.push_back(c);
  });
}

void read_carriers(Reader& root, rating::Design& d) {
  for (const toml::table* table : root.tables("rider")) {
    Reader r = root.sub("rider", *table);
    d.carriers.saddle_node = known(r, "saddle_node", d.frame.nodes);
    d.carriers.pedal_node = known(r, "pedal_node", d.frame.nodes);
    d.carriers.bar_nodes = r.ids("bar_nodes", 1);
    r.finish();
  }
  for (const toml::table* table : root.tables("steering")) {
    Reader r = root.sub("steering", *table);
    d.steering = {known(r, "hinge", d.frame.hinges), r.real("left_deg", {0, 80}),
                  r.real("right_deg", {0, 80})};
    r.finish();
  }
  for (const toml::table* table : root.tables("box")) {
    Reader r = root.sub("box", *table);
    d.carriers.box_nodes = r.ids("nodes", 1);
    d.carriers.payload_centre_mm = r.vector("payload_centre_mm");
    r.finish();
  }
}

rating::Design design_from(const std::string& path, const std::string& content,
                           const published::Catalog& catalog) {
  const toml::table table = parse(path, content);
  rating::Design d;
  const Parameters parameters = read_parameters(path, table);
  Reader root(path, "design", table, &parameters, &d.assumptions);
  root.choice("format", {"seamwright.design/1"});
  root.tables("parameters");
  d.identity = {root.text("name"), root.text_or("revision", ""), sha256(content)};
  root.text_or("note", "");
  d.flexible_joints = root.flag_or("flexible_joints", false);
  d.joints_stated = root.has("flexible_joints");
  Rows rows(root, path, parameters, d.assumptions);
  try {
    read_structure(rows, d, catalog);
    read_welds(rows, d, catalog);
    rows.each("notch", [&](Reader& r) { read_notch(r, d); });
    rows.each("bolts", [&](Reader& r) { read_bolts(r, d); });
    rows.each("end", [&](Reader& r) { read_end_declared(r, d); });
    read_cases(rows, d);
    read_carriers(root, d);
  } catch (const Fault&) {
    root.refuse_misspelt(true);  // rows under a misspelt name are missed where others refer to them
    throw;
  }
  root.finish();
  prove_roots(d, root.folder());
  return d;
}

}  // namespace

rating::Design read_design(const std::string& path, const published::Catalog& catalog) {
  return read_design_text(path, read_text(path), catalog);
}

rating::Design read_recorded_design(const std::string& path, const published::Catalog& catalog) {
  return design_from(path, read_text(path), catalog);
}

rating::Design read_design_text(const std::string& path, const std::string& content,
                                const published::Catalog& catalog) {
  rating::Design design = design_from(path, content, catalog);
  try {
    shape::check_clashes(design.frame, design.welds);
  } catch (const Fault& fault) {
    throw placed_in(fault, path, content);
  }
  return design;
}

}  // namespace seamwright::files
