// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/weld_counter.h"

#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace seamwright::rating {

namespace {

using cycles::sums_together;

constexpr double negligible = 1e-13;

// Columns of rows and peaks, each of length 1 (or 0).
Eigen::MatrixXd unit_columns(const std::vector<Eigen::Index>& sites, const Eigen::MatrixXd& rows,
                             const Eigen::MatrixXd& peaks, Eigen::VectorXd& lengths) {
  Eigen::MatrixXd stack(rows.rows() + peaks.rows(), static_cast<Eigen::Index>(sites.size()));
  lengths.resize(stack.cols());
  for (Eigen::Index i = 0; i < stack.cols(); ++i) {
    const Eigen::Index site = sites[static_cast<std::size_t>(i)];
    stack.col(i).head(rows.rows()) = rows.col(site);
    if (peaks.rows() > 0) stack.col(i).tail(peaks.rows()) = peaks.col(site);
    lengths[i] = stack.col(i).norm();
    if (lengths[i] > 0) stack.col(i) /= lengths[i];
  }
  return stack;
}

// weights: parts x sums.
SumTable sum_table(const Eigen::MatrixXd& weights, const Eigen::VectorXd& offsets) {
  SumTable table;
  table.parts = static_cast<std::size_t>(weights.rows());
  const auto sums = static_cast<std::size_t>(weights.cols()), fours = (sums + sums_together - 1) / sums_together;
  table.offsets.assign(fours * sums_together, 0);
  table.weights.assign(fours * sums_together * table.parts, 0);
  for (std::size_t i = 0; i < sums; ++i) {
    const auto column = static_cast<Eigen::Index>(i);
    table.offsets[i] = offsets[column];
    double* const four = table.weights.data() + i / sums_together * sums_together * table.parts;
    for (std::size_t k = 0; k < table.parts; ++k)
      four[k * sums_together + i % sums_together] = weights(static_cast<Eigen::Index>(k), column);
  }
  return table;
}

void copy_row(const Eigen::Ref<const Eigen::MatrixXd>& from, Eigen::Index row, double* to) {
  for (Eigen::Index t = 0; t < from.cols(); ++t) to[t] = from(row, t);
}

}  // namespace

cycles::Sums SumTable::four(std::size_t number) const {
  return {offsets.data() + number * sums_together, weights.data() + number * sums_together * parts, parts};
}

WeldRows weld_rows(const std::vector<Eigen::Index>& sites, const Eigen::MatrixXd& rows, const Eigen::MatrixXd& peaks,
                   const Eigen::VectorXd& standing) {
  Eigen::VectorXd lengths;
  const Eigen::MatrixXd stack = unit_columns(sites, rows, peaks, lengths);
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(stack);
  const Eigen::Index most = std::min(stack.rows(), stack.cols());
  Eigen::Index rank = 0;  // the pivot is the longest column that is left
  while (rank < most && std::abs(qr.matrixQR()(rank, rank)) > negligible) ++rank;
  const Eigen::MatrixXd basis = qr.householderQ() * Eigen::MatrixXd::Identity(stack.rows(), rank);
  Eigen::VectorXd offsets(stack.cols());
  for (Eigen::Index i = 0; i < offsets.size(); ++i) offsets[i] = standing[sites[static_cast<std::size_t>(i)]];
  WeldRows made{sum_table(basis, Eigen::VectorXd::Zero(rank)),
                sum_table(basis.transpose() * stack * lengths.asDiagonal(), offsets)};
  made.bounded = rank < 1024 && cycles::all_below(made.sites.weights, 0x1p500) && cycles::all_below(made.sites.offsets, 0x1p1000);
  return made;
}

void Block::fill(const Eigen::Ref<const Eigen::MatrixXd>& coordinates, const Eigen::MatrixXd* shapes,
                 Eigen::Index first_shape, bool begins) {
  const Eigen::Index kinds = shapes ? shapes->rows() : 0;
  rows_.assign(static_cast<std::size_t>(coordinates.rows() + kinds) * stride, 0);
  const std::size_t first = begins ? 1 : 0;
  samples_ = static_cast<std::size_t>(coordinates.cols()) + first;
  double* to = rows_.data() + first;
  for (Eigen::Index row = 0; row < coordinates.rows(); ++row, to += stride) copy_row(coordinates, row, to);
  for (Eigen::Index row = 0; row < kinds; ++row, to += stride)
    copy_row(shapes->middleCols(first_shape, coordinates.cols()), row, to);
  stress_.resize(sums_together * stride);
}

