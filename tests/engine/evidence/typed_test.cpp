// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/evidence/typed.h"

#include <catch2/catch.hpp>
#include <string>

using seamwright::typed_number;

TEST_CASE("each number typed in either decimal sign is the same number") {
  for (const char* text : {"1.6", "0.35", "10.9", "-2.5", "+1.25", "1.5e3", ".5", "1234.5678", "1.234"}) {
    std::string comma = text;
    comma[comma.find('.')] = ',';
    REQUIRE(typed_number(text));
    REQUIRE(typed_number(comma));
    CHECK(*typed_number(text) == *typed_number(comma));
  }
  CHECK(*typed_number("1,6") == 1.6);
  CHECK(*typed_number("10.9") == 10.9);
  CHECK(*typed_number("1,234") == 1.234);  // thousands are never grouped
  CHECK(*typed_number("1e6") == 1e6);
  CHECK(*typed_number(" 7 ") == 7);
}

TEST_CASE("what has two signs, a blank inside or no digits is no number") {
  for (const char* text : {"",      " ",     "1.234,5", "1,234.5", "1,234,567", "1.234.567", "1 234",
                           "1'234", "1_000", "+-1",     "--1",     "1,6mm",     "0x10",      "inf",
                           "nan",   "-inf",  "1e999",   "a",       ",",         ".",         "1,6,"})
    CHECK_FALSE(typed_number(text));
  CHECK_FALSE(typed_number(std::string(65, '1')));
  CHECK_FALSE(
      typed_number("1\xC2\xA0"
                   "234"));
}
