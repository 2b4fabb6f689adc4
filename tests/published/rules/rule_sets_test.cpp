// SPDX-License-Identifier: GPL-3.0-or-later
// EN 1993-1-9:2005 and IIW-1823-07 (2008): curves against values computed independently from the formulas of
// clause 7.1 and of the FAT definition. The categories, FAT values and factors themselves are from memory and
// so marked in the catalog.
#include <cmath>

#include "catalog/published/published_data.h"
#include "engine/fatigue/curve.h"
#include "engine/rules/safety.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::fatigue;
using seamwright::outside::Expected;

namespace {

const Curve& curve(const std::string& set, const std::string& id, const std::string& environment = "air") {
  for (const Curve& c : published::catalog().data.curves)
    if (c.set == set && c.id == id && c.environment == environment) return c;
  throw std::runtime_error("no curve " + id);
}

const std::vector<SpectrumLine> spectrum{{2e4, 140}, {1.5e5, 90}, {8e5, 55}, {6e6, 30}, {3e7, 18}};

}  // namespace

TEST_CASE("EN: knee and cut-off of categories, both sides of each") {
  SOURCE(recalled, "EN 1993-1-9:2005, 7.1: knee at 5e6, cut-off at 1e8", "two decimals were evaluated");
  struct Row {
    const char* id;
    double knee, cutoff;
  };
  for (const Row& r : {Row{"71", 52.31, 28.73}, Row{"36", 26.53, 14.57}, Row{"90", 66.31, 36.42},
                       Row{"160", 117.89, 64.75}}) {
    INFO(r.id);
    const Curve& c = curve("en1993", r.id);
    CHECK(knees_mpa(c)[0] == Expected(r.knee).epsilon(1e-3));
    CHECK(*c.cutoff_mpa == Expected(r.cutoff).epsilon(1e-3));
    CHECK(cycles_to_failure(c, knees_mpa(c)[0] * 1.000001) == Expected(5e6).epsilon(1e-4));
    CHECK(cycles_to_failure(c, knees_mpa(c)[0] * 0.999999) == Expected(5e6).epsilon(1e-4));
    CHECK(cycles_to_failure(c, *c.cutoff_mpa * 1.000001) == Expected(1e8).epsilon(1e-4));
    CHECK(std::isinf(cycles_to_failure(c, *c.cutoff_mpa * 0.999999)));
    CHECK(cycles_to_failure(c, std::stod(r.id)) == Expected(2e6).epsilon(1e-5));
  }
  CHECK(cycles_to_failure(curve("en1993", "71"), 40) == Expected(1.91306e7).epsilon(1e-4));
  CHECK(cycles_to_failure(curve("en1993", "71"), 30) == Expected(8.06162e7).epsilon(1e-4));
  CHECK(std::isinf(cycles_to_failure(curve("en1993", "71"), 28)));
  CHECK(cycles_to_failure(curve("en1993", "71"), 60 * 1.35) == Expected(1.34695e6).epsilon(1e-4));
  CHECK(cycles_to_failure(curve("en1993", "71"), 60 * 1.15) == Expected(2.17900e6).epsilon(1e-4));
  CHECK(cycles_to_failure(curve("en1993", "36*"), 30) == Expected(3.45600e6).epsilon(1e-4));
  CHECK(cycles_to_failure(curve("en1993", "36*"), 25) == Expected(6.72278e6).epsilon(1e-4));
  CHECK(cycles_to_failure(curve("en1993", "shear80"), 60) == Expected(8.42798e6).epsilon(1e-4));
  CHECK(cycles_to_failure(curve("en1993", "shear80"), 40) == Expected(6.4e7).epsilon(1e-4));
  CHECK(*curve("en1993", "shear80").cutoff_mpa == Expected(36.58).epsilon(1e-3));
}

TEST_CASE("EN: Miner sums of a five-line spectrum") {
  SOURCE(recalled, "EN 1993-1-9:2005, 7.1 and A.5", "digits of the evaluation");
  const MinerResult m = miner(curve("en1993", "71"), spectrum, 10);
  const double parts[] = {0.076667, 0.152761, 0.185940, 0.074427, 0};
  for (std::size_t i = 0; i < 5; ++i) CHECK(m.parts[i] == Expected(parts[i]).epsilon(1e-4).margin(1e-12));
  CHECK(m.damage == Expected(0.489795).epsilon(1e-4));
  std::vector<SpectrumLine> factored = spectrum;
  for (SpectrumLine& line : factored) line.range_mpa *= 1.15;
  CHECK(miner(curve("en1993", "71"), factored, 10).damage == Expected(0.781423).epsilon(1e-4));
  CHECK(miner(curve("en1993", "63"), spectrum, 10).damage == Expected(0.729855).epsilon(1e-4));
  CHECK(miner(curve("en1993", "80"), spectrum, 10).damage == Expected(0.273547).epsilon(1e-4));
}

