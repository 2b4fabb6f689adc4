// SPDX-License-Identifier: GPL-3.0-or-later
// The recipe "add a rule set", tried: a set made of invented numbers, with rows of its own, rates the
// demonstration and is reported without another line changed. Nothing here stands in any document.
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "catalog/published/published_data.h"
#include "engine/evidence/named_values.h"
#include "engine/rules/misalignment.h"
#include "engine/rules/rule_sets.h"
#include "engine/rules/safety.h"
#include "reports/content/rating_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rating;

namespace {

double root_of_squares(const rules::TwoDamages& both) { return std::hypot(both.direct, both.shear); }
double tension_alone(double least, double most) { return std::max(0.0, most) - std::max(0.0, least); }
double four_offsets(const rules::OffsetWalls& w) { return 1 + 4 * w.offset_mm / w.wall_mm * w.share; }
std::vector<rules::ReadOut> one_point(const rules::Toe& toe) { return {{0.5 * toe.brace_wall_mm, 1}}; }
std::vector<Message> one_note(const rules::Rules&, const rules::Safety& safety,
                              const rules::GoverningLife& governing) {
  return {
      {"rating.damage-limit-by", {text("weld", governing.weld), number("limit", safety.damage_limit, "")}}};
}

const rules::Clause invented_clause{"seamwright", "invented for a test"};

constinit const rules::RuleSet invented{
    .name = "invented",
    .partial_factor = rules::ByConsequence{{1.01, 1.02}, {1.03, 1.04}, {1.05, 1.06}},
    .design_fatigue_factor = rules::ByConsequence{{1.1, 1.2}, {1.3, 1.4}, {1.5, 1.6}},
    .damage_limit = 0.7,
    .joined_damage = root_of_squares,
    .effective_range = tension_alone,
    .throat = {{"seamwright", "invented for a test"}, 0},
    .joins_torsion = false,
    .hole_class_is_net = true,
    .misalignment = {{"seamwright", "invented for a test"}, four_offsets},
    .hot_spot = {{"seamwright", "invented for a test"}, one_point},
    .below_mean = 1.5,
    .scatter_log_n = 0.3,
    .notes = one_note,
};

using fatigue::StressKind;
const std::map<StressKind, double> invented_log_a{{StressKind::nominal, 12},
                                                  {StressKind::hot_spot, 12.2},
                                                  {StressKind::throat, 11.5},
                                                  {StressKind::shear, 15}};

std::string curve_name(StressKind stress) { return std::string("I-") + name_of(stress); }

StressKind stress_at(const std::string& place, joints::Layout layout) {
  if (place.ends_with("shear")) return StressKind::shear;
  if (place == "root") return StressKind::throat;
  const bool hot = place.ends_with("toe") && layout == joints::Layout::tube_on_tube;
  return hot ? StressKind::hot_spot : StressKind::nominal;
}

// The published tables, and rows of the set beside them.
rules::Published with_rows(const rules::RuleSet& set) {
  rules::Published tables = published::catalog().data;
  for (const auto& [stress, log_a] : invented_log_a) {
    fatigue::Curve c;
    c.id = curve_name(stress);
    c.set = set.name;
    c.environment = name_of(rules::Environment::air);
    c.stress = stress;
    c.segments = {{stress == StressKind::shear ? 5.0 : 3.0, log_a, HUGE_VAL}};
    c.source = invented_clause.source();
    tables.curves.push_back(c);
  }
  for (const published::JointKind& kind : published::catalog().joint_kinds)
    for (const std::string& place : kind.places) {
      rules::Detail d;
      d.id = kind.id + "-" + place;
      d.set = &set;
      d.place = place;
      d.kinds = {kind.id};
      d.stress = stress_at(place, kind.layout);
      d.curve = curve_name(d.stress);
      d.source = invented_clause.source();
      tables.details.push_back(d);
    }
  for (const auto& [from, stress] : {std::pair{"scf", StressKind::hot_spot},
                                     {"nominal", StressKind::nominal},
                                     {"throat", StressKind::throat},
                                     {"throat-shear", StressKind::shear},
                                     {"notch", StressKind::nominal},
                                     {"notch-shear", StressKind::shear},
                                     {"bolt", StressKind::nominal},
                                     {"bolt-shear", StressKind::shear}}) {
    rules::Pair p;
    p.id = from;
    p.set = &set;
    p.from = from;
    p.stress = stress;
    p.source = invented_clause.source();
    tables.pairs.push_back(p);
  }
  return tables;
}

Rating rated_by(const rules::RuleSet& set, const Job& asked) {
  Job job = asked;
  job.rules.set = &set;
  return rate(job, with_rows(set), Method::spectral, {});
}

std::size_t covered(const Rating& r) {
  std::size_t count = 0;
  for (const WeldRating& w : r.welds)
    for (const SiteRating& s : w.sites) count += !s.curve.empty();
  return count;
}

}  // namespace

