// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/check.h"

#include <Eigen/Geometry>
#include <cmath>
#include <set>

#include "engine/frame/frame.h"

namespace seamwright::frame {
namespace {

constexpr double largest_position_mm = 1e6;
constexpr double largest_mass_kg = 1e6;
constexpr double largest_stiffness = 1e9;
constexpr std::size_t largest_count = 20000;

void enter_name(std::map<std::string, std::size_t>& names, const char* kind, const std::string& id,
                std::size_t place) {
  if (id.empty()) throw Fault{Message{"frame.no-id", {text("kind", kind)}}};
  if (!names.emplace(id, place).second)
    throw Fault{Message{"frame.duplicate-id", {text("kind", kind), text("id", id)}}};
}

template <class Part>
std::map<std::string, std::size_t> places(const std::vector<Part>& parts, const char* kind) {
  if (parts.size() > largest_count)
    throw Fault{Message{"frame.too-large",
                        {text("kind", kind), number("count", static_cast<double>(parts.size()), ""),
                         number("limit", static_cast<double>(largest_count), "")}}};
  std::map<std::string, std::size_t> names;
  for (std::size_t i = 0; i < parts.size(); ++i) enter_name(names, kind, parts[i].id, i);
  return names;
}

void need_node(const Names& names, const std::string& node, const std::string& user) {
  if (!names.nodes.contains(node))
    throw Fault{Message{"frame.unknown-node", {text("node", node), text("user", user)}}};
}

void check_vector(const char* what, const std::string& of, const Vec3& v, const char* unit, double largest) {
  for (int i = 0; i < 3; ++i) check_number(what, of, v[i], unit, -largest, largest);
}

void check_direction(const char* what, const std::string& of, const Vec3& v) {
  check_vector(what, of, v, "", 1e12);
  check_number(what, of, v.norm(), "", 1e-12, 1e13);
}

void check_materials(const Frame& frame) {
  for (const Material& m : frame.materials) {
    check_number("youngs_mpa", m.id, m.youngs_mpa, "MPa", 1e-3, 1e12);
    check_number("poisson", m.id, m.poisson, "", 0, 0.5);
    check_number("density_kg_m3", m.id, m.density_kg_m3, "kg/m3", 0, 1e6);
  }
}

void check_members(const Frame& frame, const Names& names) {
  for (const Tube& t : frame.tubes)
    if (!names.materials.contains(t.material))
      throw Fault{Message{"frame.unknown-material", {text("material", t.material), text("tube", t.id)}}};
  for (const Member& m : frame.members) {
    if (!names.tubes.contains(m.tube))
      throw Fault{Message{"frame.unknown-tube", {text("tube", m.tube), text("member", m.id)}}};
    if (m.nodes.size() < 2) throw Fault{Message{"frame.short-member", {text("member", m.id)}}};
    for (const std::string& node : m.nodes) need_node(names, node, m.id);
    if (m.up) check_direction("up", m.id, *m.up);
    check_number("start_cut_mm", m.id, m.start_cut_mm, "mm", 0, largest_position_mm);
    check_number("end_cut_mm", m.id, m.end_cut_mm, "mm", 0, largest_position_mm);
    check_vector("start_offset_mm", m.id, m.start_offset_mm, "mm", largest_position_mm);
    check_vector("end_offset_mm", m.id, m.end_offset_mm, "mm", largest_position_mm);
  }
}

void check_hinges(const Frame& frame, const Names& names) {
  std::set<std::string> seconds;
  for (const Hinge& h : frame.hinges) {
    need_node(names, h.first, h.id);
    need_node(names, h.second, h.id);
    check_direction("axis", h.id, h.axis);
    const Vec3 gap =
        frame.nodes[names.nodes.at(h.second)].position_mm - frame.nodes[names.nodes.at(h.first)].position_mm;
    if (h.first == h.second || !(gap.norm() <= same_place_mm))
      throw Fault{Message{"frame.hinge-apart", {text("hinge", h.id), number("gap", gap.norm(), "mm")}}};
    if (!seconds.insert(h.second).second)
      throw Fault{Message{"frame.hinge-twice", {text("hinge", h.id), text("node", h.second)}}};
  }
}

void check_dampers(const Frame& frame, const Names& names) {
  for (const Damper& d : frame.dampers) {
    need_node(names, d.first, d.id);
    need_node(names, d.second, d.id);
    check_number("damping_n_s_m", d.id, d.damping_n_s_m, "N s/m", 0, largest_stiffness);
  }
}

void check_masses(const Frame& frame, const Names& names) {
  for (const Mass& m : frame.masses) {
    check_number("mass_kg", m.id, m.mass_kg, "kg", 0, largest_mass_kg);
    check_vector("position_mm", m.id, m.position_mm, "mm", largest_position_mm);
    for (int i = 0; i < 3; ++i)
      check_number("inertia_kg_m2", m.id, m.inertia_kg_m2[i], "kg m2", 0, largest_mass_kg);
    std::set<std::string> carriers;
    for (const std::string& node : m.nodes) {
      need_node(names, node, m.id);
      if (!carriers.insert(node).second)
        throw Fault{Message{"frame.repeated-node", {text("mass", m.id), text("node", node)}}};
    }
    if (m.nodes.empty() || m.nodes.size() == 2 || m.nodes.size() > 1000)
      throw Fault{Message{"frame.mass-carriers",
                          {text("mass", m.id), number("count", static_cast<double>(m.nodes.size()), "")}}};
  }
  for (const SprungMass& m : frame.sprung_masses) {
    check_number("mass_kg", m.id, m.mass_kg, "kg", 1e-9, largest_mass_kg);
    check_vector("position_mm", m.id, m.position_mm, "mm", largest_position_mm);
    need_node(names, m.node, m.id);
    for (const SprungMass::Direction& d : m.sprung) {
      check_direction("axis", m.id, d.axis);
      check_number("frequency_hz", m.id, d.frequency_hz, "Hz", 1e-3, 1e5);
      check_number("damping_ratio", m.id, d.damping_ratio, "", 0, 100);
    }
  }
}

void check_ground(const Frame& frame, const Names& names) {
  for (const Wheel& w : frame.wheels) {
    need_node(names, w.node, w.id);
    check_number("radius_mm", w.id, w.radius_mm, "mm", 1e-3, largest_position_mm);
    check_number("radial_n_mm", w.id, w.radial_n_mm, "N/mm", 1e-9, largest_stiffness);
    check_number("lateral_n_mm", w.id, w.lateral_n_mm, "N/mm", 0, largest_stiffness);
    check_number("damping_n_s_m", w.id, w.damping_n_s_m, "N s/m", 0, largest_stiffness);
    check_number("lateral_damping_n_s_m", w.id, w.lateral_damping_n_s_m, "N s/m", 0, largest_stiffness);
    check_number("contact_length_mm", w.id, w.contact_length_mm, "mm", 0, largest_position_mm);
    check_number("section_radius_mm", w.id, w.section_radius_mm, "mm", 0, w.radius_mm);
    check_number("camber_deg", w.id, w.camber_deg, "deg", -30, 30);
    check_number("camber_thrust_per_deg", w.id, w.camber_thrust_per_deg, "1/deg", 0, 0.1);
    if (!w.torque_node.empty()) need_node(names, w.torque_node, w.id);
  }
  std::set<std::string> seconds;
  for (const Hinge& h : frame.hinges) seconds.insert(h.second);
  for (const Support& s : frame.supports) {
    need_node(names, s.node, "support");
    if (seconds.contains(s.node)) throw Fault{Message{"frame.support-on-hinge", {text("node", s.node)}}};
  }
}

}  // namespace

void check_number(const char* what, const std::string& of, double value, const char* unit, double min,
                  double max) {
  if (!(value >= min && value <= max))
    throw Fault{Message{"frame.bad-number",
                        {text("what", what), text("id", of), number("value", value, unit),
                         number("min", min, unit), number("max", max, unit)}}};
}

Names check_parts(const Frame& frame) {
  if (frame.nodes.empty() || frame.members.empty()) throw Fault{Message{"frame.empty", {}}};
  Names names;
  names.materials = places(frame.materials, "material");
  names.tubes = places(frame.tubes, "tube");
  names.nodes = places(frame.nodes, "node");
  places(frame.members, "member");
  places(frame.hinges, "hinge");
  places(frame.dampers, "damper");
  places(frame.masses, "mass");
  places(frame.sprung_masses, "sprung mass");
  places(frame.wheels, "wheel");
  for (const Node& n : frame.nodes)
    check_vector("position_mm", n.id, n.position_mm, "mm", largest_position_mm);
  check_materials(frame);
  check_members(frame, names);
  check_hinges(frame, names);
  check_dampers(frame, names);
  check_masses(frame, names);
  check_ground(frame, names);
  return names;
}

}  // namespace seamwright::frame
