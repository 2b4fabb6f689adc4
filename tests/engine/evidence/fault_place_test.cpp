// SPDX-License-Identifier: GPL-3.0-or-later
// A fault knows its place, and whose it is.
#include <catch2/catch.hpp>
#include <string>

#include "engine/evidence/evidence.h"

using namespace seamwright;

TEST_CASE("a fault takes its place from the arguments of its sentence") {
  const Fault fault{
      Message{"file.out-of-range",
              {text("file", "a/duty.toml"), number("line", 12, ""), text("key", "duty.rules.years"),
               text("found", "-1"), text("expected", "0 to 100")}}};
  CHECK(fault.category == Category::input);
  CHECK(fault.place.file == "a/duty.toml");
  CHECK(fault.place.line == 12);
  CHECK(fault.place.key == "duty.rules.years");
  CHECK(fault.place.found == "-1");
  CHECK(fault.place.expected == "0 to 100");
  CHECK(fault.place.nearest.empty());
  CHECK(fault.place.remedy.empty());
  CHECK(std::string(fault.what()) == "file.out-of-range");
}

TEST_CASE("a fault of the model names no place until its reader does, for fields and sentence alike") {
  Fault fault{
      Message{"frame.unlinked-hinge", {text("hinge", "head"), sentence_argument("remedy", "remedy.link")}}};
  CHECK(fault.place.file.empty());
  CHECK(fault.place.line == 0);
  CHECK(fault.place.remedy == "remedy.link");
  fault.put_at("design.toml", 40, "design.hinge[head]");
  CHECK(fault.place.file == "design.toml");
  CHECK(fault.place.line == 40);
  CHECK(fault.place.key == "design.hinge[head]");
  REQUIRE(fault.message.arguments.size() == 5);
  const Fault again{fault.message};  // as it comes back from a thread, by its sentence alone
  CHECK(again.place.file == fault.place.file);
  CHECK(again.place.line == fault.place.line);
  CHECK(again.place.key == fault.place.key);
}

TEST_CASE("what was found may be a number, and a nearest name stands beside it") {
  const Fault fault{Message{"figure.unknown-parameter",
                            {number("found", 2.5, "mm"), text("nearest", "throat"), text("key", "")}},
                    Category::usage};
  CHECK(fault.category == Category::usage);
  CHECK(fault.place.found == "2.5");
  CHECK(fault.place.nearest == "throat");
  CHECK(fault.place.key.empty());
  Fault placed = fault;
  placed.put_at("a.toml", 3);
  CHECK(placed.message.arguments.size() == 5);
}
