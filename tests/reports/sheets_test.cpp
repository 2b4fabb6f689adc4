// SPDX-License-Identifier: GPL-3.0-or-later
// The sheets on paper: one page where one page is asked for, every weld on them, both languages whole,
// drawings as lines and not as images, the code readable.
#include "catalog/published/published_data.h"
#include "reports/sheets/shape_sheets.h"
#include "reports/sheets/sheets.h"

#include "catalog/book/demo_book.h"
#include "engine/study/bolt_torques.h"
#include "engine/study/duty_stability.h"
#include "reports/pages/pages.h"
#include "reports/render/render.h"
#include "tests/reports/demonstration.h"
#include "tests/reports/pdf.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

const qualification::Date day = *qualification::read_date("2026-11-27");

const rating::Rating& rated() {
  static const rating::Rating r =
      rating::rate(demo(), published::catalog().data, rating::Method::spectral, {});
  return r;
}
const Anchor tied{"OT-0001", "0123456789abcdef", "837:530f9983aa"};

Document procedure_page(const std::string& file, const std::string& weld) {
  const files::ProcedureReport r =
      files::procedure_report({demo_path + "/procedures/" + file, demo_path, weld, "", day, day});
  return procedure_sheet(r, &demo().design, tied);
}
Document inspection_pages() {
  return inspection_sheet(files::inspection_report({demo_path, "", "", "", 0, 0, 'B', day}), demo().design,
                          tied);
}

// No message without its sentence, no image, the head on every page.
void check_whole(const Document& d, Language language, Paper paper) {
  const Pdf pdf(to_pdf(d, language, paper));
  const std::string all = pdf.text();
  CHECK(all.find("[sheet.") == std::string::npos);
  CHECK(all.find("[column.") == std::string::npos);
  CHECK(count(pdf.tool("pdfimages -list"), "\n") == 2);  // its two lines of heading alone
  CHECK(count(pdf.tool("pdffonts"), " no  no ") == 0);
  if (!d.code.empty()) CHECK(count(all, "837:530f9983") == static_cast<std::size_t>(pdf.pages()));
}

}  // namespace

TEST_CASE("all sheets are whole in both languages on both papers") {
  std::vector<Document> all{procedure_page("tig-branch.toml", "W41"),
                            inspection_pages(),
                            rating_sheet({&demo(), &rated(), {}, {}}, tied),
                            weld_map(demo().design, tied),
                            drawing_sheet(demo().design,
                                          files::parameter_reaches(demo_path + "/design.toml", published::catalog()),
                                          tied),
                            welders_sheet(files::welders_report(demo_path, day, day, day), tied),
                            stability_card(demo().design, study::stability_of(demo(), 9), 0.7, tied),
                            assembly_card(demo().design, study::bolt_torques(demo().design), tied)};
  for (const Document& d : all) {
    check_whole(d, language_named("en"), Paper::a4);
    check_whole(d, language_named("de"), Paper::letter);
    const std::string html = to_html(d, language_named("de"));
    CHECK(html.find("[sheet.") == std::string::npos);
    CHECK(html.find("</html>") != std::string::npos);
    CHECK_FALSE(to_terminal(d, language_named("en"), {}).empty());
  }
}

TEST_CASE("a procedure is one page and its settings are three times as large as its text") {
  for (const char* file : {"tig-branch.toml", "bracket.toml", "mag-corner.toml"})
    for (const Language language : {language_named("en"), language_named("de")})
      for (const Paper paper : {Paper::a4, Paper::letter})
        CHECK(Pdf(to_pdf(procedure_page(file, ""), language, paper)).pages() == 1);
  const Pdf pdf(to_pdf(procedure_page("tig-branch.toml", "W41"), language_named("en"), Paper::a4));
  CHECK(pdf.pages() == 1);
  double large = 0, body = 0;
  for (const Pdf::Word& w : pdf.words()) {
    if (w.text == "52–65") large = w.y1 - w.y0;
    if (w.text == "tungsten") body = w.y1 - w.y0;
  }
  CHECK(body > 0);
  CHECK(large >= 3 * body);
  // Settings stand in the order of the hand: machine, then gas, then heat, then fit-up.
  const std::string all = pdf.text();
  std::size_t last = 0;
  for (const char* word :
       {"DCEN", "shielding gas", "backing gas", "preheat", "preparation", "tacking"}) {
    const std::size_t at = all.find(word);
    REQUIRE(at != std::string::npos);
    CHECK(at > last);
    last = at;
  }
}

