// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/sites/force_balance.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/sites/sites.h"

namespace seamwright::sites {

namespace {

// Axial force times the sine of its angle.
Row force_across(const design::FrameIndex& cut, const frame::Assembly& assembly, const joints::Weld& weld,
                 const design::Seat& seat) {
  const frame::Member& member = cut.member_of(weld.member);
  const Station s = station(assembly, member, weld.at_start ? 0 : member.nodes.size() - 2, weld.at_start);
  Row row(frame::section_force_count(assembly));
  row.insert(s.column) = std::sin(seat.angle_deg * degree);
  return row;
}

}  // namespace

std::shared_ptr<const Balance> balance_of(const design::Design& design, const design::FrameIndex& cut,
                                          const frame::Assembly& assembly, const joints::Weld& weld) {
  if (weld.shares_given || weld.layout != joints::Layout::tube_on_tube) return nullptr;
  const double in_plane = std::cos(20 * degree);
  const design::Seat seat = cut.seat_of(weld);
  const auto size = frame::section_force_count(assembly);
  Balance b{force_across(cut, assembly, weld, seat), Row(size), Row(size)};
  for (const joints::Weld& other : design.welds) {
    if (other.layout != joints::Layout::tube_on_tube || other.id == weld.id || other.chord != weld.chord ||
        other.node != weld.node || !cut.round_tube(other.member))
      continue;
    const design::Seat there = cut.seat_of(other);
    const double along = there.chord_out.dot(seat.chord_out);
    if (along < -in_plane) b.opposite += force_across(cut, assembly, other, there);
    if (along > in_plane && other.id == weld.partner) b.beside += force_across(cut, assembly, other, there);
  }
  if (b.opposite.nonZeros() == 0 && b.beside.nonZeros() == 0) return nullptr;
  return std::make_shared<const Balance>(std::move(b));
}

joints::Shares shares_of(const Balance& b, const Eigen::Ref<const Eigen::VectorXd>& forces) {
  const double own = b.own.dot(forces), beside = b.beside.dot(forces), opposite = b.opposite.dot(forces);
  joints::Shares s;
  if (own == 0) return s;
  s.k = std::clamp(-beside / own, 0.0, 1.0);
  s.x = std::clamp(opposite / own, 0.0, 1 - s.k);
  s.y = 1 - s.k - s.x;
  return s;
}

Row row_under(const Site& site, const Eigen::Ref<const Eigen::VectorXd>& forces) {
  if (!site.balance) return site.row;
  const joints::Shares s = shares_of(*site.balance, forces);
  Row row = site.row;
  if (site.x_more.nonZeros() > 0) row += s.x * site.x_more;
  if (site.k_more.nonZeros() > 0) row += s.k * site.k_more;
  return row;
}

void add_balanced(const std::vector<Site>& sites, const Eigen::MatrixXd& forces, Eigen::MatrixXd& stress) {
  const Balance* known = nullptr;  // the sites of a weld share one
  std::vector<joints::Shares> shares(static_cast<std::size_t>(forces.cols()));
  for (std::size_t i = 0; i < sites.size(); ++i) {
    const Site& site = sites[i];
    if (!site.balance) continue;
    if (site.balance.get() != known)
      for (Eigen::Index load = 0; load < forces.cols(); ++load)
        shares[static_cast<std::size_t>(load)] = shares_of(*site.balance, forces.col(load));
    known = site.balance.get();
    for (Eigen::Index load = 0; load < forces.cols(); ++load) {
      const joints::Shares& s = shares[static_cast<std::size_t>(load)];
      double& value = stress(static_cast<Eigen::Index>(i), load);
      if (s.x > 0) value += s.x * site.x_more.dot(forces.col(load));
      if (s.k > 0) value += s.k * site.k_more.dot(forces.col(load));
    }
  }
}

}  // namespace seamwright::sites
