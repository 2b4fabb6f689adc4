// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/sections.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/shape/pieces.h"

namespace seamwright::solid {

namespace {

// A section as a line in the plane square to the seam: it begins at `edge` and leads over `length` along `inward`; `out` is the normal
// that leads out of the elements on which the forces act.
struct Line {
  Vec3 edge, inward, out;
  double length = 0;
  Vec3 middle() const { return edge + length / 2 * inward; }
};

Line throat_line(const SeamSection& s) {
  const Vec3 face = (s.chord_toe - s.brace_toe).normalized();
  const Vec3 foot = s.brace_toe + (s.root - s.brace_toe).dot(face) * face;
  Line line{s.root, (foot - s.root).normalized(), face, (foot - s.root).norm()};
  line.out = (line.out - line.out.dot(line.inward) * line.inward).normalized();
  return line;
}

Line line_of(const SeamBody& seam, SectionKind kind, const SeamSection& s) {
  switch (kind) {
    case SectionKind::throat:
      return throat_line(s);
    case SectionKind::brace_leg: {
      const Vec3 leg = s.brace_toe - s.root, along = leg.normalized();
      return {s.root, along, (s.brace_normal - s.brace_normal.dot(along) * along).normalized(), leg.norm()};
    }
    case SectionKind::chord_leg: {
      const Vec3 leg = s.chord_toe - s.root, along = leg.normalized();
      return {s.root, along, -(s.chord_normal - s.chord_normal.dot(along) * along).normalized(), leg.norm()};
    }
    case SectionKind::brace_wall:
      return {s.brace_toe, -normal_of(seam.brace, s.brace_toe), -s.up_brace, shape::thickness_mm(seam.brace.section)};
    case SectionKind::chord_wall:
      break;
  }
  const Vec3 normal = normal_of(seam.chord, s.chord_toe);
  return {s.chord_toe, -normal, -(s.along_chord - s.along_chord.dot(normal) * normal).normalized(), shape::thickness_mm(seam.chord.section)};
}

std::vector<Line> lines_of(const SeamBody& seam, SectionKind kind) {
  std::vector<Line> lines;
  for (const SeamSection& s : seam.path.sections()) lines.push_back(line_of(seam, kind, s));
  return lines;
}

// A place belongs to the section whose own line is nearest. The nearest root will not do: above the brace's toe the sections lean
// along the root towards its saddle, and a fifth of the force there would go to its neighbours.
std::size_t nearest_line(const std::vector<Line>& lines, const Vec3& place) {
  const auto distance = [&](const Line& l) {
    const double along = std::clamp((place - l.edge).dot(l.inward), 0.0, l.length);
    return (l.edge + along * l.inward - place).squaredNorm();
  };
  const auto nearer = [&](const Line& a, const Line& b) { return distance(a) < distance(b); };
  return static_cast<std::size_t>(std::min_element(lines.begin(), lines.end(), nearer) - lines.begin());
}

Vec3 centre_of(const TetMesh& mesh, const Tet& t) {
  return (mesh.nodes.col(t[0]) + mesh.nodes.col(t[1]) + mesh.nodes.col(t[2]) + mesh.nodes.col(t[3])) / 4;
}

// Both sides of the cut near the seam: first the elements on which the forces act. The cut follows the faces of elements; what it
// misses of the plane section is without load.
struct Cut {
  std::vector<bool> acted, other;
};

Cut cut_of(const SeamBody& seam, SectionKind kind, const std::vector<Line>& lines) {
  const TetMesh& mesh = seam.body.mesh;
  Cut cut{std::vector<bool>(mesh.tets.size(), false), std::vector<bool>(mesh.tets.size(), false)};
  const bool of_wall = kind == SectionKind::brace_wall || kind == SectionKind::chord_wall;
  const std::vector<bool>& wall = kind == SectionKind::brace_wall ? seam.on_brace : seam.on_chord;
  const double reach = seam.path.greatest_leg_mm() + 4 * std::max(shape::thickness_mm(seam.brace.section), shape::thickness_mm(seam.chord.section));
  for (std::size_t t = 0; t < mesh.tets.size(); ++t) {
    if (!seam.on_brace[t] && !seam.on_chord[t] && !seam.metal[t]) continue;
    const Vec3 centre = centre_of(mesh, mesh.tets[t]);
    if ((centre - seam.path.sections()[seam.path.nearest(centre)].root).norm() > reach) continue;
    if (of_wall) {
      if (!wall[t]) {
        // Weld metal gives forces to elements of the wall that reach back behind the toe: they belong to the section.
        cut.other[t] = seam.metal[t];
        continue;
      }
      const Line& line = lines[nearest_line(lines, centre)];
      const bool beyond = (centre - line.edge).dot(line.out) < 0;
      (beyond ? cut.acted : cut.other)[t] = true;
      continue;
    }
    bool acted = seam.on_brace[t];
    if (seam.metal[t] && kind == SectionKind::chord_leg) acted = true;
    if (seam.metal[t] && kind == SectionKind::throat) {
      const Line& line = lines[nearest_line(lines, centre)];
      acted = (centre - line.edge).dot(line.out) < 0;
    }
    (acted ? cut.acted : cut.other)[t] = true;
  }
  return cut;
}

std::vector<int> nodes_between(const TetMesh& mesh, const Cut& cut) {
  std::vector<char> sides(static_cast<std::size_t>(mesh.nodes.cols()), 0);
  for (std::size_t t = 0; t < mesh.tets.size(); ++t)
    for (const int n : mesh.tets[t]) sides[static_cast<std::size_t>(n)] |= static_cast<char>((cut.acted[t] ? 1 : 0) | (cut.other[t] ? 2 : 0));
  std::vector<int> nodes;
  for (std::size_t n = 0; n < sides.size(); ++n)
    if (sides[n] == 3) nodes.push_back(static_cast<int>(n));
  return nodes;
}

double turn_between(double a, double b) { return std::abs(std::remainder(a - b, 2 * std::numbers::pi)); }

}  // namespace

double hat_of(const SeamBody& seam) {
  const double radius = shape::outer_radius_mm(seam.brace.section);
  return std::min(std::max(7.5 * std::numbers::pi / 180, 2 * seam.size_mm / radius), std::numbers::pi / 8);
}

std::vector<SectionStress> sections_around(const SeamBody& seam, SectionKind kind, int places) {
  const TetMesh& mesh = seam.body.mesh;
  const std::vector<Line> lines = lines_of(seam, kind);
  const Cut cut = cut_of(seam, kind, lines);
  const std::vector<int> nodes = nodes_between(mesh, cut);
  const Eigen::MatrixXd forces = nodal_forces(seam.body, cut.acted, nodes, seam.answers.moved);
  const std::vector<SeamSection>& all = seam.path.sections();
  std::vector<std::size_t> own;  // section of each node
  for (const int n : nodes) own.push_back(nearest_line(lines, mesh.nodes.col(n)));
  const double hat = hat_of(seam);

  std::vector<SectionStress> out;
  for (int k = 0; k < places; ++k) {
    const SeamSection& here = seam.path.section_at(2 * std::numbers::pi * k / places);
    const Line line = line_of(seam, kind, here);
    Eigen::Matrix<double, 3, Eigen::Dynamic> force = Eigen::MatrixXd::Zero(3, forces.cols()), moment = force;
    double width = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const double weight = 1 - turn_between(all[i].angle_rad, here.angle_rad) / hat;
      if (weight <= 0) continue;
      const Vec3 before = lines[(i + all.size() - 1) % all.size()].middle(), after = lines[(i + 1) % all.size()].middle();
      width += weight * (after - before).norm() / 2;
    }
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      const double weight = 1 - turn_between(all[own[i]].angle_rad, here.angle_rad) / hat;
      if (weight <= 0) continue;
      // Each force about the middle of its own section, turned with it: the seam is curved.
      const Line& own_line = lines[own[i]];
      const auto f = forces.middleRows<3>(3 * static_cast<Eigen::Index>(i));
      Eigen::Matrix3d turned, fixed;
      turned << own_line.out, own_line.inward, own_line.out.cross(own_line.inward);
      fixed << line.out, line.inward, line.out.cross(line.inward);
      const Eigen::Matrix3d turn = fixed * turned.transpose();
      const Vec3 arm = mesh.nodes.col(nodes[i]) - own_line.middle();
      force += weight * (turn * f);
      for (Eigen::Index c = 0; c < f.cols(); ++c) moment.col(c) += weight * (turn * arm.cross(Vec3(f.col(c))));
    }
    SectionStress s;
    s.length_mm = line.length;
    const Vec3 around = line.inward.cross(line.out);
    s.membrane = line.out.transpose() * force / (width * line.length);
    s.bending = -6 * around.transpose() * moment / (width * line.length * line.length);
    s.across = line.inward.transpose() * force / (width * line.length);
    s.along = around.transpose() * force / (width * line.length);
    out.push_back(std::move(s));
  }
  return out;
}

}  // namespace seamwright::solid