TEST_CASE("IIW: knees, constants and a Miner sum without cut-off") {
  SOURCE(recalled, "IIW-1823-07 (2008): knee at 1e7, slopes 3 and 5", "four digits were evaluated");
  struct Row {
    const char* id;
    double knee, c3, c5;
  };
  for (const Row& r : {Row{"FAT125", 73.10, 3.906e12, 2.087e16}, Row{"FAT90", 52.63, 1.458e12, 4.039e15},
                       Row{"FAT71", 41.52, 7.158e11, 1.234e15}, Row{"FAT36", 21.05, 9.331e10, 4.136e13}}) {
    INFO(r.id);
    const Curve& c = curve("iiw", r.id);
    CHECK(knees_mpa(c)[0] == Expected(r.knee).epsilon(2e-4));
    CHECK(cycles_to_failure(c, 100) == Expected(r.c3 / 1e6).epsilon(3e-4));
    CHECK(cycles_to_failure(c, 10) == Expected(r.c5 / 1e5).epsilon(4e-4));
    CHECK_FALSE(c.cutoff_mpa.has_value());
  }
  const MinerResult m = miner(curve("iiw", "FAT71"), spectrum, 10);
  const double parts[] = {0.076667, 0.152761, 0.185940, 0.118145, 0.045935};
  for (std::size_t i = 0; i < 5; ++i) CHECK(m.parts[i] == Expected(parts[i]).epsilon(1e-4));
  CHECK(m.damage == Expected(0.579449).epsilon(1e-4));
}

TEST_CASE("free corrosion has one slope and does more everywhere") {
  SOURCE(recalled, "DNVGL-RP-C203 (2016), Table 2-4: one slope", "comparison");
  for (const char* id : {"D", "F", "W3"}) {
    const Curve &wet = curve("dnv", id, "free-corrosion"), &air = curve("dnv", id);
    CHECK(wet.segments.size() == 1);
    for (const double range : {5.0, 20.0, 60.0, 200.0})
      CHECK(cycles_to_failure(wet, range) < cycles_to_failure(air, range));
  }
}

TEST_CASE("safety of each set by consequence and strategy") {
  SOURCE(recalled,
         "EN 1993-1-9 Table 3.1; IIW-1823-07 partial factors and damage sum; DNV design fatigue factors",
         "exact");
  using rules::Consequence, rules::Rules, rules::Strategy;
  struct Row {
    const rules::RuleSet* set;
    Consequence consequence;
    Strategy strategy;
    double partial, dff, limit;
  };
  for (const Row& r : {Row{&rules::en1993, Consequence::secondary_part, Strategy::inspected, 1.0, 1, 1},
                       Row{&rules::en1993, Consequence::secondary_part, Strategy::safe_life, 1.15, 1, 1},
                       Row{&rules::en1993, Consequence::whole_frame, Strategy::inspected, 1.15, 1, 1},
                       Row{&rules::en1993, Consequence::whole_frame, Strategy::safe_life, 1.35, 1, 1},
                       Row{&rules::en1993, Consequence::people, Strategy::inspected, 1.15, 1, 1},
                       Row{&rules::en1993, Consequence::people, Strategy::safe_life, 1.35, 1, 1},
                       Row{&rules::iiw, Consequence::secondary_part, Strategy::inspected, 1.0, 1, 0.2},
                       Row{&rules::iiw, Consequence::secondary_part, Strategy::safe_life, 1.15, 1, 0.2},
                       Row{&rules::iiw, Consequence::whole_frame, Strategy::inspected, 1.15, 1, 0.2},
                       Row{&rules::iiw, Consequence::whole_frame, Strategy::safe_life, 1.30, 1, 0.2},
                       Row{&rules::iiw, Consequence::people, Strategy::inspected, 1.30, 1, 0.2},
                       Row{&rules::iiw, Consequence::people, Strategy::safe_life, 1.40, 1, 0.2},
                       Row{&rules::dnv, Consequence::secondary_part, Strategy::inspected, 1, 1, 1},
                       Row{&rules::dnv, Consequence::secondary_part, Strategy::safe_life, 1, 2, 1},
                       Row{&rules::dnv, Consequence::whole_frame, Strategy::inspected, 1, 2, 1},
                       Row{&rules::dnv, Consequence::whole_frame, Strategy::safe_life, 1, 3, 1},
                       Row{&rules::dnv, Consequence::people, Strategy::inspected, 1, 3, 1},
                       Row{&rules::dnv, Consequence::people, Strategy::safe_life, 1, 10, 1}}) {
    Rules rules;
    rules.set = r.set;
    rules.consequence = r.consequence;
    rules.strategy = r.strategy;
    rules.load_factor = 1.2;
    const rules::Safety s = rules::safety_of(rules);
    INFO(name_of(r.set) << " " << name_of(r.consequence) << " " << name_of(r.strategy));
    CHECK(s.partial_factor == r.partial);
    CHECK(s.design_fatigue_factor == r.dff);
    CHECK(s.damage_limit == r.limit);
    CHECK(s.load_factor == 1.2);
  }
  Rules rules;
  rules.set = &rules::iiw;
  rules.damage_limit = 0.5;
  CHECK(rules::safety_of(rules).damage_limit == 0.5);
}

