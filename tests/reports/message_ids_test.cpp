// SPDX-License-Identifier: GPL-3.0-or-later
// Ids that are put together when the program runs: every name that a family may get has its sentence.
#include <catch2/catch.hpp>
#include <initializer_list>
#include <iterator>
#include <regex>
#include <set>
#include <string>
#include <string_view>

#include "catalog/book/records/kinds.h"
#include "catalog/files/recording_reader.h"
#include "catalog/published/published_data.h"
#include "engine/evidence/message_ids.h"
#include "engine/evidence/possible.h"
#include "engine/rating/rate.h"
#include "engine/rules/rule_sets.h"
#include "engine/study/assumed.h"
#include "reports/content/catalog_blocks.h"
#include "reports/content/machine_blocks.h"
#include "reports/text/terms.h"
#include "reports/text/text.h"

using namespace seamwright;

namespace {

void check_member(std::string_view family, std::string_view name) {
  INFO(family << name);
  CHECK(std::string(composed_id(family, name).text()) == std::string(family).append(name));
}

}  // namespace

TEST_CASE("the ids that the compiler knows are those of the sentences") {
  const auto ids = reports::known_ids(reports::language_named("en"));
  CHECK(ids.size() == std::size(message_ids));
  for (const std::string& id : ids) {
    INFO(id);
    const auto found = find_message_id(id);
    REQUIRE(found);
    CHECK(std::string(found->text()) == id);
  }
  CHECK_FALSE(find_message_id("no.such-id"));
  CHECK_FALSE(find_message_id(""));
  CHECK(MessageId().empty());
  CHECK(composed_id("state.", "no such state") == "word.unknown");
}

TEST_CASE("every family of composed ids is complete") {
  for (const PhysicalLimit& l : physical_limits()) check_member("possible.", l.id);
  for (const study::AssumedInput& a : study::assumed_inputs()) check_member("input.", a.name);
  for (const book::Kind& kind : book::kinds()) {
    check_member("book.kind-", kind.name);
    for (const book::Field& field : kind.fields) {
      if (*field.mark != '\0') check_member("mark.", field.mark);
      if (*field.carried != '\0') check_member("recall.by-", field.carried);
      for (const char* const word : field.words) check_member("record-word.", reports::term_id(word));
    }
  }
  for (const std::string& id : reports::known_ids(reports::language_named("en")))
    if (id.starts_with("gap.")) check_member("gap-kind.", id.substr(4));
  using rating::Verdict;
  for (const Verdict v : {Verdict::meets, Verdict::falls_short, Verdict::not_covered})
    check_member("state.", name_of(v));
  for (const Coverage c : {Coverage::inside, Coverage::extended, Coverage::none})
    check_member("state.", name_of(c));
  using Band = reports::Place;
  for (const Band p : {Band::inside, Band::edge, Band::outside, Band::unknown})
    check_member("place.", reports::name_of(p));
  using files::TimeKind;
  for (const TimeKind k : {TimeKind::seconds, TimeKind::milliseconds, TimeKind::clock, TimeKind::iso})
    check_member("ride.time-", files::name_of(k));
  // Rows of the catalog have names for people.
  const published::Catalog& catalog = published::catalog();
  for (const published::Reference& r : catalog.bibliography) check_member("source-name.", r.key);
  for (const published::JointKind& k : catalog.joint_kinds) check_member("joint-kind.", k.id);
  for (const published::RoadSurface& s : catalog.road_surfaces) check_member("surface-name.", s.id);
  for (const published::RigPreset& r : catalog.rigs) check_member("rig-name.", r.id);
  for (const fatigue::Curve& c : catalog.data.curves) check_member("stress-kind.", fatigue::name_of(c.stress));
  for (const rules::Pair& p : catalog.data.pairs) check_member("stress-kind.", p.from);
  for (const rules::RuleSet* const set : rules::rule_sets) check_member("rule-set.", set->name);
  for (const std::string& kind : reports::catalog_kinds()) check_member("catalog-kind.", kind);
  // A curve whose id is more than the name of its class says it in words.
  for (const fatigue::Curve& c : catalog.data.curves)
    if (std::regex_match(c.id, std::regex("(B|shear)[0-9]{2,}|FAT[0-9]+[a-z]+"))) check_member("curve-name.", reports::term_id(c.id));
  // A name of a key has its explanation too; these are no names.
  const std::set<std::string> others{"field.own",           "field.about-own", "field.about-parameter",
                                     "field.no-number",     "field.takes",     "field.takes-from-zero",
                                     "field.takes-positive"};
  for (const std::string& id : reports::known_ids(reports::language_named("en")))
    if (id.starts_with("field.") && !others.contains(id)) check_member("about.", id.substr(6));
}