TEST_CASE("the inspection sheet asks for every weld once and prints each limit in mm") {
  const Document d = inspection_pages();
  const files::InspectionReport r = files::inspection_report({demo_path, "", "", "", 0, 0, 'B', day});
  REQUIRE(r.welds.size() == demo().design.welds.size());
  const Table* filled = nullptr;
  for (const Block& b : d.blocks)
    if (const auto* t = std::get_if<Table>(&b))
      if (!t->rows.empty() && std::holds_alternative<EntryBox>(t->rows[0].back()) && !filled) filled = t;
  REQUIRE(filled);
  REQUIRE(filled->rows.size() == demo().design.welds.size());
  for (std::size_t i = 0; i < r.welds.size(); ++i)
    CHECK(std::get<Verbatim>(filled->rows[i][0]).text == demo().design.welds[i].id);
  // ISO 5817 level B as the catalog holds it, excess convexity of a fillet 1 + 0.1 b at most 3 mm, b twice
  // the throat: a limit stands on the sheet for each weld's own throat.
  // Extended coverage asks for no undercut at all, whatever its level allows.
  std::size_t strict = 0;
  for (const files::InspectedWeld& w : r.welds)
    for (const files::LimitRow& row : w.limits)
      if (w.demand.no_undercut && (row.number == "5011" || row.number == "5012")) {
        CHECK(row.limit == "0");
        ++strict;
      }
  CHECK(strict > 50);
  for (const files::InspectedWeld& w : r.welds) {
    const joints::Weld& weld = files::weld_of(demo().design, w.id);
    for (const files::LimitRow& row : w.limits)
      if (row.number == "503" && w.demand.level == 'B' && weld.throat_mm > 0)
        CHECK(row.limit == files::limit_text(inspection::Bound{inspection::LimitKind::at_most, false,
                                                               std::min(3.0, 1 + 0.1 * 2 * weld.throat_mm)}));
  }
}

TEST_CASE("the rating sheet has a page for each of the worst five welds") {
  const Pdf pdf(to_pdf(rating_sheet({&demo(), &rated(), {}, {}}, tied), language_named("en"), Paper::a4));
  for (std::size_t w = 0; w < rating::detailed_welds; ++w) {
    const std::string id = rated().welds[w].id;
    int pages = 0;
    for (int page = 1; page <= pdf.pages(); ++page) {
      const std::string text = pdf.text_of(page);
      if (text.find(id + ": ") == std::string::npos || text.find(" governs. The predicted") == std::string::npos)
        continue;
      ++pages;
      CHECK(text.find("rate JOB --weld " + id) != std::string::npos);  // it ends on its page
      CHECK(text.find("--explain") != std::string::npos);
      CHECK(text.find("stress range, MPa") != std::string::npos);
    }
    CHECK(pages == 1);
  }
  const std::string all = pdf.text();
  CHECK(all.find(rated().design.sha256) != std::string::npos);
  CHECK(all.find(rated().catalog_sha256) != std::string::npos);
}

