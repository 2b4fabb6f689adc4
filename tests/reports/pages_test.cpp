// SPDX-License-Identifier: GPL-3.0-or-later
// Pages read back by poppler's tools: what was said stands there, in embedded fonts, within the margins.
#include "reports/pages/pages.h"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>

using namespace seamwright;
using namespace seamwright::reports;

namespace {

std::string run(const std::string& command) {
  std::string out;
  FILE* pipe = ::popen(command.c_str(), "r");
  REQUIRE(pipe);
  char buffer[4096];
  for (std::size_t n = 0; (n = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) out.append(buffer, n);
  CHECK(::pclose(pipe) == 0);
  return out;
}

struct Pdf {
  std::string folder, path;
  explicit Pdf(const std::string& bytes) {
    char name[] = "/tmp/seamwright-pages-XXXXXX";
    folder = ::mkdtemp(name);
    path = folder + "/a.pdf";
    std::ofstream(path, std::ios::binary) << bytes;
  }
  ~Pdf() { std::filesystem::remove_all(folder); }
  Pdf(const Pdf&) = delete;
  Pdf& operator=(const Pdf&) = delete;
  std::string text() const { return run("pdftotext -layout '" + path + "' -"); }
  std::string tool(const std::string& command) const { return run(command + " '" + path + "'"); }
  int pages() const { return std::atoi(tool("pdfinfo").substr(tool("pdfinfo").find("Pages:") + 6).c_str()); }
};

Document table(std::size_t rows, const std::string& word) {
  Document d;
  d.title = {"record.title", {text("serial", word)}};
  Table t;
  for (const char* column : {"column.weld", "column.value"}) t.columns.push_back({column, {}});
  for (std::size_t i = 0; i < rows; ++i)
    t.rows.push_back({Verbatim{word + std::to_string(i)}, Quantity{1.25, "mm", 3}});
  d.blocks.emplace_back(Heading{2, {"record.welds", {}}});
  d.blocks.emplace_back(std::move(t));
  d.foot = {{"record.head", {text("head", "12:ab"), text("book", "cd")}}};
  return d;
}

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

}  // namespace

TEST_CASE("400 rows stand on the pages with the head of the table on each") {
  const Pdf pdf(to_pdf(table(400, "W"), Language::english, Paper::a4));
  const std::string text = pdf.text();
  for (int i = 0; i < 400; ++i) CHECK(text.find("W" + std::to_string(i) + " ") != std::string::npos);
  const int pages = pdf.pages();
  CHECK(pages > 4);
  CHECK(count(text, "value") == static_cast<std::size_t>(pages));
  CHECK(text.find("page " + std::to_string(pages) + " of " + std::to_string(pages)) != std::string::npos);
  CHECK(count(text, "head 12:ab") == static_cast<std::size_t>(pages));
  CHECK(count(text, "1.25") == 400);
}

TEST_CASE("fonts are embedded and nothing lies outside the margins on either paper") {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const Pdf pdf(to_pdf(table(100, std::string(300, 'n')), Language::german, paper));
    const std::string fonts = pdf.tool("pdffonts");
    CHECK(count(fonts, " yes ") >= 1);
    CHECK(count(fonts, " no  no ") == 0);
    CHECK(pdf.tool("pdfinfo").find(paper == Paper::a4 ? "A4" : "letter") != std::string::npos);
    const double width = paper == Paper::a4 ? 595 : 612, height = paper == Paper::a4 ? 842 : 792;
    const std::string boxes = run("pdftotext -bbox '" + pdf.path + "' -");
    std::size_t words = 0;
    for (std::size_t at = boxes.find("<word"); at != std::string::npos; at = boxes.find("<word", at + 1)) {
      double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
      REQUIRE(std::sscanf(boxes.c_str() + at, "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\"",
                          &x0, &y0, &x1, &y1) == 4);
      CHECK((x0 > 28 && y0 > 20 && x1 < width - 28 && y1 < height - 20));
      ++words;
    }
    CHECK(words > 100);
    CHECK(pdf.text().find("1,25") != std::string::npos);  // the decimal sign of the language
  }
}

TEST_CASE("hostile text is text on paper too") {
  for (const std::string word :
       {"<script>alert(1)</script>", "<b>bold</b>", "&amp;", "'); DROP", "%n%s", "<img src='x'>"}) {
    const std::string text = Pdf(to_pdf(table(1, word), Language::english, Paper::a4)).text();
    CHECK(text.find(word + "0") != std::string::npos);
  }
  CHECK(Pdf(to_pdf(table(1, "\x1b[31mred\u202E"), Language::english, Paper::a4))
            .text()
            .find("\\x1b[31mred\\u202e") != std::string::npos);
}

TEST_CASE("an empty document is one page and two runs put the same words in the same places") {
  Document d;
  d.title = {"record.title", {text("serial", "F1")}};
  CHECK(Pdf(to_pdf(d, Language::english, Paper::a4)).pages() == 1);
  const auto boxes = [] {
    const Pdf pdf(to_pdf(table(120, "W"), Language::english, Paper::a4));
    const std::string all = run("pdftotext -bbox '" + pdf.path + "' -");
    return all.substr(all.find("<page"));
  };
  CHECK(boxes() == boxes());
}
