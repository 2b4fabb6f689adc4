// SPDX-License-Identifier: GPL-3.0-or-later
// Rig files and files of what came back.
#include "catalog/files/rig_reader.h"

#include <catch2/catch.hpp>

#include "catalog/files/job_reader.h"
#include "catalog/files/returns_reader.h"
#include "catalog/files/source.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;

namespace {

template <typename Act>
std::string refusal(const Act& act) {
  try {
    act();
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace

TEST_CASE(
    "the demonstration's rig: published cases with their confidence, one that does not fit, one of its own") {
  const rating::Job job = files::read_job(demo, "", published::catalog());
  const auto cases = files::read_rigs(demo + "/rig.toml", job, published::catalog());
  REQUIRE(cases.size() == 4);
  CHECK(cases[0].cycles == 100000);
  CHECK(cases[0].from_memory);
  CHECK(cases[0].source.key == "iso-4210-6");
  CHECK(cases[0].steps.size() == 4);
  CHECK_FALSE(cases[1].from_memory);
  CHECK(cases[1].source.key == "din-79010");
  CHECK(cases[2].not_applicable == "horizontal-at-dropouts");
  CHECK(cases[3].source.key == "seamwright");
  CHECK(cases[3].fixings.size() == 3);
}

TEST_CASE("rig files that cannot be are refused") {
  const Folder folder;
  const rating::Job job = files::read_job(demo, "", published::catalog());
  const auto refused = [&](const char* from, const char* to) {
    const std::string path = folder.write("rig.toml", with("rig.toml", from, to));
    return refusal([&] { files::read_rigs(path, job, published::catalog()); });
  };
  CHECK(refused("iso-4210-6-pedalling-city", "iso-4210-6-pedaling") == "file.unknown-id");
  CHECK(refused("cycles = 50000", "cycles = -1") == "file.out-of-range");
  CHECK(refused("node = \"E.L\"", "node = \"E.X\"") == "file.unknown-id");
  CHECK(refused("fixed = [\"ux\"", "fixed = [\"up\"") == "file.out-of-range");
  CHECK(refused("id = \"seat\"", "id = \"pedals\"") == "file.doubled-id");
  CHECK(refused("seamwright.rig/1", "seamwright.rig/9") == "file.out-of-range");
  CHECK(refused("source = \"our own", "sourse = \"our own") == "file.unknown-key");
}

TEST_CASE("a published case of pedalling needs a duty with a drive") {
  rating::Job job = files::read_job(demo, "", published::catalog());
  job.duty.drive = {};  // as read where nobody pedals and no drive is stated
  CHECK(refusal([&] { files::read_rigs(demo + "/rig.toml", job, published::catalog()); }) ==
        "file.out-of-range");
}

TEST_CASE("what came back is read, and returns without sites or distances are refused") {
  const Folder folder;
  const design::Design design = files::read_design(demo + "/design.toml", published::catalog());
  const files::ReturnsFile file = files::read_returns(demo + "/returns.toml", design);
  REQUIRE(file.returns.size() == 4);
  CHECK(file.returns[0].cracked);
  CHECK(file.returns[2].count == 6);
  const auto refused = [&](const char* from, const char* to) {
    const std::string path = folder.write("returns.toml", with("returns.toml", from, to));
    return refusal([&] { files::read_returns(path, design); });
  };
  CHECK(refused("weld = \"W41\"\n", "") == "file.missing-key");
  CHECK(refused("weld = \"W41\"", "weld = \"W999\"") == "file.unknown-id");
  CHECK(refused("km = 2900", "km = 0") == "file.out-of-range");
  CHECK(refused("km = 2900", "miles = 2900") == "file.missing-key");
  const std::string empty = folder.write("returns.toml", "format = \"seamwright.returns/1\"\n");
  CHECK(refusal([&] { files::read_returns(empty, design); }) == "file.missing-key");
}

TEST_CASE("gauge readings are read with their lines") {
  const Folder folder;
  measured::GaugePlan plan;
  plan.gauges.resize(2);
  plan.channels.resize(2);
  plan.channels[0].id = "corner";
  plan.channels[1].id = "brake";
  const auto r = files::read_readings(
      folder.write("r.csv", "# desk\ngauge,channel,microstrain\n1,corner,99.5\n2,brake,-3\n"), plan);
  REQUIRE(r.size() == 2);
  CHECK(r[1].gauge == 1);
  CHECK(r[1].channel == "brake");
  CHECK(r[1].microstrain == -3);
  const auto refused = [&](const char* text) {
    const std::string path = folder.write("r.csv", text);
    return refusal([&] { files::read_readings(path, plan); });
  };
  CHECK(refused("gauge,channel,strain\n1,corner,9\n") == "file.no-column");
  CHECK(refused("gauge,channel,microstrain\n3,corner,9\n") == "gauges.unknown-gauge");
  CHECK(refused("gauge,channel,microstrain\n1,corner,much\n") == "file.bad-cell");
  CHECK(refused("gauge,channel,microstrain\n1,cornr,9\n") == "file.unknown-id");
  CHECK(refused("gauge,channel,microstrain\n1,corner,1,6\n") == "file.cell-count");
  CHECK(refused("gauge,channel,microstrain\n") == "file.empty");
}
