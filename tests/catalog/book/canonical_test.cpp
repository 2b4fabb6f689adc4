// SPDX-License-Identifier: GPL-3.0-or-later
// Canonical JSON against the example and the numbers of RFC 8785 (section 3.2 and Appendix B).
#include "catalog/book/canonical.h"

#include <bit>
#include <catch2/catch.hpp>
#include <limits>

#include "engine/evidence/evidence.h"

using namespace seamwright;
using namespace seamwright::book;

TEST_CASE("the example of RFC 8785") {
  const Json value = Json::parse(
      R"({"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],)"
      R"("string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]})");
  CHECK(canonical(value) ==
        "{\"literals\":[null,true,false],\"numbers\":[333333333.3333333,1e+30,4.5,0.002,1e-27],"
        "\"string\":\"\xE2\x82\xAC$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}");
}

TEST_CASE("keys are sorted by UTF-16 code units") {
  // RFC 8785, 3.2.3: carriage return, 1, control, o with diaeresis, euro, emoji (a surrogate pair), dalet
  // with dagesh.
  const Json value = Json::parse(
      R"({"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One",)"
      R"("\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"})");
  const std::string text = canonical(value);
  std::size_t last = 0;
  for (const char* word :
       {"Carriage Return", "One", "Control", "Latin Small", "Euro Sign", "Emoji", "Hebrew"}) {
    const std::size_t at = text.find(word);
    REQUIRE(at != std::string::npos);
    CHECK(at > last);
    last = at;
  }
}

TEST_CASE("numbers of RFC 8785, Appendix B") {
  const auto of = [](std::uint64_t bits) { return number_text(std::bit_cast<double>(bits)); };
  CHECK(of(0x0000000000000000) == "0");
  CHECK(of(0x8000000000000000) == "0");
  CHECK(of(0x0000000000000001) == "5e-324");
  CHECK(of(0x8000000000000001) == "-5e-324");
  CHECK(of(0x7fefffffffffffff) == "1.7976931348623157e+308");
  CHECK(of(0x4340000000000000) == "9007199254740992");
  CHECK(of(0x4430000000000000) == "295147905179352830000");
  CHECK(of(0x44b52d02c7e14af5) == "9.999999999999997e+22");
  CHECK(of(0x44b52d02c7e14af6) == "1e+23");
  CHECK(of(0x444b1ae4d6e2ef4f) == "999999999999999900000");
  CHECK(of(0x444b1ae4d6e2ef50) == "1e+21");
  CHECK(of(0x3eb0c6f7a0b5ed8c) == "9.999999999999997e-7");
  CHECK(of(0x3eb0c6f7a0b5ed8d) == "0.000001");
  CHECK(of(0x41b3de4355555553) == "333333333.3333332");
  CHECK(of(0x41b3de4355555557) == "333333333.33333343");
  CHECK(of(0xbecbf647612f3696) == "-0.0000033333333333333333");
  CHECK_THROWS_AS(of(0x7fffffffffffffff), Fault);
  CHECK_THROWS_AS(of(0x7ff0000000000000), Fault);
}

TEST_CASE("what is no text or no exact number is refused") {
  for (const char* bad : {"\xff", "\xc0\xaf", "\xe2\x82", "\xed\xa0\x80", "\xf5\x80\x80\x80", "a\x80"})
    CHECK_THROWS_AS(canonical(Json(std::string(bad))), Fault);
  CHECK_THROWS_AS(canonical(Json(9007199254740993ULL * 2)), Fault);
  CHECK(canonical(Json(9007199254740992LL)) == "9007199254740992");
  CHECK(canonical(Json(std::string("\x01\x7f"))) == "\"\\u0001\x7f\"");
}
