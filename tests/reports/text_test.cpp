// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <set>

#include "engine/evidence/possible.h"
#include "reports/render/cells.h"
#include "reports/render/render.h"
#include "reports/text/text.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

// A language without any sentence, in which a message shows its bare id and arguments.
Language wordless() {
  static const LanguageFile file = read_language(
      {"bare.txt", "code = qad\nname = Bare\ndecimal-mark = .\ngroup-mark = U+00A0\none = 1\n"});
  return {&file};
}

std::multiset<std::string> holes(std::string_view pattern) {
  std::multiset<std::string> names;
  for (std::size_t at = 0; (at = pattern.find('{', at)) != std::string_view::npos; ++at)
    names.emplace(pattern.substr(at, pattern.find('}', at) - at));
  return names;
}
}  // namespace

TEST_CASE("both languages have every sentence with the same arguments") {
  const auto ids = known_ids(language_named("en"));
  CHECK(ids.size() > 80);
  CHECK(std::is_sorted(ids.begin(), ids.end()));
  for (const std::string& id : ids) {
    INFO(id);
    CHECK_FALSE(sentence_template(id, language_named("de")).empty());
    CHECK(holes(sentence_template(id, language_named("en"))) == holes(sentence_template(id, language_named("de"))));
  }
}

TEST_CASE("every physical limit has its reason in words") {
  const auto ids = known_ids(language_named("en"));
  for (const PhysicalLimit& l : physical_limits()) {
    INFO(l.id);
    CHECK(std::find(ids.begin(), ids.end(), std::string("possible.") + l.id) != ids.end());
  }
}

TEST_CASE("numbers are shown with the digits that are true") {
  CHECK(quantity(12345, "km", 3, language_named("en")) == "12\u00a0300\u00a0km");
  CHECK(quantity(1234.5, "", 2, language_named("en")) == "1200");
  CHECK(quantity(0.98765, "mm", 3, language_named("de")) == "0,988\u00a0mm");
  CHECK(quantity(1e-11, "", 1, language_named("de")) == "1e-11");
  CHECK(quantity(-2.5e8, "N", 2, language_named("de")) == "-2,5e+08\u00a0N");
  CHECK(quantity(std::nan(""), "km", 3, language_named("en")) == "–");
  CHECK(quantity(std::numeric_limits<double>::infinity(), "km", 3, language_named("en")) == "unlimited");
}

TEST_CASE("what is estimated has two digits, what is computed three, what is given four") {
  const auto shown = [](const char* name, double value, const char* unit) {
    return sentence({"word.unknown", {number(name, value, unit)}}, wordless());
  };
  CHECK(shown("life", 28.68, "km") == "[word.unknown] life=29\u00a0km");
  CHECK(shown("probability", 0.007235, "%") == "[word.unknown] probability=0.0072\u00a0%");
  CHECK(shown("spread", 13.06, "") == "[word.unknown] spread=13");
  CHECK(shown("thick", 5.677, "s") == "[word.unknown] thick=5.7\u00a0s");  // trusted within 20 to 30 %
  CHECK(shown("range", 117.64, "MPa") == "[word.unknown] range=118\u00a0MPa");
  CHECK(shown("wall", 2.125, "mm") == "[word.unknown] wall=2.125\u00a0mm");
  // The value of a figure, by the figure.
  const auto line = [](const char* figure, double value, const char* unit) {
    return sentence({"evidence.line",
                     {text("figure", figure), number("value", value, unit), text("source", "s"),
                      text("clause", "c")}},
                    language_named("en"));
  };
  CHECK(line("cooling-time", 5.677, "s") == "cooling-time = 5.7\u00a0s [s, c]");
  CHECK(line("damage (lane-out)", 0.12345, "") == "damage (lane-out) = 0.12 [s, c]");
  CHECK(line("section-area", 175.93, "mm2").find("175.9") != std::string::npos);
}

TEST_CASE("foreign text is shown and never interpreted") {
  Document d;
  d.title = {"rating.unknown-weld", {text("weld", "<script>\x1b[31m'&\"")}};
  Facts facts;
  facts.facts.push_back({Message{"rating.design", {}}, Verbatim{"a\xE2\x80\xAE b\n"}});
  d.blocks.emplace_back(std::move(facts));
  const std::string html = to_html(d, language_named("en")), terminal = to_terminal(d, language_named("en"), {});
  CHECK(html.find("<script>") == std::string::npos);
  CHECK(html.find("&lt;script&gt;") != std::string::npos);
  CHECK(terminal.find('\x1b') == std::string::npos);
  CHECK(terminal.find("\xE2\x80\xAE") == std::string::npos);
}

TEST_CASE("an id that a language lacks hides nothing") {
  CHECK(sentence({"word.unknown", {number("x", 2, "mm")}}, wordless()) == "[word.unknown] x=2\u00a0mm");
}