TEST_CASE("IIW: a rating tells the life at the other limiting sum too") {
  SOURCE(recalled, "IIW-1823-07 (2008), damage sum 0.5, and 0.2 for a fluctuating mean stress", "exact");
  rules::Rules rules;
  rules.set = &rules::iiw;
  const std::vector<Message> notes = rules.set->notes(rules, rules::safety_of(rules), {"W1", 0.1, 1000});
  REQUIRE(notes.size() == 2);
  CHECK(notes[1].arguments.back().name == "life_half");
  CHECK(std::get<double>(notes[1].arguments.back().value) == Expected(2500));
}

TEST_CASE("every pair of stress and curve: permitted, engineering or refused") {
  SOURCE(recalled, "EN 1993-1-9, IIW-1823-07, DNV-RP-C203: which stress goes with which curve", "exact");
  const rules::Published& data = published::catalog().data;
  std::size_t permitted = 0, engineering = 0, refused = 0;
  for (const rules::RuleSet* set : rules::rule_sets)
    for (const char* from : {"scf", "extrapolation", "nominal", "throat", "throat-shear"})
      for (const StressKind kind :
           {StressKind::nominal, StressKind::hot_spot, StressKind::throat, StressKind::shear}) {
        INFO(name_of(set) << " " << from << " " << name_of(kind));
        const rules::Pairing p = rules::pairing_of(data, *set, from, kind);
        permitted += p == rules::Pairing::permitted;
        engineering += p == rules::Pairing::engineering;
        refused += p == rules::Pairing::refused;
        // Never a concentration on a detail that contains it, never a nominal stress on a hot-spot curve,
        // never anything but a throat on a root class.
        const std::string source = from;
        if (kind == StressKind::nominal) CHECK((p == rules::Pairing::refused) == (source != "nominal"));
        if (kind == StressKind::hot_spot)
          CHECK((p == rules::Pairing::refused) == (source != "scf" && source != "extrapolation"));
        if (kind == StressKind::throat) CHECK((p == rules::Pairing::refused) == (source != "throat"));
        if (kind == StressKind::shear && source != "throat-shear") CHECK(p == rules::Pairing::refused);
      }
  CHECK(permitted == 11);
  CHECK(engineering == 3);
  CHECK(permitted + engineering + refused == 60);
  CHECK(rules::pairing_of(data, rules::dnv, "scf", StressKind::hot_spot) == rules::Pairing::permitted);
  CHECK(rules::pairing_of(data, rules::en1993, "scf", StressKind::hot_spot) == rules::Pairing::engineering);
}

TEST_CASE("every detail names a curve of its own set, of its own kind of stress") {
  OURS;
  const rules::Published& data = published::catalog().data;
  for (const rules::Detail& d : data.details) {
    INFO(d.id);
    if (d.curve.empty()) continue;
    const Curve& c = curve(name_of(d.set), d.curve);
    CHECK(c.stress == d.stress);
  }
}