WeldCounter::WeldCounter(const Service& service, std::vector<Eigen::Index> sites) : sites_(std::move(sites)) {
  for (const Eigen::Index i : sites_) {
    const auto place = static_cast<std::size_t>(i);
    const sites::Site& site = service.sites[place];
    counts_.push_back({cycles::Rainflow(0), fatigue::DamageLaw(*site.curve, service.factors[place]),
                       fatigue::DamageLaw(*site.curve, service.size_factors[place]), site.mean, {}, {}});
  }
}

void WeldCounter::count(const WeldRows& rows, Block& block) {
  const machine::Instructions instructions = machine::best_instructions();
  block.forces_.resize(std::max(block.forces_.size(), rows.forces.offsets.size() * Block::stride));
  for (std::size_t four = 0; four < rows.forces.fours(); ++four)
    cycles::add_up(instructions, rows.forces.four(four), block.rows_.data(), Block::stride, block.samples_,
                   block.forces_.data() + four * sums_together * Block::stride);
  bool usable = rows.bounded;  // a few forces are checked in place of many stresses
  for (std::size_t force = 0; force < rows.forces.offsets.size() && usable; ++force)
    usable = cycles::all_below({block.forces_.data() + force * Block::stride, block.samples_}, largest_force);
  const cycles::Samples known = usable ? cycles::Samples::checked : cycles::Samples::unchecked;
  for (std::size_t k = 0; k < counts_.size(); ++k) {
    const std::size_t row = k % sums_together;
    if (row == 0)
      cycles::add_up(instructions, rows.sites.four(k / sums_together), block.forces_.data(), Block::stride,
                     block.samples_, block.stress_.data());
    Site& site = counts_[k];
    block.cycles_ = 0;
    const std::span<const double> stress(block.stress_.data() + row * Block::stride, block.samples_);
    site.flow.push_arrays(stress, known, [&](const double* from, const double* to, std::size_t cycles) {
      site.collect(block, from, to, cycles);
    });
    site.add(block);
  }
}

double WeldCounter::Site::range_of(double from, double to) const {
  return mean ? mean(std::min(from, to), std::max(from, to)) : std::abs(from - to);
}

void WeldCounter::Site::collect(Block& block, const double* from, const double* to, std::size_t cycles) const {
  if (block.ranges_.size() < block.cycles_ + cycles) block.ranges_.resize(2 * (block.cycles_ + cycles));
  double* const out = block.ranges_.data() + block.cycles_;
  if (mean)
    for (std::size_t k = 0; k < cycles; ++k) out[k] = range_of(from[k], to[k]);
  else
    for (std::size_t k = 0; k < cycles; ++k) out[k] = std::abs(from[k] - to[k]);
  block.cycles_ += cycles;
}

void WeldCounter::Site::add(Block& block) {
  const std::span<const double> ranges = std::span(block.ranges_).first(block.cycles_);
  block.damages_.resize(std::max(block.damages_.size(), ranges.size()));
  double* const damages = block.damages_.data();
  law.damages(ranges, damages);
  for (std::size_t i = 0; i < ranges.size(); ++i) {
    (i % 2 == 0 ? count.ranges : odd).add(ranges[i], 1, damages[i]);
    count.largest_mpa = std::max(count.largest_mpa, ranges[i]);
  }
  bare.damages(ranges, damages);
  std::array<double, 4> sums{};  // four sums do not wait for each other
  for (std::size_t i = 0; i < ranges.size(); ++i) sums[i % 4] += damages[i];
  count.unfactored += (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

std::vector<SiteCount> WeldCounter::finish(Block& block) {
  std::vector<SiteCount> out;
  for (Site& site : counts_) {
    block.cycles_ = 0;
    site.flow.finish(cycles::Residue::repeated, [&](const cycles::Cycle& c) { site.collect(block, &c.from, &c.to, 1); });
    site.add(block);
    site.count.ranges.add(site.odd, 1);
    for (const RangeBins::Bin& bin : site.count.ranges.bins) site.count.factored += bin.damage;
    out.push_back(site.count);
  }
  return out;
}

std::vector<WeldCounter> weld_counters(const Service& service) {
  std::map<std::size_t, std::vector<Eigen::Index>> sites;
  for (std::size_t i = 0; i < service.sites.size(); ++i)
    if (service.sites[i].curve && !service.sites[i].aside) sites[service.sites[i].weld].push_back(static_cast<Eigen::Index>(i));
  std::vector<WeldCounter> counters;
  for (auto& [weld, places] : sites) counters.emplace_back(service, std::move(places));
  return counters;
}

}  // namespace seamwright::rating
