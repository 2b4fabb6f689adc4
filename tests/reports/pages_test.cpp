// SPDX-License-Identifier: GPL-3.0-or-later
// Pages read back by poppler's tools: what was said stands there, in embedded fonts, within the margins.
#include "reports/pages/pages.h"

#include <QImage>

#include "reports/pages/slices.h"
#include "tests/reports/pdf.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

Document table(std::size_t rows, const std::string& word) {
  Document d;
  d.title = {"record.title", {text("serial", word)}};
  Table t;
  t.columns = {{"column.weld", {}}, {"column.value", {}}};
  for (std::size_t i = 0; i < rows; ++i)
    t.rows.push_back({Verbatim{word + std::to_string(i)}, Quantity{1.25, "mm", 3}});
  d.blocks.emplace_back(Heading{2, {"record.welds", {}}});
  d.blocks.emplace_back(std::move(t));
  d.foot = {{"record.head", {text("head", "12:ab"), text("book", "cd")}}};
  return d;
}

}  // namespace

TEST_CASE("400 rows stand on the pages with the head of the table on each") {
  const Pdf pdf(to_pdf(table(400, "W"), language_named("en"), Paper::a4));
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
    const Pdf pdf(to_pdf(table(100, std::string(300, 'n')), language_named("de"), paper));
    const std::string fonts = pdf.tool("pdffonts");
    CHECK(count(fonts, " yes ") >= 1);
    CHECK(count(fonts, " no  no ") == 0);
    CHECK(pdf.tool("pdfinfo").find(paper == Paper::a4 ? "A4" : "letter") != std::string::npos);
    const double width = paper == Paper::a4 ? 595 : 612, height = paper == Paper::a4 ? 842 : 792;
    const auto words = pdf.words();
    for (const Pdf::Word& w : words)
      CHECK((w.x0 > 28 && w.y0 > 20 && w.x1 < width - 28 && w.y1 < height - 20));
    CHECK(words.size() > 100);
    CHECK(pdf.text().find("1,25") != std::string::npos);  // the decimal sign of the language
  }
}

TEST_CASE("hostile text is text on paper too") {
  for (const std::string word :
       {"<script>alert(1)</script>", "<b>bold</b>", "&amp;", "'); DROP", "%n%s", "<img src='x'>"}) {
    const std::string text = Pdf(to_pdf(table(1, word), language_named("en"), Paper::a4)).text();
    CHECK(text.find(word + "0") != std::string::npos);
  }
  CHECK(Pdf(to_pdf(table(1, "\x1b[31mred\u202E"), language_named("en"), Paper::a4))
            .text()
            .find("\\x1b[31mred\\u202e") != std::string::npos);
}

TEST_CASE("an empty document is one page and two runs put the same words in the same places") {
  Document d;
  d.title = {"record.title", {text("serial", "F1")}};
  CHECK(Pdf(to_pdf(d, language_named("en"), Paper::a4)).pages() == 1);
  const auto boxes = [] {
    const Pdf pdf(to_pdf(table(120, "W"), language_named("en"), Paper::a4));
    const std::string all = run("pdftotext -bbox '" + pdf.path + "' -");
    return all.substr(all.find("<page"));
  };
  CHECK(boxes() == boxes());
}

TEST_CASE("a heading stands on the page of what follows it and rows are not cut") {
  for (std::size_t before = 20; before < 60; ++before) {
    Document d = table(before, "W");
    d.blocks.emplace_back(Heading{2, {"record.people", {}}});
    Table t;
    t.columns = {{"column.weld", {}}, {"column.note", {}}};
    // Three lines in one cell.
    std::string note("first");
    for (int i = 0; i < 60; ++i) note.append(" middle");
    t.rows.push_back({Verbatim{"Q1"}, Verbatim{note + " last"}});
    d.blocks.emplace_back(std::move(t));
    const Pdf pdf(to_pdf(d, language_named("en"), Paper::a4));
    int found = 0;
    for (int page = 1; page <= pdf.pages(); ++page) {
      const std::string text = pdf.text_of(page);
      const bool heading = text.find("People and qualification test certificates") != std::string::npos;
      found += heading;
      CHECK(heading == (text.find("Q1") != std::string::npos));
      CHECK((text.find(" first") != std::string::npos) == (text.find(" last") != std::string::npos));
      CHECK(text.find("page " + std::to_string(page) + " of") != std::string::npos);
    }
    CHECK(found == 1);
  }
}

