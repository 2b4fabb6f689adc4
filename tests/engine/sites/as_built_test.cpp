// SPDX-License-Identifier: GPL-3.0-or-later
// Welds as they were found: a finding may only make things worse.
#include "catalog/files/as_built.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "catalog/published/published_data.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rating;

namespace {

Rating with(const Job& drawn, const std::vector<files::Finding>& findings) {
  Job built = drawn;
  files::apply_as_built("measured.csv", findings, built.design);
  return rated(built, Method::spectral);
}

files::Finding found(const std::string& weld, const std::string& what, double mm) {
  return {weld, "", what, mm, "", "", "", 2};
}

// The shortest life that is known of a weld's sites; none where it is known of none.
double life_of(const WeldRating& w) {
  double least = std::numeric_limits<double>::infinity();
  for (const SiteRating& s : w.sites)
    if (s.life_km < least) least = s.life_km;
  return std::isinf(least) ? 0 : least;
}

}  // namespace

TEST_CASE("no finding, of whatever number and size, makes a weld better") {
  const Job job = straight(one_leg());
  const Rating drawn = rated(job, Method::spectral);
  std::vector<std::string> numbers{"throat", "leg",  "cap-width", "101", "1011", "4011",
                                   "402",    "5061", "501",       "507", "999"};
  for (const auto& i : published::catalog().imperfections)
    if (std::find(numbers.begin(), numbers.end(), i.number) == numbers.end()) numbers.push_back(i.number);
  for (const double mm : {0.05, 0.5, 1.5, 4.0}) {
    // One finding on each weld, so that one rating tries many.
    std::vector<files::Finding> findings;
    for (std::size_t k = 0; k < job.design.welds.size(); ++k)
      findings.push_back(found(job.design.welds[k].id, numbers[k % numbers.size()], mm));
    const Rating built = with(job, findings);
    for (const files::Finding& f : findings) {
      INFO(f.weld << ": " << f.imperfection << " of " << mm);
      const WeldRating &before = weld(drawn, f.weld), &after = weld(built, f.weld);
      CHECK(after.verdict >= before.verdict);
      CHECK(life_of(after) <= life_of(before) * (1 + 1e-9));
      CHECK(after.sites.size() == before.sites.size());
      if (!std::isnan(before.crack_probability))
        CHECK(after.crack_probability >= before.crack_probability * (1 - 1e-9));
    }
  }
}

TEST_CASE("a flaw like a crack rejects the weld: no life until it is repaired") {
  const Job job = straight(one_leg());
  for (const char* number : {"100", "104", "401", "4021", "506", "510"}) {
    INFO(number);
    design::Design design = job.design;
    files::apply_as_built("m.csv", {found("W33", number, 0.3)}, design);
    const auto w33 = std::find_if(design.welds.begin(), design.welds.end(), [](const auto& w) { return w.id == "W33"; });
    REQUIRE(w33->flaws.size() == 1);
    CHECK(w33->flaws[0].rejects);
  }
  for (const char* number : {"100", "4021"}) {
    INFO(number);
    const Rating built = with(job, {found("W33", number, 0.3)});
    const WeldRating& w = weld(built, "W33");
    CHECK(w.rejected);
    CHECK(w.verdict == Verdict::falls_short);
    CHECK(w.sites[0].life_km == 0);
    CHECK(w.crack_probability == 1);
    CHECK(built.governing_weld == "W33");
    CHECK(built.verdict == Verdict::falls_short);
    CHECK(built.likelihood.frame.probability == 1);
    CHECK_FALSE(weld(with(job, {found("W33", number, 0)}), "W33").rejected);  // looked for, none found
  }
}

TEST_CASE("an undercut beyond the rule keeps the faultless number as a bound") {
  const Job job = straight(one_leg());
  const Rating drawn = rated(job, Method::spectral), built = with(job, {found("W33", "5011", 1.5)});
  const WeldRating &before = weld(drawn, "W33"), &after = weld(built, "W33");
  CHECK(after.at_most);
  CHECK(after.verdict != Verdict::meets);
  CHECK(life_of(after) == Approx(life_of(before)).epsilon(1e-12));
  CHECK(site(after, "brace-toe@90").coverage == Coverage::none);
  CHECK(site(after, "brace-toe@90").at_least);
}

TEST_CASE("what lies within level B is told and changes nothing, what no size stands for is not covered") {
  design::Design design = one_leg().design;
  const files::AsBuilt fine = files::apply_as_built("m.csv", {found("W33", "512", 0.1)}, design);
  CHECK(fine.changed.empty());
  REQUIRE(fine.without_effect.size() == 1);
  CHECK(fine.without_effect[0].second.id == "as-built.within");
  files::AsBuilt built = files::apply_as_built("m.csv", {found("W33", "512", 3)}, design);
  CHECK(built.changed.size() == 1);
  const auto w33 =
      std::find_if(design.welds.begin(), design.welds.end(), [](const auto& w) { return w.id == "W33"; });
  REQUIRE(w33->flaws.size() == 1);
  CHECK_FALSE(w33->flaws[0].rejects);
  design::Design large = one_leg().design;
  built = files::apply_as_built("m.csv", {found("W34", "5214", 1)}, large);
  CHECK(built.changed.empty());
  CHECK(built.without_effect[0].second.id == "as-built.no-credit");
}
