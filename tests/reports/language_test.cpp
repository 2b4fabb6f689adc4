// SPDX-License-Identifier: GPL-3.0-or-later
// A third language is one more file: this program has the two of the shop and an invented one, made from the
// English file by invented_language.cmake, and no other code.
#include "reports/text/language.h"

#include <CLI/CLI.hpp>
#include <catch2/catch.hpp>
#include <stdexcept>
#include <string>

#include "app/cli/commands.h"
#include "reports/render/render.h"
#include "reports/text/text.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

std::string refusal_of(std::string_view text) {
  try {
    read_language({"a.txt", text});
  } catch (const std::invalid_argument& wrong) {
    return wrong.what();
  }
  return "";
}

const std::string head = "# first\ncode = qab\nname = A\ndecimal-mark = .\ngroup-mark = U+2009\none = 0 1\n";

}  // namespace

TEST_CASE("a third language has every sentence, its own numbers and a row among the choices") {
  const auto& all = languages();
  REQUIRE(all.size() == 3);
  const Language invented = language_named("qaa");
  CHECK(all.back() == invented);
  CHECK(invented.file->name == "Invented");
  CHECK(known_ids(invented) == known_ids(language_named("en")));
  CHECK(sentence({"word.unlimited", {}}, invented) == "«unlimited»");
  CHECK(sentence({"joints.bad-throat", {number("throat", 1.5, "mm")}}, invented) ==
        "«A throat thickness of 1,5\u00a0mm is impossible.»");
  CHECK(quantity(1234567.25, "", 9, invented) == "1'234'567,25");
  Document d;
  d.title = {"word.unlimited", {}};
  CHECK(to_html(d, invented).find("<html lang=\"qaa\">") != std::string::npos);
}

TEST_CASE("the command line offers the languages that there are") {
  CLI::App app;
  cli::Session session;
  cli::add_commands(app, session);
  CHECK(session.language == language_named("en"));
  CHECK(app.help().find("{de,en,qaa}") != std::string::npos);
  app.parse("--language qaa catalog");
  CHECK(session.language == language_named("qaa"));
  CHECK_THROWS_AS(app.parse("--language qac catalog"), CLI::ValidationError);
  CHECK_FALSE(find_language("qac"));
}

TEST_CASE("a language's head says how it writes numbers, and which of them are one") {
  const std::string text =
      head + "\n# subject\nsweep.done {count} one = {count} weld\nsweep.done {count} other = {count} welds\n";
  const LanguageFile file = read_language({"a.txt", text});
  CHECK(file.code == "qab");
  CHECK(file.group_mark == "\u2009");
  const Language language{&file};
  const auto left = [&](double count) {
    return sentence({"sweep.done", {number("other", 1, ""), number("count", count, "")}}, language);
  };
  CHECK(left(0) == "0 weld");
  CHECK(left(1) == "1 weld");
  CHECK(left(1.5) == "1.5 welds");
  CHECK(left(12345) == "12\u2009350 welds");
  CHECK(sentence_template("sweep.done", language) == "{count} welds");
}

TEST_CASE("a language's file that is not as it should be is refused with its line") {
  CHECK(refusal_of(head + "word.a = a\nword.b = b\n").empty());
  CHECK(refusal_of(head + "word.a =\n") == "a.txt:7: expected id = sentence");
  CHECK(refusal_of(head + "word.a = \n") == "a.txt:7: expected id = sentence");
  CHECK(refusal_of(head + "word.a = a\nword.b = b\nword.a = c\n") == "a.txt:9: this id stands twice");
  CHECK(refusal_of(head + "word = a\n") == "a.txt:7: an id has a subject, a point and a name");
  const char* forms = ": a form one is followed by the form other of the same id and argument";
  CHECK(refusal_of(head + "word.a {n} one = a\n") == std::string("a.txt:7").append(forms));
  CHECK(refusal_of(head + "word.a {n} other = a\n") == std::string("a.txt:7").append(forms));
  CHECK(refusal_of(head + "word.a {n} one = a\nword.a {m} other = a\n") ==
        std::string("a.txt:7").append(forms));
  CHECK(refusal_of(head + "word.a {n} few = a\n") == "a.txt:7: the forms of number are one and other");
  CHECK(refusal_of(head + "word.a {n = a\n") == "a.txt:7: expected id {argument} one, or other");
  const char* lacking = ": the head has code, name, decimal-mark (. or ,), group-mark and one";
  CHECK(refusal_of("code = a\nword.a = a\n") == std::string("a.txt:2").append(lacking));
  CHECK(refusal_of("") == std::string("a.txt:1").append(lacking));
  CHECK(refusal_of("code = a\nname = A\ndecimal-mark = ;\n") == std::string("a.txt:3").append(lacking));
  CHECK(refusal_of("code = a\ngroup-mark = U+41\n") == "a.txt:2: expected U+ and four figures, from U+0080");
  CHECK(refusal_of("code = a\none = 1, 2\n") == "a.txt:2: expected whole numbers");
}
