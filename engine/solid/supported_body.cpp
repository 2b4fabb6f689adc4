// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/supported_body.h"

#include <Eigen/Dense>
#include <algorithm>
#include <stdexcept>

#include "engine/frame/element.h"

namespace seamwright::solid {

namespace {

using Matrix6X = Eigen::Matrix<double, 6, Eigen::Dynamic>;
using Matrix36 = Eigen::Matrix<double, 3, 6>;

// Motion of a point at this arm per motion of the rigid body: u + theta x arm.
Matrix36 rigid_motion(const Vec3& arm) {
  Matrix36 m;
  m << Eigen::Matrix3d::Identity(), -frame::cross_matrix(arm);
  return m;
}

// The unknowns: three of each free node, six of each end but the first.
struct Unknowns {
  struct Group {
    Eigen::Index first = -1;  // -1: held
    int size = 3;
  };
  std::vector<Group> groups;
  std::vector<int> of_node;
  Eigen::Index count = 0;

  explicit Unknowns(const SupportedBody& body) : of_node(static_cast<std::size_t>(body.mesh.nodes.cols()), -1) {
    for (std::size_t e = 0; e < body.ends.size(); ++e) {
      if (body.ends[e].nodes.size() < 3) throw std::runtime_error("an end without nodes");
      for (const int n : body.ends[e].nodes) of_node[static_cast<std::size_t>(n)] = static_cast<int>(e);
      groups.push_back({e == 0 ? -1 : count, 6});
      if (e > 0) count += 6;
    }
    for (int& g : of_node)
      if (g < 0) {
        g = static_cast<int>(groups.size());
        groups.push_back({count, 3});
        count += 3;
      }
  }
  const Group& group_of(int node) const { return groups[static_cast<std::size_t>(of_node[static_cast<std::size_t>(node)])]; }
  bool at_end(const SupportedBody& body, int node) const {
    return of_node[static_cast<std::size_t>(node)] < static_cast<int>(body.ends.size());
  }
  Matrix36 arm(const SupportedBody& body, int node) const {
    const auto end = static_cast<std::size_t>(of_node[static_cast<std::size_t>(node)]);
    return rigid_motion(body.mesh.nodes.col(node) - body.ends[end].at);
  }
};

// Which groups meet in an element, as the lower half of a matrix of blocks in columns: rows of each column in order.
std::vector<std::vector<int>> block_columns(const SupportedBody& body, const Unknowns& u) {
  std::vector<std::vector<int>> columns(u.groups.size());
  for (const Tet& t : body.mesh.tets)
    for (const int a : t)
      for (const int b : t) {
        const int ga = u.of_node[static_cast<std::size_t>(a)], gb = u.of_node[static_cast<std::size_t>(b)];
        if (ga >= gb) columns[static_cast<std::size_t>(gb)].push_back(ga);
      }
  for (auto& c : columns) {
    std::sort(c.begin(), c.end());
    c.erase(std::unique(c.begin(), c.end()), c.end());
  }
  return columns;
}

Eigen::SparseMatrix<double> empty_matrix(const Unknowns& u, const std::vector<std::vector<int>>& columns) {
  std::vector<Eigen::Triplet<double>> none;
  Eigen::VectorXi rows = Eigen::VectorXi::Zero(u.count);
  for (std::size_t g = 0; g < columns.size(); ++g) {
    if (u.groups[g].first < 0) continue;
    int height = 0;
    for (const int r : columns[g])
      if (u.groups[static_cast<std::size_t>(r)].first >= 0) height += u.groups[static_cast<std::size_t>(r)].size;
    for (int c = 0; c < u.groups[g].size; ++c) rows[u.groups[g].first + c] = height;
  }
  Eigen::SparseMatrix<double> k(u.count, u.count);
  k.reserve(rows);
  // Whole blocks, upper corners of diagonal ones too (as zeros): only the lower half is read.
  for (std::size_t g = 0; g < columns.size(); ++g) {
    const auto& column = u.groups[g];
    if (column.first < 0) continue;
    for (int c = 0; c < column.size; ++c)
      for (const int r : columns[g]) {
        const auto& row = u.groups[static_cast<std::size_t>(r)];
        if (row.first < 0) continue;
        for (int i = 0; i < row.size; ++i)
          if (row.first + i >= column.first + c) k.insert(row.first + i, column.first + c) = 0;
      }
  }
  k.makeCompressed();
  return k;
}

void add_block(Eigen::SparseMatrix<double>& k, const Unknowns::Group& row, const Unknowns::Group& column,
               const Eigen::MatrixXd& block) {
  for (int c = 0; c < column.size; ++c) {
    const Eigen::Index at = column.first + c;
    const int* rows = k.innerIndexPtr();
    const int *begin = rows + k.outerIndexPtr()[at], *end = rows + k.outerIndexPtr()[at + 1];
    for (int i = 0; i < row.size; ++i) {
      if (row.first + i < at) continue;
      const int* place = std::lower_bound(begin, end, static_cast<int>(row.first + i));
      k.valuePtr()[place - rows] += block(i, c);
    }
  }
}

void add_element(Eigen::SparseMatrix<double>& k, const SupportedBody& body, const Unknowns& u, const Tet& t,
                 const Eigen::Matrix<double, 30, 30>& stiffness) {
  for (int a = 0; a < 10; ++a)
    for (int b = 0; b < 10; ++b) {
      const int na = t[static_cast<std::size_t>(a)], nb = t[static_cast<std::size_t>(b)];
      const auto &row = u.group_of(na), &column = u.group_of(nb);
      if (row.first < 0 || column.first < 0 || row.first < column.first) continue;
      Eigen::MatrixXd block = stiffness.block<3, 3>(3 * a, 3 * b);
      if (u.at_end(body, na)) block = u.arm(body, na).transpose() * block;
      if (u.at_end(body, nb)) block = block * u.arm(body, nb);
      add_block(k, row, column, block);
    }
}

// The seat's motion from that of its nodes: 6 x 3 nodes.
Matrix6X fitted_motion(const TetMesh& mesh, const LooseSeat& seat) {
  const auto n = static_cast<Eigen::Index>(seat.nodes.size());
  Eigen::MatrixXd rigid(3 * n, 6);
  for (Eigen::Index i = 0; i < n; ++i)
    rigid.middleRows<3>(3 * i) = rigid_motion(mesh.nodes.col(seat.nodes[static_cast<std::size_t>(i)]) - seat.at);
  return (rigid.transpose() * rigid).ldlt().solve(rigid.transpose());
}

Eigen::MatrixXd loads_of(const SupportedBody& body, const Unknowns& u) {
  const auto ends = static_cast<Eigen::Index>(body.ends.size()), seats = static_cast<Eigen::Index>(body.seats.size());
  Eigen::MatrixXd b = Eigen::MatrixXd::Zero(u.count, 6 * (ends - 1 + seats));
  for (Eigen::Index e = 1; e < ends; ++e)
    b.block<6, 6>(u.groups[static_cast<std::size_t>(e)].first, 6 * (e - 1)).setIdentity();
  for (Eigen::Index s = 0; s < seats; ++s) {
    const LooseSeat& seat = body.seats[static_cast<std::size_t>(s)];
    const Matrix6X fit = fitted_motion(body.mesh, seat);
    for (std::size_t i = 0; i < seat.nodes.size(); ++i) {
      const auto& g = u.group_of(seat.nodes[i]);
      if (u.at_end(body, seat.nodes[i])) throw std::runtime_error("a seat on an end");
      b.block<3, 6>(g.first, 6 * (ends - 1 + s)) = fit.middleCols<3>(3 * static_cast<Eigen::Index>(i)).transpose();
    }
  }
  return b;
}

// Moments count by the body's size, so that the unknowns are of one kind.
double size_of(const TetMesh& mesh) { return (mesh.nodes.rowwise().maxCoeff() - mesh.nodes.rowwise().minCoeff()).norm(); }

// The held end's reaction against each column's load, both about the held end's place.
double unbalanced(const SupportedBody& body, const Eigen::MatrixXd& moved, double size) {
  std::vector<bool> at_held(body.mesh.tets.size(), false), held(static_cast<std::size_t>(body.mesh.nodes.cols()), false);
  for (const int n : body.ends[0].nodes) held[static_cast<std::size_t>(n)] = true;
  for (std::size_t t = 0; t < at_held.size(); ++t)
    at_held[t] = std::any_of(body.mesh.tets[t].begin(), body.mesh.tets[t].end(),
                             [&](int n) { return held[static_cast<std::size_t>(n)]; });
  const std::vector<int>& nodes = body.ends[0].nodes;
  const Eigen::MatrixXd forces = nodal_forces(body, at_held, nodes, moved);
  Eigen::MatrixXd reaction = Eigen::MatrixXd::Zero(6, moved.cols());
  for (std::size_t i = 0; i < nodes.size(); ++i)
    reaction += rigid_motion(body.mesh.nodes.col(nodes[i]) - body.ends[0].at).transpose() *
                forces.middleRows<3>(3 * static_cast<Eigen::Index>(i));
  const auto place_of = [&](Eigen::Index k) -> const Vec3& {
    const auto i = static_cast<std::size_t>(k) + 1;
    return i < body.ends.size() ? body.ends[i].at : body.seats[i - body.ends.size()].at;
  };
  double worst = 0;
  for (Eigen::Index c = 0; c < moved.cols(); ++c) {
    Eigen::Matrix<double, 6, 1> load = Eigen::Matrix<double, 6, 1>::Unit(c % 6);
    load.tail<3>() += (place_of(c / 6) - body.ends[0].at).cross(Vec3(load.head<3>()));
    Eigen::Matrix<double, 6, 1> left = reaction.col(c) + load;
    left.tail<3>() /= size;
    load.tail<3>() /= size;
    worst = std::max(worst, left.norm() / load.norm());
  }
  return worst;
}

}  // namespace

Eigen::MatrixXd nodal_forces(const SupportedBody& body, const std::vector<bool>& elements, const std::vector<int>& nodes,
                             const Eigen::MatrixXd& moved) {
  std::vector<Eigen::Index> row_of(static_cast<std::size_t>(body.mesh.nodes.cols()), -1);
  for (std::size_t i = 0; i < nodes.size(); ++i) row_of[static_cast<std::size_t>(nodes[i])] = 3 * static_cast<Eigen::Index>(i);
  const auto row = [&](int node) { return row_of[static_cast<std::size_t>(node)]; };
  Eigen::MatrixXd forces = Eigen::MatrixXd::Zero(3 * static_cast<Eigen::Index>(nodes.size()), moved.cols());
  Eigen::MatrixXd own(30, moved.cols());
  for (std::size_t t = 0; t < body.mesh.tets.size(); ++t) {
    const Tet& tet = body.mesh.tets[t];
    if (!elements[t] || std::none_of(tet.begin(), tet.end(), [&](int n) { return row(n) >= 0; })) continue;
    for (int i = 0; i < 10; ++i) own.middleRows<3>(3 * i) = moved.middleRows<3>(3 * tet[static_cast<std::size_t>(i)]);
    const Eigen::MatrixXd f = tet_matrices(corners_of(body.mesh, tet), body.steel).stiffness * own;
    for (int i = 0; i < 10; ++i)
      if (const Eigen::Index r = row(tet[static_cast<std::size_t>(i)]); r >= 0) forces.middleRows<3>(r) += f.middleRows<3>(3 * i);
  }
  return forces;
}

UnitAnswers unit_answers(const SupportedBody& body, const Solver& solver) {
  const Unknowns u(body);
  UnitAnswers out;
  out.unknowns = u.count;
  Eigen::SparseMatrix<double> k = empty_matrix(u, block_columns(body, u));
  for (const Tet& t : body.mesh.tets) {
    const TetMatrices m = tet_matrices(corners_of(body.mesh, t), body.steel);
    if (!(m.least_jacobian > 0)) throw std::runtime_error("an element is turned inside out");
    out.volume_mm3 += m.volume_mm3;
    add_element(k, body, u, t, m.stiffness);
  }
  const Eigen::MatrixXd loads = loads_of(body, u);
  const Eigen::MatrixXd x = solver(k, loads);
  if (!x.allFinite()) throw std::runtime_error("the solution is no number");
  const double size = size_of(body.mesh);
  const Eigen::MatrixXd left = k.selfadjointView<Eigen::Lower>() * x - loads;
  for (Eigen::Index c = 0; c < left.cols(); ++c)
    out.residual = std::max(out.residual, left.col(c).cwiseAbs().maxCoeff() * (c % 6 < 3 ? 1 : size));
  out.flexibility = loads.transpose() * x;
  out.moved.resize(3 * body.mesh.nodes.cols(), loads.cols());
  for (int n = 0; n < static_cast<int>(body.mesh.nodes.cols()); ++n) {
    const auto& g = u.group_of(n);
    auto rows = out.moved.middleRows<3>(3 * n);
    if (g.first < 0)
      rows.setZero();
    else if (u.at_end(body, n))
      rows = u.arm(body, n) * x.middleRows<6>(g.first);
    else
      rows = x.middleRows<3>(g.first);
  }
  out.reaction = unbalanced(body, out.moved, size);
  return out;
}

}  // namespace seamwright::solid