TEST_CASE("text of a megabyte goes on over pages to its end") {
  std::string text;
  while (text.size() < (1U << 20)) text.append("word ");
  Document d;
  d.title = {"record.title", {seamwright::text("serial", "F1")}};
  d.blocks.emplace_back(Paragraph{{"plot.channel", {seamwright::text("channel", text + "theend")}}});
  Table t;
  t.columns = {{"column.weld", {}}, {"column.note", {}}};
  t.rows.push_back({Verbatim{"W1"}, Verbatim{std::string(100000, 'x') + " endofcell"}});
  d.blocks.emplace_back(std::move(t));
  const Pdf pdf(to_pdf(d, language_named("en"), Paper::a4));
  const std::string all = pdf.text();
  CHECK(count(all, "theend") == 1);
  CHECK(count(all, "endofcell") == 1);
  CHECK(count(all, "word") == text.size() / 5);
  CHECK(pdf.pages() > 100);
}

TEST_CASE("boxes for the pen are 8 mm high at least and a long caution goes on") {
  to_pdf(table(1, "W"), language_named("en"), Paper::a4);  // an application is there
  QImage device(10, 10, QImage::Format_RGB32);
  device.setDotsPerMeterX(static_cast<int>(dots_per_inch / 0.0254));
  device.setDotsPerMeterY(static_cast<int>(dots_per_inch / 0.0254));
  Document d;
  d.blocks.emplace_back(Boxes{{{{"fill.gap", {}}, 1}, {{"fill.day", {}}, 20}}, 1});
  Table t;
  t.columns = {{"column.weld", {}}, {"column.initials", {}}};
  t.rows.push_back({Verbatim{"W1"}, EntryBox{}});
  d.blocks.emplace_back(std::move(t));
  const auto slices = slices_of(d, language_named("en"), {&device, dots(180), dots(250)});
  std::vector<double> heights;
  for (const Slice& s : slices)
    if (s.paint) heights.push_back(s.height / dots(1));
  REQUIRE(heights.size() == 4);  // two boxes, the table's head, its row
  CHECK(heights[0] > 8);
  CHECK(heights[1] > 20);
  CHECK(heights[3] > 8);
  Document long_one = table(1, "W");
  Caution caution;
  for (int i = 0; i < 200; ++i)
    caution.texts.push_back({"plot.channel", {text("channel", "c" + std::to_string(i))}});
  long_one.blocks.emplace_back(std::move(caution));
  const std::string all = Pdf(to_pdf(long_one, language_named("en"), Paper::letter)).text();
  for (int i = 0; i < 200; ++i) CHECK(all.find("Channel c" + std::to_string(i) + ".") != std::string::npos);
}

TEST_CASE("the code on every page says what the document gives it") {
  Document d = table(100, "W");
  d.mark = "OT-7";
  d.code = "OT-7 4711:0a1b2c3d";
  const Pdf pdf(to_pdf(d, language_named("en"), Paper::a4));
  const int pages = pdf.pages();
  CHECK(pages > 1);
  CHECK(count(pdf.text(), "OT-7") == static_cast<std::size_t>(pages));
  run("pdftoppm -r 150 -png '" + pdf.path + "' '" + pdf.folder + "/p'");
  const std::string read = run("zbarimg -q --raw '" + pdf.folder + "'/p-*.png");
  CHECK(count(read, "OT-7 4711:0a1b2c3d\n") == static_cast<std::size_t>(pages));
}