TEST_CASE("a frame's record is tied to the chain's head by its code") {
  const std::string folder = Pdf("").folder;  // a name that is free again
  std::filesystem::create_directories(folder);
  const std::string path = folder + "/demo.book";
  book::write_demo(path, "test");
  {
    const book::Book b = book::Book::open_read(path);
    const Document d = frame_sheet(b, book::trace(b, "OT-0001"), "2026-11-26");
    CHECK(d.code == "OT-0001 " + short_head(b.head()));
    CHECK(b.head().starts_with(short_head(b.head())));
    const Pdf pdf(to_pdf(d, language_named("en"), Paper::a4));
    const std::string all = pdf.text();
    CHECK(all.find("Shipped on") != std::string::npos);
    CHECK(all.find("never released") == std::string::npos);  // it was released first
    CHECK(all.find("view: side") != std::string::npos);      // the frozen design is drawn
    run("pdftoppm -r 150 -l 1 -png '" + pdf.path + "' '" + pdf.folder + "/p'");
    CHECK(run("zbarimg -q --raw '" + pdf.folder + "'/p-*.png") == d.code + "\n");
    const book::Mark heat{"heat", book::demo_heat};
    const auto carriers = book::recall(b, heat, "2026-11-26");
    const std::string recall =
        Pdf(to_pdf(recall_sheet(heat, carriers, {"", b.id(), b.head()}), language_named("de"), Paper::a4))
            .text();
    for (const book::Carrier& c : carriers)
      CHECK(count(recall, c.serial) == 2);  // listed, and to be filled in
  }
  std::filesystem::remove_all(folder);
}

// W39: a tube 20 mm wide at 86.3 degrees on one 25 mm wide; its root is a little longer than the circle of 62.83 mm and than the
// oblique circle of half axes 10 and 10 / sin(86.3 deg). Travel 1.5 to 1.7 mm/s.
TEST_CASE("a procedure's sheet for a weld has its length, its arc time and its heat") {
  const Document d = procedure_page("tig-branch.toml", "W39");
  double length = 0, low = 0, high = 0;
  for (const Block& b : d.blocks)
    if (const auto* two = std::get_if<TwoColumns>(&b))
      for (const auto* column : {&two->left, &two->right})
        for (const TwoColumns::Half& inner : *column)
          if (const auto* facts = std::get_if<Facts>(&inner))
            for (const Facts::Fact& f : facts->facts) {
              if (f.label.id == MessageId("sheet.seam-length")) length = std::get<Quantity>(f.value).value;
              if (f.label.id != MessageId("sheet.arc-time")) continue;
              for (const Argument& a : std::get<Message>(f.value).arguments)
                (a.name == "low" ? low : high) = std::get<double>(a.value);
            }
  CHECK(length > 62.83);
  CHECK(length < 1.15 * 62.83);
  CHECK(low == Approx(length / 1.7).epsilon(5e-3));  // three digits
  CHECK(high == Approx(length / 1.5).epsilon(5e-3));
}

TEST_CASE("two runs of a sheet put the same words in the same places") {
  const auto boxes = [] {
    const Pdf pdf(to_pdf(rating_sheet({&demo(), &rated(), {}, {}}, tied), language_named("en"), Paper::a4));
    const std::string all = run("pdftotext -bbox '" + pdf.path + "' -");
    return all.substr(all.find("<page"));
  };
  CHECK(boxes() == boxes());
}

TEST_CASE("a chance that is only a floor is never told as certain") {
  rating::Rating r = rated();
  const auto told = [&] {
    const Document d = rating_document(r);
    for (const Block& b : d.blocks)
      if (const auto* a = std::get_if<Answer>(&b)) return sentence(a->text, language_named("en"));
    return std::string();
  };
  REQUIRE(r.likelihood.uncovered > 0);
  r.predicted.cracked = {1, 1, 1};
  CHECK(told().find("Practically every frame has a crack") != std::string::npos);
  CHECK(told().find("1000") == std::string::npos);
  r.predicted.cracked = {0.5, 0.4, 0.6};
  CHECK(told().find("at least 500 have a crack") != std::string::npos);
  // The number stands as it is with everything in it.
  r.likelihood.uncovered = 0;
  r.welds[0].at_most = false;
  CHECK(told().find("1000 frames, 500 have a crack") != std::string::npos);
}
