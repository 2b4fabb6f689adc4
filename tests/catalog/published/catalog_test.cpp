// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"

using namespace seamwright;
using namespace seamwright::published;

namespace {
const std::string bibliography =
    "[[reference]]\nkey = \"k\"\ntitle = \"t\"\nedition = \"e\"\npublisher = \"p\"\n";
const std::string good =
    "[[road_class]]\nid = \"A\"\nlower_m3 = 0\nmean_m3 = 1e-6\nupper_m3 = 2e-6\nsource = { key = \"k\", "
    "clause = \"c\" }\n"
    "from_memory = true\n";
void read(const std::string& text) { read_catalog({{"b.toml", bibliography}, {"x.toml", text}}); }
std::string without(const std::string& part, const std::string& with = "") {
  std::string text = good;
  return text.replace(text.find(part), part.size(), with);
}
}  // namespace

TEST_CASE("every row that ships has a source and says how sure it is") {
  const Catalog& c = catalog();
  CHECK(c.data.curves.size() >= 15);
  CHECK(c.road_classes.size() == 8);
  CHECK(c.road_surfaces.size() == 5);
  CHECK(c.sha256.size() == 64);
  for (const Provenance& p : c.curve_provenance) CHECK_FALSE(p.source.clause.empty());
  for (const Provenance& p : c.detail_provenance) CHECK_FALSE(p.source.clause.empty());
}

TEST_CASE("rows that break a rule are refused") {
  CHECK_NOTHROW(read(good));
  CHECK_THROWS_AS(read(without("source = { key = \"k\", clause = \"c\" }\n")), Fault);
  CHECK_THROWS_AS(read(without("from_memory = true\n")), Fault);
  CHECK_THROWS_AS(read(without("key = \"k\"", "key = \"unknown\"")), Fault);
  CHECK_THROWS_AS(read(without("clause = \"c\"", "clause = \"\"")), Fault);
  CHECK_THROWS_AS(read(without("1e-6", "nan")), Fault);
  CHECK_THROWS_AS(read(good + "extra = 1\n"), Fault);
  CHECK_THROWS_AS(read(good + good), Fault);
  CHECK_THROWS_AS(read("[[road_class"), Fault);
}

TEST_CASE("a set of rules, an environment or a place that nobody knows is refused, not taken for another") {
  std::vector<DataFile> files = data_files();
  CHECK_NOTHROW(read_catalog(files));
  const auto broken = [&](const std::string& name, const std::string& part, const std::string& with) {
    std::vector<DataFile> changed = files;
    for (DataFile& f : changed)
      if (f.name == name) f.text.replace(f.text.find(part), part.size(), with);
    CHECK_THROWS_AS(read_catalog(changed), Fault);
  };
  broken("details.toml", "set = \"dnv\"", "set = \"dnw\"");
  broken("details.toml", "place = \"chord-toe\"", "place = \"chord-tow\"");
  broken("curves.toml", "set = \"iiw\"", "set = \"other\"");
  broken("curves.toml", "environment = \"air\"", "environment = \"water\"");
  broken("pairs.toml", "set = \"dnv\"", "set = \"\"");
  CHECK(is_planar(catalog(), "4011"));
  CHECK_FALSE(is_planar(catalog(), "5011"));
}

TEST_CASE("the nearest known word is found or none") {
  CHECK(nearest("wal_mm", {"wall_mm", "height_mm"}) == "wall_mm");
  CHECK(nearest("zzzzzz", {"wall_mm"}).empty());
  CHECK(nearest_or_some("wal_mm", {"wall_mm", "height_mm"}) == "wall_mm");
  CHECK(nearest_or_some("zzzzzz", {"a", "b"}) == "a, b");
  CHECK(nearest_or_some("zzzzzz", {"a", "b", "c", "d", "e", "f", "g", "h", "i"}) == "a, b, c, d, e, f, g, h, …");
  CHECK(nearest_or_some("zzzzzz", {}).empty());
}
