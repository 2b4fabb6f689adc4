// SPDX-License-Identifier: GPL-3.0-or-later
// Bars: everything is cut once, no bar is longer than it is, and the bounds are bounds.
#include "engine/shape/cut_list.h"

#include <catch2/catch.hpp>
#include <map>
#include <random>

namespace seamwright::shape {

namespace {

std::vector<Blank> tubes_of(const std::vector<double>& lengths) {
  std::vector<Blank> all;
  for (const double l : lengths) {
    Blank b;
    b.member = "m" + std::to_string(all.size());
    b.steel = "steel";
    b.section = frame::RoundTube{30, 2};
    b.blank_mm = l;
    all.push_back(b);
  }
  return all;
}

StockTube packed(const std::vector<double>& lengths, double stock, double kerf) {
  return cut_list(tubes_of(lengths), stock, kerf).tubes.at(0);
}

void check_whole(const StockTube& t, const std::vector<double>& lengths, double stock, double kerf) {
  std::map<std::string, int> seen;
  double sum = 0;
  for (const auto& bar : t.bars) {
    REQUIRE_FALSE(bar.empty());
    double used = -kerf;
    for (const CutPiece& p : bar) {
      used += p.length_mm + kerf;
      sum += p.length_mm;
      ++seen[p.member];
    }
    CHECK(used <= stock + 1e-6);
  }
  CHECK(seen.size() == lengths.size());
  for (const auto& [id, count] : seen) CHECK(count == 1);
  CHECK(t.pieces_mm == Approx(sum));
  CHECK(t.waste_mm == Approx(static_cast<double>(t.bars.size()) * stock - sum));
  CHECK(t.least_bars <= t.bars.size());
}

}  // namespace

TEST_CASE("two pieces and their kerf fill a bar exactly, or need two") {
  CHECK(packed({2999, 2999}, 6000, 2).bars.size() == 1);
  CHECK(packed({2999, 2999.1}, 6000, 2).bars.size() == 2);
  CHECK(packed({6000}, 6000, 2).bars.size() == 1);
  CHECK(packed({3000, 3000}, 6000, 0).bars.size() == 1);
}

TEST_CASE("a piece longer than the stock is told and cut from no bar") {
  const StockTube t = packed({6000.1, 500}, 6000, 2);
  REQUIRE(t.too_long.size() == 1);
  CHECK(t.too_long[0].member == "m0");
  CHECK(t.bars.size() == 1);
  CHECK(packed({7000}, 6000, 2).bars.empty());
}

TEST_CASE("where first fit takes a bar too many the search finds the list that does not") {
  // First fit: 44 24 24, 44 24 22, 21 17 ...: three bars; 44 21 17 ... fits two of 101 by hand.
  const std::vector<double> lengths{44, 24, 24, 22, 21, 17, 8, 8, 6, 6};
  const StockTube t = packed(lengths, 90, 0);
  check_whole(t, lengths, 90, 0);
  CHECK(t.bars.size() == 2);
  CHECK(t.least_bars == 2);
}

TEST_CASE("pieces over half a bar need one each, whatever their sum") {
  CHECK(least_bars({51, 51, 51}, 100) == 3);
  CHECK(least_bars({40, 40, 40}, 100) == 2);
  CHECK(least_bars({67, 34, 34, 34, 34, 34}, 100) == 3);
  CHECK(least_bars({}, 100) == 0);
}

TEST_CASE(
    "random pieces: all are cut, bars are within first fit's bound, the search is right about the least") {
  std::mt19937 random(7);
  for (int round = 0; round < 60; ++round) {
    std::uniform_real_distribution<double> length(40, 700);
    std::vector<double> lengths(static_cast<std::size_t>(3 + round % 12));
    for (double& l : lengths) l = length(random);
    const StockTube t = packed(lengths, 1000, 3);
    check_whole(t, lengths, 1000, 3);
    CHECK(t.bars.size() == t.least_bars);  // so few pieces are always searched to the end
  }
}

TEST_CASE("steel and section part the pieces") {
  std::vector<Blank> all = tubes_of({100, 100, 100});
  all[1].steel = "other";
  all[2].section = frame::RoundTube{30, 2.5};
  CHECK(cut_list(all, 6000, 2).tubes.size() == 3);
}

}  // namespace seamwright::shape