TEST_CASE("a set of invented numbers rates every place of the demonstration by its own rows") {
  const Job job = one_leg();
  const Rating r = rated_by(invented, job);
  for (const WeldRating& w : r.welds)
    for (const SiteRating& s : w.sites) {
      INFO(w.id << " " << s.site);
      if (!s.curve.empty()) CHECK(s.curve.starts_with("I-"));
      if (s.kind != "weld" && s.kind != "notch") CHECK_FALSE(s.curve.empty());
    }
  Job published_job = job;
  published_job.rules.set = &rules::en1993;
  CHECK(covered(r) >= covered(rated(published_job, Method::spectral)));
  CHECK(r.rules.partial_factor == 1.03);  // whole frame, inspected
  CHECK(r.rules.design_fatigue_factor == 1.3);
  CHECK(r.rules.damage_limit == 0.7);
  CHECK(std::count_if(r.notes.begin(), r.notes.end(),
                      [](const Message& m) { return m.id == "rating.damage-limit-by"; }) == 1);
}

TEST_CASE("the factors of an invented set stand on stress and on damage") {
  const Job job = one_leg();
  const Rating r = rated_by(invented, job);
  Job bare_job = job;
  bare_job.rules.partial_factor = bare_job.rules.design_fatigue_factor = bare_job.rules.load_factor = 1;
  const Rating bare = rated_by(invented, bare_job);
  const double on_stress = r.rules.partial_factor * r.rules.load_factor;
  std::size_t tried = 0;
  for (const WeldRating& w : bare.welds)
    for (const SiteRating& s : w.sites) {
      if (s.kind != "chord-wall" || s.curve.empty() || !(s.damage > 0)) continue;
      ++tried;
      INFO(w.id << " " << s.site);
      CHECK(site(weld(r, w.id), s.site).damage ==
            Approx(s.damage * 1.3 * std::pow(on_stress, 3)).epsilon(1e-6));
    }
  CHECK(tried > 50);
}

TEST_CASE("direct stress and shear join as the invented set says") {
  const Job job = one_leg();
  rules::RuleSet alone = invented;
  alone.joined_damage = [](const rules::TwoDamages& both) { return both.direct; };
  const Rating joined = rated_by(invented, job), apart = rated_by(alone, job);
  std::size_t tried = 0;
  for (const WeldRating& w : apart.welds)
    for (const SiteRating& s : w.sites) {
      if (s.kind != "root" || !std::isfinite(s.damage)) continue;
      const WeldRating& whole = weld(joined, w.id);
      const double shear = site(w, "root-shear" + s.site.substr(4)).damage;
      INFO(w.id << " " << s.site);
      CHECK(site(whole, s.site).damage == Approx(std::hypot(s.damage, shear)).epsilon(1e-9));
      ++tried;
    }
  CHECK(tried > 50);
}

TEST_CASE("a throat of one stress has no shear class, by whichever set") {
  rules::RuleSet one_stress = invented;
  one_stress.throat.along = 0.3;
  const Rating r = rated_by(one_stress, one_leg());
  std::size_t roots = 0;
  for (const WeldRating& w : r.welds)
    for (const SiteRating& s : w.sites) {
      CHECK(s.kind != "root-shear");
      roots += s.kind == "root";
    }
  CHECK(roots > 50);
}

TEST_CASE("reports name an invented set and show the factors that it has") {
  const Rating r = rated_by(invented, one_leg());
  CHECK(reports::to_json(std::vector{r}).find("\"set\":\"invented\"") != std::string::npos);
  const reports::Document document = reports::rating_document(r);
  CHECK(reports::to_html(document, reports::language_named("en")).find("invented") != std::string::npos);
  std::map<std::string, double> shown;
  for (const reports::Block& block : document.blocks)
    if (const auto* facts = std::get_if<reports::Facts>(&block))
      for (const auto& fact : facts->facts)
        if (const auto* value = std::get_if<reports::Quantity>(&fact.value))
          shown[fact.label.id.text()] = value->value;
  CHECK(shown["rating.partial-factor"] == 1.03);
  CHECK(shown["rating.dff"] == 1.3);
  CHECK(shown["rating.damage-limit"] == 0.7);
}

TEST_CASE("an invented set's other rules are its own, and its name stands in no table") {
  CHECK(rules::misalignment(invented, 2, 2, 0.5).factor == Approx(1 + 4 * 0.5 / 2 / 2));
  CHECK_FALSE(find_named(rules::rule_sets, invented.name));
  CHECK(names_of(rules::rule_sets).size() == rules::rule_sets.size());
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    CHECK(find_named(rules::rule_sets, name_of(set)) == set);
    CHECK((set->partial_factor || set->design_fatigue_factor));
    CHECK(set->damage_limit > 0);
    CHECK(set->joined_damage);
    CHECK(set->misalignment.factor);
    CHECK(set->hot_spot.read_out);
    CHECK(set->notes);
  }
}
