// SPDX-License-Identifier: GPL-3.0-or-later
// The list of assumed inputs against what the readers read and leave to defaults: nothing can be forgotten.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <regex>
#include <set>

#include "catalog/files/duty_reader.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "engine/study/influence.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::study;

namespace {

const std::string source = SEAMWRIGHT_SOURCE_DIR;

bool is_listed(const std::string& key) {
  const auto answers = [&](const std::string& listed) { return answers_for(listed, key); };
  const auto& rows = assumed_inputs();
  const auto& unmoved = keys_without_effect();
  return std::any_of(
             rows.begin(), rows.end(),
             [&](const AssumedInput& r) { return std::any_of(r.keys.begin(), r.keys.end(), answers); }) ||
         std::any_of(unmoved.begin(), unmoved.end(),
                     [&](const KeyWithoutEffect& u) { return answers(u.key); });
}

std::string key_in(const Message& m) {
  for (const Argument& a : m.arguments)
    if (a.name == "key") return without_ids(std::get<std::string>(a.value));
  return {};
}

// Every default that a duty and a design can leave out: one of each kind of row, nothing stated that need not
// be.
std::vector<Message> every_default() {
  const std::string duty =
      "format = \"seamwright.duty/1\"\nname = \"bare\"\nyears = 1\n"
      "[rider]\nmass_kg = 80\nsaddle_share = 0.65\npedal_share = 0.25\nbar_share = 0.10\n"
      "height_above_saddle_mm = 250\n"
      "[[road]]\nid = \"r\"\nclass = \"A\"\n"
      "[[manoeuvre]]\nid = \"c\"\nact = \"corner\"\nm_s2 = 1\n"
      "[[manoeuvre]]\nid = \"b\"\nact = \"brake\"\nm_s2 = 1\n"
      "[[manoeuvre]]\nid = \"s\"\nact = \"start\"\npedal_force_n = 500\n"
      "[[manoeuvre]]\nid = \"d\"\nact = \"sit-down\"\nforce_n = 500\n"
      "[[manoeuvre]]\nid = \"h\"\nact = \"bars\"\nforce_n = 100\n"
      "[[trip]]\ntrips_per_year = 10\n"
      "[[trip.leg]]\nid = \"l\"\nroad = \"r\"\ndistance_km = 1\nspeed_kmh = 10\npayload_kg = 10\n"
      "[peaks]\nlash_nodes = [\"x\"]\nlift_nodes = [\"x\"]\nbelt_nodes = [\"x\"]\ntow_node = \"x\"\n"
      "[rules]\nset = \"dnv\"\nconsequence = \"people\"\nstrategy = \"safe-life\"\nlook_every_km = 100\nseeds = [\"a\"]\n";
  const files::DutyFile bare = files::read_duty_text("duty.toml", duty, published::catalog());
  std::vector<Message> all = bare.assumptions;
  all.insert(all.end(), bare.peak_assumptions.begin(), bare.peak_assumptions.end());
  const std::string design =
      "format = \"seamwright.design/1\"\nname = \"bare\"\n"
      "[[tube]]\nid = \"t\"\nsteel = \"25CrMo4+N\"\ndiameter_mm = 30\nwall_mm = 2\n"
      "[[node]]\nid = \"a\"\nposition_mm = [0, 300, 253]\n"
      "[[node]]\nid = \"b\"\nposition_mm = [500, 300, 253]\n"
      "[[member]]\nid = \"m\"\ntube = \"t\"\nnodes = [\"a\", \"b\"]\n"
      "[[wheel]]\nid = \"FL\"\nnode = \"a\"\nradius_mm = 253\nsection_radius_mm = 25\nradial_n_mm = 100\n"
      "lateral_n_mm = 50\ndamping_n_s_m = 100\ncontact_length_mm = 80\nlateral_damping_n_s_m = 50\n"
      "camber_deg = 2\n"
      "[[bolts]]\nid = \"B1\"\nmember = \"m\"\nend = \"end\"\nthread_mm = 8\npitch_mm = 1.25\ncount = 4\n"
      "circle_mm = 60\ngrade = \"8.8\"\n";
  const design::Design read = files::read_design_text("design.toml", design, published::catalog());
  all.insert(all.end(), read.assumptions.begin(), read.assumptions.end());
  std::erase_if(all, [](const Message& m) { return m.id != "assumption.default"; });
  return all;
}

// Keys that the readers of design and duty take by one of these functions, as their sources say: every file
// of the folder but those that read other files.
std::set<std::string> keys_read_by(const std::string& functions) {
  std::set<std::string> keys;
  const std::regex call("\\.(?:" + functions + ")\\(\\s*\"([a-z_0-9]+)\"");
  const std::set<std::string> others{"details_reader.cpp", "procedure_reader.cpp", "macros_reader.cpp",
                                     "returns_reader.cpp", "measured_reader.cpp",  "rig_reader.cpp",
                                     "inspection_checks.cpp",   "reader.cpp",           "reader.h"};
  for (const auto& file : std::filesystem::directory_iterator(source + "/catalog/files")) {
    if (!file.is_regular_file() || others.contains(file.path().filename())) continue;
    const std::string text = files::read_text(file.path().string());
    for (auto at = std::sregex_iterator(text.begin(), text.end(), call); at != std::sregex_iterator(); ++at)
      keys.insert((*at)[1].str());
  }
  return keys;
}

std::string last_of(const std::string& key) { return key.substr(key.rfind('.') + 1); }

}  // namespace

