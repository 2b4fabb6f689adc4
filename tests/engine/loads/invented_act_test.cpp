// SPDX-License-Identifier: GPL-3.0-or-later
// The recipe "add a manoeuvre", tried: an act of this file is read, loads the frame and is rated by its row
// alone. What it does is invented; that it counts like a sit-down of the same force is statics.
#include <toml++/toml.h>
#include <algorithm>
#include <catch2/catch.hpp>

#include "catalog/files/trips_reader.h"
#include "engine/loads/acts.h"
#include "engine/loads/manoeuvres.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rating;

namespace {

Eigen::VectorXd pressed(const loads::PosedTrike& trike, const loads::Carriers& carriers, const loads::Duty&,
                        const loads::Manoeuvre& m, double) {
  return loads::saddle_load(trike, carriers, m.level);
}
const loads::Act press{"press", false, pressed}, press_in_turn{"press-in-turn", true, pressed};

void read_press(files::Reader& r, loads::Manoeuvre& m) {
  m.level = r.real("press_n", {0, 900});
  m.seconds = r.real_or("seconds", {0.05, 60}, 0.3);
}

loads::Manoeuvre read_row(const std::string& row) {
  const toml::table table = toml::parse(row);
  std::vector<Message> assumptions;
  std::vector<files::ActKeys> acts = files::act_keys();
  acts.push_back({&press, read_press});
  return files::read_manoeuvre(files::Reader("duty.toml", "manoeuvre", table, nullptr, &assumptions), acts);
}

// One leg on which nothing is done but one manoeuvre of 400 N, twice a kilometre.
Rating rated_with(const loads::Act* act) {
  Job job = straight(one_leg());
  loads::Manoeuvre m;
  m.id = "done";
  m.act = act;
  m.level = 400;
  m.seconds = 0.3;
  job.duty.manoeuvres.push_back(m);
  legs(job)[0].rates.push_back({"done", 2});
  return rated(job, Method::spectral);
}

double damage_of(const Rating& r, const std::string& source) {
  const auto part =
      std::find_if(r.parts.begin(), r.parts.end(), [&](const Part& p) { return p.source == source; });
  REQUIRE(part != r.parts.end());
  double sum = 0;
  for (const WeldRating& w : r.welds)
    for (const SiteRating& s : w.sites)
      if (s.damage > 0) sum += s.damage * s.damage_share[static_cast<std::size_t>(part - r.parts.begin())];
  return sum;
}

}  // namespace

TEST_CASE("an act of one more row is read with its own keys and refused without them") {
  const loads::Manoeuvre m = read_row("id = \"done\"\nact = \"press\"\npress_n = 400\n");
  CHECK(m.act == &press);
  CHECK(m.level == 400);
  CHECK(m.seconds == 0.3);
  const auto fault_of = [](const std::string& row) -> Message {
    try {
      read_row(row);
    } catch (const Fault& fault) {
      return fault.message;
    }
    return {};
  };
  CHECK(fault_of("id = \"done\"\nact = \"press\"\npress_n = 901\n").id == "file.out-of-range");
  CHECK(fault_of("id = \"done\"\nact = \"press\"\nforce_n = 400\n").id == "file.missing-key");
  CHECK(fault_of("id = \"done\"\nact = \"pres\"\npress_n = 400\n").id == "file.out-of-range");
}

TEST_CASE("an act of one more row is rated by its load") {
  const double sat = damage_of(rated_with(&loads::act::sit_down), "done");
  CHECK(sat > 0);
  CHECK(damage_of(rated_with(&press), "done") == sat);
  // The same load to either side is as much as to one: half of the times each.
  CHECK(damage_of(rated_with(&press_in_turn), "done") == Approx(sat).epsilon(1e-9));
}
