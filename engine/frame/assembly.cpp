// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/assembly.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/frame/bodies.h"
#include "engine/frame/check.h"
#include "engine/frame/constrain.h"
#include "engine/frame/element.h"

namespace seamwright::frame {
namespace {

// These factors convert the units of the drawing to N, mm, s, tonne, MPa.
constexpr double tonne_per_kg = 1e-3;
constexpr double t_mm2_per_kg_m2 = 1e3;
constexpr double t_mm3_per_kg_m3 = 1e-12;
constexpr double n_s_mm_per_n_s_m = 1e-3;
constexpr double gravity_mm_s2 = 9806.65;

/// The frame, its names and what is being gathered from it.
struct Build {
  const Frame& frame;
  const Names& names;
  Assembly& assembly;
  Parts parts;
  Relations relations;

  std::size_t node(const std::string& id) const { return names.nodes.at(id); }
  const Vec3& position_of_node(const std::string& id) const { return frame.nodes[node(id)].position_mm; }
};

/// An element's flexible part starts and ends here, seen from its nodes.
struct Span {
  Vec3 along{0, 0, 0};
  Vec3 first_arm{0, 0, 0}, second_arm{0, 0, 0};
  double length_mm = 0;
};

// The node at which a segment of a member begins or ends: its own, or an end of a joint's body.
struct SegmentEnd {
  std::size_t node = 0;
  bool at_body = false;
};

SegmentEnd segment_end(const Build& b, const Member& m, std::size_t k, bool at_start) {
  for (const JointBody& body : b.frame.bodies)
    for (const JointBody::End& e : body.ends)
      if (e.member == m.id && e.segment == k && e.at_start == at_start) return {b.node(e.node), true};
  return {b.node(m.nodes[at_start ? k : k + 1]), false};
}

bool is_within(const Frame& frame, const Member& m, std::size_t k) {
  for (const JointBody& body : frame.bodies)
    for (const JointBody::Segment& s : body.within)
      if (s.member == m.id && s.segment == k) return true;
  return false;
}

Span span_of(const Build& b, const Member& m, std::size_t k, const SegmentEnd& first, const SegmentEnd& last) {
  const bool is_first = k == 0 && !first.at_body, is_last = k + 2 == m.nodes.size() && !last.at_body;
  Span s;
  if (is_first) s.first_arm = m.start_offset_mm;
  if (is_last) s.second_arm = m.end_offset_mm;
  const Vec3 axis = b.frame.nodes[last.node].position_mm + s.second_arm - b.frame.nodes[first.node].position_mm - s.first_arm;
  const double whole = axis.norm();
  if (!(whole > same_place_mm))
    throw Fault{Message{"frame.zero-length",
                        {text("member", m.id), text("first", m.nodes[k]), text("second", m.nodes[k + 1])}}};
  s.along = axis / whole;
  const double start_cut = is_first ? m.start_cut_mm : 0, end_cut = is_last ? m.end_cut_mm : 0;
  s.length_mm = whole - start_cut - end_cut;
  if (!(s.length_mm > same_place_mm))
    throw Fault{Message{
        "frame.cut-too-long",
        {text("member", m.id), number("length", whole, "mm"), number("cuts", start_cut + end_cut, "mm")}}};
  s.first_arm += start_cut * s.along;
  s.second_arm -= end_cut * s.along;
  return s;
}

// A spring between element and node at each end: what the node sees is (1 + K C)^-1 K.
Matrix12 with_flexible_ends(const Matrix12& k, const Member& m, bool first, bool last,
                            const Eigen::Matrix3d& axes) {
  Matrix12 c = Matrix12::Zero();
  Eigen::Matrix<double, 6, 6> turn = Eigen::Matrix<double, 6, 6>::Zero();
  turn.topLeftCorner<3, 3>() = turn.bottomRightCorner<3, 3>() = axes;
  if (first) c.topLeftCorner<6, 6>() = turn * m.start_flexibility * turn.transpose();
  if (last) c.bottomRightCorner<6, 6>() = turn * m.end_flexibility * turn.transpose();
  if (c.isZero(0)) return k;
  const Matrix12 seen = (Matrix12::Identity() + k * c).partialPivLu().solve(k);
  return 0.5 * (seen + seen.transpose());
}

// A member's rigid cut and offset at one end of a segment; none within the member.
struct OwnEnd {
  double cut_mm = 0;
  Vec3 offset_mm{0, 0, 0};
};

OwnEnd own_end(const Member& m, std::size_t k, bool at_start) {
  if (at_start) return k == 0 ? OwnEnd{m.start_cut_mm, m.start_offset_mm} : OwnEnd{};
  return k + 2 == m.nodes.size() ? OwnEnd{m.end_cut_mm, m.end_offset_mm} : OwnEnd{};
}

// How much of the beam, as it would be without the body, lies in it.
double beam_in_body(const Build& b, const Member& m, std::size_t k, bool at_start, const Vec3& sawn, const Vec3& along) {
  const OwnEnd own = own_end(m, k, at_start);
  const Vec3 begin = b.position_of_node(m.nodes[at_start ? k : k + 1]) + own.offset_mm;
  return (at_start ? 1 : -1) * (sawn - begin).dot(along) - own.cut_mm;
}

Matrix12 mass_of(const Element& e, const ElementData& data) {
  return e.to_local.transpose() * element_mass(data) * e.to_local;
}

void add_element(Build& b, std::size_t member, std::size_t k, ElementData data) {
  const Member& m = b.frame.members[member];
  const SegmentEnd first = segment_end(b, m, k, true), last = segment_end(b, m, k, false);
  const Span span = span_of(b, m, k, first, last);
  const auto axes = local_axes(span.along, m.up);
  if (!axes) throw Fault{Message{"frame.up-along-axis", {text("member", m.id)}}};
  data.length_mm = span.length_mm;
  Element e;
  e.id = m.nodes.size() == 2 ? m.id : m.id + "/" + std::to_string(k + 1);
  e.member = member;
  e.first = first.node;
  e.second = last.node;
  e.axes = *axes;
  e.length_mm = span.length_mm;
  e.begins_mm = b.frame.nodes[e.first].position_mm + span.first_arm;
  e.ends_mm = b.frame.nodes[e.second].position_mm + span.second_arm;
  e.before_mm = first.at_body ? beam_in_body(b, m, k, true, e.begins_mm, span.along) : 0;
  e.after_mm = last.at_body ? beam_in_body(b, m, k, false, e.ends_mm, span.along) : 0;
  e.section = data.section;
  e.within_body = is_within(b.frame, m, k);
  e.stiffness = e.within_body ? Matrix12::Zero()
                              : with_flexible_ends(element_stiffness(data), m, k == 0 && !first.at_body,
                                                   k + 2 == m.nodes.size() && !last.at_body, *axes);
  e.to_local = to_local_ends(*axes, span.first_arm, span.second_arm);
  const auto dofs = node_dofs({e.first, e.second});
  if (!e.within_body) add_block(b.parts.stiffness, dofs, e.to_local.transpose() * e.stiffness * e.to_local);
  add_block(b.parts.mass, dofs, mass_of(e, data));
  if (!m.axial_only) b.relations.turned[e.first] = b.relations.turned[e.second] = true;
  b.assembly.elements.push_back(std::move(e));
}

std::vector<ElementData> data_of_tubes(const Build& b) {
  std::vector<ElementData> of_tube;
  for (const Tube& t : b.frame.tubes) {
    const Material& material = b.frame.materials[b.names.materials.at(t.material)];
    ElementData data;
    data.section = section_properties(t.section, material.poisson).properties;
    data.youngs_mpa = material.youngs_mpa;
    data.poisson = material.poisson;
    data.density_t_mm3 = material.density_kg_m3 * t_mm3_per_kg_m3;
    of_tube.push_back(data);
  }
  return of_tube;
}

void add_members(Build& b) {
  const std::vector<ElementData> of_tube = data_of_tubes(b);
  for (std::size_t i = 0; i < b.frame.members.size(); ++i) {
    const Member& m = b.frame.members[i];
    ElementData data = of_tube[b.names.tubes.at(m.tube)];
    data.axial_only = m.axial_only;
    for (std::size_t k = 0; k + 1 < m.nodes.size(); ++k) add_element(b, i, k, data);
  }
}

// The mass of a member between its node in a joint's body and the end of that: a beam's.
void add_stub_mass(Build& b, const JointBody::End& end, const std::vector<ElementData>& of_tube) {
  const auto member = std::find_if(b.frame.members.begin(), b.frame.members.end(), [&](const Member& m) { return m.id == end.member; });
  if (member == b.frame.members.end()) throw Fault{Message{"rating.unknown-member", {text("member", end.member)}}};
  const Member& m = *member;
  const std::size_t node = b.node(m.nodes[end.at_start ? end.segment : end.segment + 1]), sawn = b.node(end.node);
  const OwnEnd own = own_end(m, end.segment, end.at_start);
  const Vec3 way = b.frame.nodes[sawn].position_mm - b.frame.nodes[node].position_mm - own.offset_mm;
  const double length = way.norm() - own.cut_mm;
  if (!(length > same_place_mm)) return;
  const auto axes = local_axes(way, m.up);
  if (!axes) throw Fault{Message{"frame.up-along-axis", {text("member", m.id)}}};
  ElementData data = of_tube[b.names.tubes.at(m.tube)];
  data.length_mm = length;
  const Matrix12 to_local = to_local_ends(*axes, own.offset_mm + own.cut_mm * way.normalized(), Vec3::Zero());
  add_block(b.parts.mass, node_dofs({node, sawn}), to_local.transpose() * element_mass(data) * to_local);
}

void add_bodies(Build& b) {
  const std::vector<ElementData> of_tube = data_of_tubes(b);
  Eigen::Index row = 12 * static_cast<Eigen::Index>(b.assembly.elements.size());
  for (const JointBody& body : b.frame.bodies) {
    BodyForces forces;
    forces.first_row = row;
    for (const JointBody::End& e : body.ends) forces.nodes.push_back(b.node(e.node));
    for (const std::string& n : body.nodes) forces.nodes.push_back(b.node(n));
    const auto size = static_cast<Eigen::Index>(6 * forces.nodes.size());
    for (const Eigen::Index side : {body.stiffness.rows(), body.stiffness.cols()})
      check_number("stiffness", body.id, static_cast<double>(side), "", static_cast<double>(size), static_cast<double>(size));
    check_number("stiffness", body.id, body.stiffness.sum(), "N/mm", -1e15, 1e15);  // no NaN in it
    Eigen::MatrixXd turn = Eigen::MatrixXd::Zero(size, size);
    const double handed = body.axes.determinant();  // moments are axial vectors
    for (Eigen::Index i = 0; i < size; i += 6) {
      turn.block<3, 3>(i, i) = body.axes;
      turn.block<3, 3>(i + 3, i + 3) = handed * body.axes;
    }
    forces.from_motion = body.stiffness * turn;
    add_block(b.parts.stiffness, node_dofs(forces.nodes), turn.transpose() * forces.from_motion);
    for (const std::size_t n : forces.nodes) b.relations.turned[n] = true;
    for (const JointBody::End& e : body.ends) add_stub_mass(b, e, of_tube);
    row += size;
    b.assembly.bodies.push_back(std::move(forces));
  }
}

void add_masses(Build& b) {
  for (const Mass& m : b.frame.masses) {
    std::vector<std::size_t> nodes;
    std::vector<Eigen::Vector3d> carriers;
    for (const std::string& id : m.nodes) {
      nodes.push_back(b.node(id));
      carriers.push_back(b.position_of_node(id));
    }
    const Eigen::MatrixXd motion = carried_motion(m.position_mm, carriers);
    if (motion.cols() == 0)
      throw Fault{Message{"frame.mass-carriers",
                          {text("mass", m.id), number("count", static_cast<double>(nodes.size()), "")}}};
    add_body(b.parts, {m.mass_kg * tonne_per_kg, m.inertia_kg_m2 * t_mm2_per_kg_m2, m.position_mm}, motion,
             nodes);
    if (nodes.size() == 1) b.relations.turned[nodes.front()] = true;
  }
}

/// Unit axes of the sprung directions; they must be square to each other.
std::vector<Vec3> sprung_axes(const SprungMass& m) {
  std::vector<Vec3> axes;
  for (const SprungMass::Direction& d : m.sprung) {
    const Vec3 axis = d.axis.normalized();
    for (const Vec3& other : axes)
      if (!(std::abs(axis.dot(other)) < 1e-6))
        throw Fault{Message{"frame.sprung-axes", {text("mass", m.id)}}};
    axes.push_back(axis);
  }
  return axes;
}

void add_sprung_mass(Build& b, const SprungMass& m, std::vector<double>& own_rise) {
  const std::size_t node = b.node(m.node);
  const Vec3 arm = m.position_mm - b.position_of_node(m.node);
  const double mass = m.mass_kg * tonne_per_kg;
  const std::vector<Vec3> axes = sprung_axes(m);
  Eigen::Matrix3d rigid = Eigen::Matrix3d::Identity();
  for (std::size_t i = 0; i < axes.size(); ++i) {
    rigid -= axes[i] * axes[i].transpose();
    const Eigen::Index own =
        6 * static_cast<Eigen::Index>(b.frame.nodes.size()) + static_cast<Eigen::Index>(own_rise.size());
    const double omega = 2 * std::numbers::pi * m.sprung[i].frequency_hz;
    SparseRow stretch = carried_direction(node, arm, -axes[i]);
    stretch.dofs.push_back(own);
    stretch.values.push_back(1);
    add_outer(b.parts.stiffness, mass * omega * omega, stretch);
    add_dashpot(b.parts, 2 * m.sprung[i].damping_ratio * mass * omega, stretch);
    b.parts.mass.emplace_back(own, own, mass);
    own_rise.push_back(axes[i].z());
  }
  const Eigen::MatrixXd point = carried_motion(m.position_mm, {b.position_of_node(m.node)}).topRows(3);
  add_block(b.parts.mass, node_dofs({node}), mass * point.transpose() * rigid * point);
  b.relations.turned[node] = true;
}

void add_dampers(Build& b) {
  for (const Damper& d : b.frame.dampers) {
    const Vec3 line = b.position_of_node(d.second) - b.position_of_node(d.first);
    if (!(line.norm() > same_place_mm)) throw Fault{Message{"frame.damper-length", {text("damper", d.id)}}};
    const Vec3 along = line.normalized();
    SparseRow row = carried_direction(b.node(d.second), Vec3::Zero(), along);
    const SparseRow other = carried_direction(b.node(d.first), Vec3::Zero(), -along);
    row.dofs.insert(row.dofs.end(), other.dofs.begin(), other.dofs.end());
    row.values.insert(row.values.end(), other.values.begin(), other.values.end());
    add_dashpot(b.parts, d.damping_n_s_m * n_s_mm_per_n_s_m, row);
  }
}

void add_wheels(Build& b) {
  Assembly& a = b.assembly;
  const auto count = static_cast<Eigen::Index>(b.frame.wheels.size());
  if (count == 0) throw Fault{Message{"frame.no-wheel", {}}};
  a.tyre_radial = Eigen::MatrixXd::Zero(a.full_size, count);
  a.tyre_stiffness.resize(count);
  a.tyre_damping.resize(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const Wheel& w = b.frame.wheels[static_cast<std::size_t>(i)];
    const std::size_t node = b.node(w.node);
    const Vec3 to_contact = contact_arm_mm(w);
    const SparseRow radial = carried_direction(node, to_contact, Vec3::UnitZ());
    for (std::size_t j = 0; j < radial.dofs.size(); ++j) a.tyre_radial(radial.dofs[j], i) = radial.values[j];
    a.tyre_stiffness[i] = w.radial_n_mm;
    a.tyre_damping[i] = w.damping_n_s_m * n_s_mm_per_n_s_m;
    add_outer(b.parts.stiffness, a.tyre_stiffness[i], radial);
    add_dashpot(b.parts, a.tyre_damping[i], radial);
    const double heading = w.heading_deg * degree;
    const auto sideways = carried_direction(node, to_contact, {-std::sin(heading), std::cos(heading), 0});
    add_outer(b.parts.stiffness, w.lateral_n_mm, sideways);
    add_dashpot(b.parts, w.lateral_damping_n_s_m * n_s_mm_per_n_s_m, sideways);
    b.relations.turned[node] = true;
    a.wheel_ids.push_back(w.id);
    a.wheel_nodes.push_back(node);
  }
}

SparseMatrix sparse_of(const Triplets& terms, Eigen::Index size) {
  SparseMatrix m(size, size);
  m.setFromTriplets(terms.begin(), terms.end());
  return m;
}

void add_damping(Assembly& a, const std::vector<Dashpot>& dashpots) {
  Triplets terms;
  Eigen::VectorXd rates(static_cast<Eigen::Index>(dashpots.size()));
  for (Eigen::Index k = 0; k < rates.size(); ++k) {
    const Dashpot& d = dashpots[static_cast<std::size_t>(k)];
    rates[k] = d.rate;
    for (std::size_t i = 0; i < d.row.dofs.size(); ++i) terms.emplace_back(d.row.dofs[i], k, d.row.values[i]);
  }
  a.dampers.resize(a.full_size, rates.size());
  a.dampers.setFromTriplets(terms.begin(), terms.end());
  a.damping = a.dampers * rates.asDiagonal() * a.dampers.transpose();
}

void add_relations(Build& b, Footing on) {
  for (const Hinge& h : b.frame.hinges)
    b.relations.hinges.push_back({h.id, b.node(h.first), b.node(h.second), h.axis.normalized()});
  if (on != Footing::supports) return;
  for (const Support& s : b.frame.supports)
    for (std::size_t i = 0; i < 6; ++i)
      if (s.fixed[i]) b.relations.fixed[b.node(s.node)][i] = true;
}

}  // namespace

Assembly assemble(const Frame& frame, Footing on) {
  const Names names = check_parts(frame);
  check_connected(frame, names);
  Assembly a;
  Build b{frame, names, a, {}, {}};
  a.on = on;
  a.node_index = names.nodes;
  Eigen::AlignedBox3d box;
  for (const Node& n : frame.nodes) {
    a.node_ids.push_back(n.id);
    box.extend(n.position_mm);
  }
  a.extent_mm = box.diagonal().norm();
  const std::size_t nodes = frame.nodes.size();
  b.relations.nodes = nodes;
  b.relations.fixed.resize(nodes);
  b.relations.turned.resize(nodes);
  add_members(b);
  add_bodies(b);
  add_masses(b);
  std::vector<double> own_rise;
  for (const SprungMass& m : frame.sprung_masses) add_sprung_mass(b, m, own_rise);
  b.relations.sprung = static_cast<Eigen::Index>(own_rise.size());
  a.full_size = 6 * static_cast<Eigen::Index>(nodes) + b.relations.sprung;
  a.rise = Eigen::VectorXd::Zero(a.full_size);
  for (Eigen::Index i = 0; i < static_cast<Eigen::Index>(nodes); ++i) a.rise[6 * i + 2] = 1;
  for (std::size_t i = 0; i < own_rise.size(); ++i)
    a.rise[static_cast<Eigen::Index>(6 * nodes + i)] = own_rise[i];
  add_dampers(b);
  if (on == Footing::tyres) add_wheels(b);
  a.stiffness = sparse_of(b.parts.stiffness, a.full_size);
  a.mass = sparse_of(b.parts.mass, a.full_size);
  add_damping(a, b.parts.dashpots);
  add_relations(b, on);
  constrain(a, b.relations);
  return a;
}

Eigen::VectorXd gravity_load(const Assembly& assembly) {
  return -gravity_mm_s2 * (assembly.mass * assembly.rise);
}

Eigen::VectorXd case_load(const Assembly& assembly, const LoadCase& load_case) {
  constexpr double largest_load = 1e12;
  check_number("gravity_factor", load_case.id, load_case.gravity_factor, "", -1e6, 1e6);
  Eigen::VectorXd load = load_case.gravity_factor * gravity_load(assembly);
  Eigen::VectorXd reach = Eigen::VectorXd::Zero(assembly.full_size);
  for (const SparseMatrix* m : {&assembly.expand, &assembly.held})
    for (Eigen::Index k = 0; k < m->outerSize(); ++k)
      for (SparseMatrix::InnerIterator it(*m, k); it; ++it) reach[it.row()] += std::abs(it.value());
  for (const NodeLoad& l : load_case.loads) {
    const auto at = assembly.node_index.find(l.node);
    if (at == assembly.node_index.end())
      throw Fault{Message{"frame.unknown-node", {text("node", l.node), text("user", load_case.id)}}};
    const auto first = 6 * static_cast<Eigen::Index>(at->second);
    for (Eigen::Index i = 0; i < 6; ++i) {
      const double v = i < 3 ? l.force_n[i] : l.moment_nmm[i - 3];
      check_number(i < 3 ? "force_n" : "moment_nmm", load_case.id, v, i < 3 ? "N" : "N mm", -largest_load,
                   largest_load);
      if (v != 0 && reach[first + i] == 0)
        throw Fault{Message{"frame.load-on-nothing", {text("node", l.node), text("case", load_case.id)}}};
      load[first + i] += v;
    }
  }
  return load;
}

Vector12 section_forces(const Element& e, const Eigen::VectorXd& u) {
  Vector12 ends;
  ends << u.segment<6>(6 * static_cast<Eigen::Index>(e.first)),
      u.segment<6>(6 * static_cast<Eigen::Index>(e.second));
  Vector12 forces = e.stiffness * (e.to_local * ends);
  forces.head<6>() *= -1;
  return forces;
}

Eigen::Index section_force_count(const Assembly& a) {
  if (a.bodies.empty()) return 12 * static_cast<Eigen::Index>(a.elements.size());
  return a.bodies.back().first_row + a.bodies.back().from_motion.rows();
}

SparseMatrix section_force_map(const Assembly& assembly) {
  Triplets terms;
  for (std::size_t i = 0; i < assembly.elements.size(); ++i) {
    const Element& e = assembly.elements[i];
    Matrix12 block = e.stiffness * e.to_local;
    block.topRows<6>() *= -1;
    const auto dofs = node_dofs({e.first, e.second});
    for (Eigen::Index r = 0; r < 12; ++r)
      for (Eigen::Index c = 0; c < 12; ++c)
        if (block(r, c) != 0)
          terms.emplace_back(12 * static_cast<Eigen::Index>(i) + r, dofs[static_cast<std::size_t>(c)],
                             block(r, c));
  }
  for (const BodyForces& body : assembly.bodies) {
    const auto dofs = node_dofs(body.nodes);
    for (Eigen::Index r = 0; r < body.from_motion.rows(); ++r)
      for (Eigen::Index c = 0; c < body.from_motion.cols(); ++c)
        if (body.from_motion(r, c) != 0) terms.emplace_back(body.first_row + r, dofs[static_cast<std::size_t>(c)], body.from_motion(r, c));
  }
  SparseMatrix map(section_force_count(assembly), assembly.full_size);
  map.setFromTriplets(terms.begin(), terms.end());
  return map;
}

}  // namespace seamwright::frame