TEST_CASE("every number that the readers take has a row, or the reason why it moves no life") {
  REQUIRE(files::number_bounds().size() > 60);
  for (const auto& [key, bounds] : files::number_bounds()) {
    INFO(key);
    CHECK(is_listed(key));
  }
}

TEST_CASE("every default of the readers has a row, or the reason why it moves no life") {
  std::set<std::string> told;
  rating::Job job;
  job.assumptions = every_default();
  for (const Message& m : job.assumptions) told.insert(last_of(key_in(m)));
  for (const std::string& key : keys_read_by("real_or|choice_or|one_of_or")) {
    INFO(key << ": no default of it comes about in this test, or none is recorded");
    CHECK(told.contains(key));
  }
  Influences all;
  sort_defaults(job, all);
  for (const Message& m : all.unranged) FAIL_CHECK(key_in(m) << " has neither row nor reason");
  CHECK(all.unmoved.size() >= 10);
  job.assumptions.push_back(
      {"assumption.default", {text("key", "duty.road[tarmac].camber_deg"), number("value", 2, "")}});
  sort_defaults(job, all);
  CHECK(all.unranged.size() == 1);  // a default that the list does not know is told, not passed over
}

TEST_CASE("every key of numbers in the readers' sources is listed by name") {
  std::set<std::string> listed;
  for (const AssumedInput& row : assumed_inputs())
    for (const std::string& key : row.keys) listed.insert(last_of(key));
  for (const KeyWithoutEffect& u : keys_without_effect()) listed.insert(last_of(u.key));
  // These names stand for all below them.
  for (const char* key :
       {"per_km", "at_mm", "gravity_factor", "left_deg", "right_deg", "start_offset_mm", "end_offset_mm", "start_overhang_mm", "end_overhang_mm", "along", "across", "bulge", "x_mm", "y_mm",
        "up", "axis", "force_n", "moment_nmm", "position_mm", "haz_yield_mpa", "yield_mpa", "ultimate_mpa"})
    listed.insert(key);
  listed.insert("price");  // of the shop's stock, which no rating reads
  for (const std::string& key : keys_read_by("real|real_or_none|reals|vector|vector_or")) {
    INFO(key);
    CHECK(listed.contains(key));
  }
}

TEST_CASE("rows say what they are: a word, a range with its source, a setter that sets") {
  const rating::Job job = rating::short_demo();
  std::set<std::string> names;
  std::size_t here = 0;
  for (const AssumedInput& row : assumed_inputs()) {
    INFO(row.name);
    CHECK(names.insert(row.name).second);
    CHECK_FALSE(row.range.clause.empty());
    const double as_is = row.as_is(job);
    if (std::isnan(as_is)) continue;
    ++here;
    const auto [low, high] = ends_of(row, as_is);
    CHECK(low <= high);
    CHECK((low != as_is || high != as_is));
    // A row on one value reads back what it sets; a factor on many leaves their numbers changed.
    if (row.kind == RangeKind::words || !row.unit.empty()) {
      rating::Job changed = job;
      row.set(changed, high);
      const double now = row.as_is(changed);
      CHECK((now == Approx(high) || row.kind == RangeKind::between));
    }
  }
  CHECK(here >= 35);
}
