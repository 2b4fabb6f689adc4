// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/quadrature.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape {

namespace {

struct Node {
  double at, weight;  // on -1 to 1
};
// Gauss and Legendre, four points.
constexpr std::array<Node, 4> gauss{{{-0.8611363115940526, 0.3478548451374538},
                                     {-0.3399810435848563, 0.6521451548625461},
                                     {0.3399810435848563, 0.6521451548625461},
                                     {0.8611363115940526, 0.3478548451374538}}};
constexpr int angles = 720;
// A tool that ends within the wall, in a solid bar or along a tube as the bore of a seat does: the rule is laid over narrow panels.
constexpr int panels_of_wall = 1, narrow_panels = 16;

bool ends_in_wall(const Cut& cut, const Stretch& s) {
  const auto* tool = std::get_if<Stretch>(&cut.tool);
  return tool && std::abs(along(*tool).dot(along(s))) > 0.999;
}

int panels_of(const Part& part, const Stretch& s) {
  if (!(bore_radius_mm(s.section) > 0)) return narrow_panels;
  return std::any_of(part.cuts.begin(), part.cuts.end(), [&](const Cut& c) { return ends_in_wall(c, s); }) ? narrow_panels : panels_of_wall;
}

bool is_round(const frame::Section& s) {
  return std::holds_alternative<frame::RoundTube>(s) || std::holds_alternative<frame::SolidBar>(s);
}

struct Moments {
  double volume = 0;
  Vec3 first = Vec3::Zero();
  Eigen::Matrix3d second = Eigen::Matrix3d::Zero();  // of x x^T, about the reference point

  // A straight fibre of this section area between two points.
  void add(double area, const Vec3& from, const Vec3& to) {
    const double length = (to - from).norm(), mass = area * length;
    const Vec3 middle = (from + to) / 2, step = to - from;
    volume += mass;
    first += mass * middle;
    second += mass * (middle * middle.transpose() + step * step.transpose() / 12);
  }
};

Quantities about_centre(const Moments& m, const Vec3& reference) {
  Quantities q;
  q.volume_mm3 = m.volume;
  if (!(m.volume > 0)) return q;
  const Vec3 centre = m.first / m.volume;
  const Eigen::Matrix3d second = m.second - m.volume * centre * centre.transpose();
  q.inertia_mm5 = second.trace() * Eigen::Matrix3d::Identity() - second;
  q.centre_mm = reference + centre;
  return q;
}

Vec3 at_fibre(const Stretch& s, double radius, double angle) {
  return s.from + radius * (std::cos(angle) * s.up + std::sin(angle) * across(s));
}

// Fibres at one radius, so thick.
void add_ring(const Part& part, std::size_t stretch, double radius, double thickness, const Vec3& reference,
              Moments& moments) {
  const Stretch& s = std::get<Hollow>(part.body).stretches[stretch];
  const Vec3 axis = along(s);
  const double area = radius * thickness * 2 * std::numbers::pi / angles;
  for (int i = 0; i < angles; ++i) {
    const double angle = 2 * std::numbers::pi * (i + 0.5) / angles;
    const Vec3 start = at_fibre(s, radius, angle) - reference;
    for (const Interval& left : fibre_of(part, stretch, radius, angle))
      moments.add(area, start + left.from_mm * axis, start + left.to_mm * axis);
  }
}

}  // namespace

std::vector<Interval> fibre_of(const Part& part, std::size_t stretch, double radius, double angle) {
  const std::vector<Stretch>& all = std::get<Hollow>(part.body).stretches;
  const Line line{at_fibre(all[stretch], radius, angle), along(all[stretch])};
  return kept(line, between_mitres(line, all, stretch), part.cuts);
}

std::optional<Quantities> quadrature(const Part& part) {
  const auto* hollow = std::get_if<Hollow>(&part.body);
  if (!hollow) return {};
  Moments moments;
  const Vec3 reference = hollow->stretches.at(0).from;
  for (std::size_t k = 0; k < hollow->stretches.size(); ++k) {
    const Stretch& s = hollow->stretches[k];
    if (!is_round(s.section)) return {};
    const double outer = outer_radius_mm(s.section), bore = bore_radius_mm(s.section);
    const int panels = panels_of(part, s);
    const double half = (outer - bore) / 2 / panels;
    for (int p = 0; p < panels; ++p)
      for (const Node& node : gauss)
        add_ring(part, k, bore + half * (2 * p + 1 + node.at), half * node.weight, reference, moments);
  }
  return about_centre(moments, reference);
}

}  // namespace seamwright::shape
