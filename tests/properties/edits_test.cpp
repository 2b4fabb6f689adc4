// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers of the demonstration changed at random, within what the readers take and beyond: each job is
// refused with its place, or rated with every place accounted for.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <random>

#include "catalog/files/import_table.h"
#include "catalog/files/patch.h"
#include "tests/properties/jobs.h"

using namespace seamwright;
using namespace seamwright::properties;

namespace {

struct Place {
  std::string name;
  double value;
  bool duty;
};

// Every key of a row that stands as a plain number: "weld[W01.L].throat_mm".
std::vector<Place> numbers_in(const std::string& text, bool duty) {
  std::vector<Place> out;
  std::string row, id;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const std::string line = text.substr(at, end - at);
    at = end + 1;
    if (line.starts_with("[[")) {
      row = line.substr(2, line.find(']') - 2);
      id.clear();
    } else if (line.starts_with("[")) {
      row = line.substr(1, line.find(']') - 1);
      id = "-";
    } else if (line.starts_with("id = \"")) {
      id = line.substr(6, line.find('"', 6) - 6);
    } else if (const std::size_t equals = line.find(" = ");
               equals != std::string::npos && row.find('.') == std::string::npos) {
      char* rest = nullptr;
      const std::string value = line.substr(equals + 3);
      const double number = std::strtod(value.c_str(), &rest);
      const bool plain = rest != value.c_str() && (*rest == 0 || *rest == ' ');
      if (!plain || id.empty()) continue;
      const std::string table = id == "-" ? row : row + "[" + id + "]";
      out.push_back({table + "." + line.substr(0, equals), number, duty});
    }
  }
  return out;
}

void try_one(const Texts& texts, const Place& place, double value, int& rated, int& refused) {
  INFO(place.name << ": " << place.value << " -> " << value);
  Texts other = texts;
  std::string& text = place.duty ? other.duty : other.design;
  text = files::patched("edited.toml", text, place.name, value);
  try {
    const rating::Job job = read(other);
    const rating::Rating r = quickly(job);
    const std::vector<std::string> missing = unaccounted(job, r);
    CHECK(missing == std::vector<std::string>{});
    ++rated;
  } catch (const Fault& fault) {
    INFO(fault.what());
    CHECK(has_place(fault));
    ++refused;
  }
}

}  // namespace

TEST_CASE("every place of the demonstration is accounted for, by every rule set") {
  for (const rules::RuleSet* set : rules::rule_sets) {
    INFO(name_of(set));
    rating::Job job = read(texts_of(demo_folder));
    set_rules(job, set);
    CHECK(unaccounted(job, quickly(job)) == std::vector<std::string>{});
  }
}

TEST_CASE("random edits are refused with their place, or rated whole") {
  const Texts texts = texts_of(demo_folder);
  std::vector<Place> places = numbers_in(texts.design, false);
  const std::vector<Place> more = numbers_in(texts.duty, true);
  places.insert(places.end(), more.begin(), more.end());
  REQUIRE(places.size() > 100);
  std::mt19937 engine(20);
  const double factors[] = {0, -1, 0.1, 0.5, 0.9, 1.1, 2, 10, 1e6};
  int rated = 0, refused = 0;
  const int tries = std::getenv("SEAMWRIGHT_NIGHT") ? 120 : 24;
  for (int i = 0; i < tries; ++i) {
    const Place& p = places[engine() % places.size()];
    try_one(texts, p, (p.value == 0 ? 1 : p.value) * factors[engine() % std::size(factors)], rated, refused);
  }
  CHECK(rated > tries / 6);
  CHECK(refused > tries / 12);
}
