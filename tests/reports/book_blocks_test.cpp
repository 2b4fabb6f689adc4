// SPDX-License-Identifier: GPL-3.0-or-later
// Hostile strings through every text key of every kind of record and through every output of the book: data
// everywhere, never interpreted.
#include "reports/content/book_blocks.h"

#include <catch2/catch.hpp>

#include "catalog/published/sha256.h"
#include "reports/render/json.h"
#include "reports/render/render.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

const std::vector<std::string>& hostile() {
  static const std::vector<std::string> all{"'); DROP TABLE entry; --",
                                            "\" OR 1=1 --",
                                            "<script>alert(1)</script>",
                                            "<img src=x onerror=alert(1)>",
                                            "&lt;b&gt;",
                                            "</td></table>",
                                            "=1+1",
                                            "+1",
                                            "-1",
                                            "@SUM(A1)",
                                            "\t=1",
                                            "%n%s%d",
                                            "{weld}",
                                            "{0}",
                                            "../../etc/passwd",
                                            "C:\\x",
                                            "a\nb",
                                            "a\r\nb",
                                            "\x1b[31mred\x1b[0m",
                                            "\x07",
                                            "\x7f",
                                            std::string("a\0b", 3),
                                            "\u202Eevil",
                                            "\u200Fmark",
                                            "e\u0301",
                                            "\U0001F6B2",
                                            "\u2028line",
                                            "\uFEFFmark",
                                            "$(reboot)",
                                            "`x`",
                                            ";",
                                            ",",
                                            "'",
                                            "\"",
                                            " ",
                                            "\\",
                                            "nul\xE2\x80\x8Bspace",
                                            std::string(1 << 16, 'x')};
  return all;
}

// Words that must be those of a list, days, and names of other things keep a form of their own.
Json filled(const Kind& kind, const std::string& text, const Json& file) {
  Json payload = Json::object();
  for (const Field& k : kind.fields) {
    const std::string key = k.name;
    if (k.type == Type::day) payload[key] = "2026-11-26";
    if (k.type == Type::number) payload[key] = 1;
    if (k.type == Type::flag) payload[key] = true;
    if (k.type == Type::texts) payload[key] = {text, text};
    if (k.type == Type::file) payload[key] = file;
    if (k.type == Type::text) payload[key] = k.words.empty() ? text : std::string(k.words.front());
  }
  for (const auto& [key, word] : {std::pair{"welder", "O"},  // who signs
                                  {"method", "VT"}})
    if (payload.contains(key)) payload[key] = word;
  return payload;
}

bool tells_a_terminal_something(const std::string& shown) {
  return std::any_of(shown.begin(), shown.end(),
                     [](char c) { return (c >= 0 && c < 0x20 && c != '\n') || c == 0x7f; }) ||
         shown.find("\u202E") != std::string::npos || shown.find("\u200F") != std::string::npos;
}

}  // namespace

TEST_CASE("hostile text is kept as it is and never interpreted") {
  const Folder f;
  Shop s = open_shop(f.book());
  s.book.append_all("O", *s.owner, {{"note", {{"text", "first"}}, Attachment{"../<b>.txt", "bytes"}}}, noon);
  const Json file{{"sha256", sha256_hex("bytes")}, {"name", "../<b>=1.txt"}};
  // A release is refused while gaps are open, a shipment before it; findings are an auditor's, and nobody changes the form twice.
  const std::vector<std::string> not_here{"release", "shipment",   "audit-finding", "corrective-action", "audit-closing", "format", "person", "revoke", "role", "key",
                                          "erase",   "correction", "void",          "verification"};
  std::size_t fields = 0;
  for (const std::string& text : hostile()) {
    for (const Kind& kind : kinds()) {
      if (std::find(not_here.begin(), not_here.end(), kind.name) != not_here.end()) continue;
      const Json payload = filled(kind, text, file);
      // The owner, but for what the owner may not sign, or not of a weld of their own.
      const std::string name = kind.name;
      const Entry e = name == "exception"    ? s.book.append("E", *s.engineer, name, payload, noon)
                      : name == "inspection" ? s.book.append("I", *s.inspector, name, payload, noon)
                                             : s.book.append("O", *s.owner, name, payload, noon);
      CHECK(s.book.record(e.seq)->content == payload);
      fields += payload.size();
    }
    const Trace t = trace(s.book, text);
    const FrameState state = state_of(s.book, text, "2026-11-26");
    CHECK(t.own.size() > 8);
    const auto doc = reports::trace_document(s.book, t, "2026-11-26");
    const std::string html = reports::to_html(doc, reports::language_named("en"));
    CHECK(html.find("<script>alert") == std::string::npos);
    CHECK(html.find("<img src=x") == std::string::npos);
    CHECK(html.find("<b>") == std::string::npos);
    if (text.size() > 1000) continue;  // a page in every cell says no more on a terminal
    CHECK_FALSE(
        tells_a_terminal_something(reports::to_terminal(doc, reports::language_named("de"), {false, 100})));
    CHECK(Json::parse(reports::to_json(s.book, t, state))["serial"] == text);
    const Mark lot{"lot", text};
    CHECK_FALSE(tells_a_terminal_something(
        reports::to_terminal(reports::recall_document(lot, recall(s.book, lot, "2026-11-26")),
                             reports::language_named("en"), {false, 100})));
    CHECK_FALSE(tells_a_terminal_something(
        reports::to_terminal(reports::gaps_document(state), reports::language_named("en"), {false, 100})));
  }
  CHECK(fields > 3000);
  const std::string megabyte(1 << 20, 'x');
  const Entry e = s.book.append("O", *s.owner, "note", {{"text", megabyte}}, noon);
  CHECK(s.book.record(e.seq)->text_of("text") == megabyte);
  CHECK(verify(s.book).problems.empty());
}
