// SPDX-License-Identifier: GPL-3.0-or-later
// DNVGL-RP-C203, April 2016, Table 2-1 (air): printed limits at 1e7 and sums computed independently from the
// printed rows.
#include <cmath>
#include <limits>

#include "catalog/published/published_data.h"
#include "engine/fatigue/curve.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::fatigue;
using seamwright::outside::Expected;

namespace {
const Curve& dnv(const std::string& id) {
  for (const Curve& c : published::catalog().data.curves)
    if (c.set == "dnv" && c.id == id) return c;
  throw std::runtime_error("no curve " + id);
}
}  // namespace

TEST_CASE("limits at ten million cycles as printed") {
  SOURCE(printed, "DNVGL-RP-C203 (2016), Table 2-1: fatigue limit at 1e7 cycles",
         "log a is printed with three decimals");
  const std::pair<const char*, double> printed[] = {
      {"B1", 106.97}, {"B2", 93.59}, {"C", 73.10},  {"C1", 65.50}, {"C2", 58.48},
      {"D", 52.63},   {"E", 46.78},  {"F", 41.52},  {"F1", 36.84}, {"F3", 32.75},
      {"G", 29.24},   {"W1", 26.32}, {"W2", 23.39}, {"W3", 21.05}, {"T", 52.63}};
  for (const auto& [id, limit_mpa] : printed) {
    INFO(id);
    const std::vector<double> knees = knees_mpa(dnv(id));
    REQUIRE(knees.size() == 1);
    CHECK(knees[0] == Expected(limit_mpa).epsilon(1.5e-3));
    // both branches meet at the knee within the rounding of the print
    CHECK(std::log10(cycles_to_failure(dnv(id), knees[0] * 0.999999)) == Expected(7).margin(0.004));
    CHECK(cycles_to_failure(dnv(id), knees[0] * 1.000001) == Expected(1e7).epsilon(1e-4));
  }
}

TEST_CASE("Miner sums of a five-line spectrum on F and F3") {
  SOURCE(evaluated, "DNVGL-RP-C203 (2016), Table 2-1, curves F and F3", "digits of the evaluation");
  const std::vector<SpectrumLine> spectrum{{2e4, 140}, {1.5e5, 90}, {8e5, 55}, {6e6, 30}, {3e7, 18}};
  const MinerResult f = miner(dnv("F"), spectrum, 25);
  const double f_parts[] = {0.076633, 0.152693, 0.185857, 0.118238, 0.045971};
  for (std::size_t i = 0; i < 5; ++i) CHECK(f.parts[i] == Expected(f_parts[i]).epsilon(1e-4));
  CHECK(f.damage == Expected(0.579391).epsilon(1e-4));
  CHECK(miner(dnv("F3"), spectrum, 25).damage == Expected(1.38327).epsilon(1e-4));
}

TEST_CASE("the fast law equals one over the life on every curve") {
  SOURCE(closed_form, "Damage of one cycle is one over the life", "rounding of the arithmetic");
  for (const Curve& c : published::catalog().data.curves)
    for (double range : {5.0, 20.0, 40.0, 52.0, 80.0, 300.0, 1500.0}) {
      INFO(c.set << " " << c.id << " " << range);
      CHECK(DamageLaw(c).damage(range) == Expected(1 / cycles_to_failure(c, range)).epsilon(1e-10));
      CHECK(DamageLaw(c, 1.3).damage(range) ==
            Expected(1 / cycles_to_failure(c, 1.3 * range)).epsilon(1e-10));
    }
}

TEST_CASE("many ranges at once do the damage of each, to the last digit") {
  SOURCE(closed_form, "Damage of one cycle is one over the life", "the same products");
  std::vector<double> ranges{0};
  for (double range = 0.5; range < 2000; range *= 1.031) ranges.push_back(range);
  std::vector<Curve> curves = published::catalog().data.curves;
  curves.push_back(curves[0]);
  curves.back().segments[0].slope = 3.5;  // a slope that is not whole
  for (const Curve& c : curves) {
    const DamageLaw law(c, 1.17);
    std::vector<double> together(ranges.size()), alone;
    for (const double range : ranges) alone.push_back(law.damage(range));
    INFO(c.set << " " << c.id);
    for (const machine::Instructions instructions : machine::known_instructions()) {
      law.damages(ranges, together.data(), instructions);
      CHECK(together == alone);
    }
  }
}

TEST_CASE("thickness lowers strength above the reference only") {
  SOURCE(evaluated, "DNVGL-RP-C203 (2016), equation of the S-N curve with thickness: (t / t_ref)^k",
         "rounding of the arithmetic");
  CHECK(thickness_factor(dnv("F"), 2) == 1);
  CHECK(thickness_factor(dnv("F"), 50) == Expected(std::pow(2.0, 0.25)));
  CHECK(sn_life(dnv("F"), 100, 2).evidence.coverage == Coverage::extended);
  CHECK(sn_life(dnv("F"), 100, 10).evidence.coverage == Coverage::inside);
}

TEST_CASE("bad ranges are refused and zero never fails") {
  CHECK_THROWS_AS(cycles_to_failure(dnv("F"), -1), Fault);
  CHECK_THROWS_AS(cycles_to_failure(dnv("F"), std::numeric_limits<double>::quiet_NaN()), Fault);
  CHECK(std::isinf(cycles_to_failure(dnv("F"), 0)));
}
