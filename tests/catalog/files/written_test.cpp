// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/written.h"

#include <catch2/catch.hpp>
#include <cstdlib>

#include "catalog/files/difference.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/rating/job.h"

using namespace seamwright;
using namespace seamwright::files;

namespace {

const std::string orchard = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike/";

const std::string small =
    "format = \"x\"\n\n[p]\na = 1\n\n# first\n[[trip]]\nid = \"t\" # of the day\n\n[[trip.leg]]\nid = "
    "\"l1\"\n"
    "km = 2.5 # far\nrate = { bend = 4, stop = 2 }\n\n[[trip.leg]]\nid = \"l2\"\nkm = 3\n\n[q]\nb = true\n";

std::string row_refusal(const std::string& content, const std::string& row) {
  try {
    without_row("f", content, row);
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace

TEST_CASE("tables of a text: rows with places, keys in their order, inline keys after a dot") {
  const auto tables = written_tables("f", small);
  const WrittenTable* legs = table_named(tables, "trip.leg");
  REQUIRE(legs);
  CHECK(legs->many);
  CHECK(legs->keys == std::vector<std::string>{"id", "km", "rate.bend", "rate.stop"});
  REQUIRE(legs->rows.size() == 2);
  CHECK(legs->rows[0].place == "trip[t].leg[l1]");
  CHECK(legs->rows[0].cells[1].shown == "2.5");
  CHECK(legs->rows[1].cells[2].form == Form::none);
  CHECK(legs->rows[1].cells[2].place == "trip[t].leg[l2].rate.bend");
  CHECK(!table_named(tables, "q")->many);
  CHECK(cell_on_line(tables, 12)->place == "trip[t].leg[l1].km");
  CHECK(cell_on_line(tables, 10)->place == "trip[t].leg[l1].id");
  CHECK(cell_on_line(tables, 3)->place == "p.a");
  CHECK(cell_on_line(tables, 500) == nullptr);
}

// By night every cell, by day one in four of the design.
TEST_CASE("every cell of the demonstration typed as it is shown changes no value") {
  const published::Catalog& catalog = published::catalog();
  const int step = std::getenv("SEAMWRIGHT_NIGHT") ? 1 : 4;
  for (const char* name : {"design.toml", "duty.toml"}) {
    const std::string content = read_text(orchard + name);
    int cells = 0;
    for (const WrittenTable& t : written_tables(name, content))
      for (const WrittenRow& row : t.rows)
        for (const WrittenValue& cell : row.cells) {
          if (cell.form == Form::none) continue;
          ++cells;
          if (std::string(name) == "design.toml" && cells % step != 0) continue;
          const std::string typed =
              patched(name, content, cell.place, typed_value(cell, Form::none, cell.shown));
          INFO(name << " " << cell.place << " " << cell.shown);
          if (std::string(name) == "design.toml")
            read_design_text(orchard + name, typed, catalog);
          else
            CHECK(differences_of(name, content, typed).empty());
        }
    CHECK(cells > 90);
  }
}

TEST_CASE("what is typed becomes a number where a number can stand and stays a text elsewhere") {
  const auto value = [](const char* place, const std::string& shown, Form form, const std::string& typed) {
    return typed_value({place, shown, form, 1, false}, Form::none, typed);
  };
  CHECK(std::get<double>(value("tube[a].wall_mm", "2", Form::number, " 2,5 ")) == 2.5);
  CHECK(std::get<double>(value("tube[a].wall_mm", "w", Form::text, "2.5")) == 2.5);
  CHECK(std::get<std::string>(value("tube[a].wall_mm", "2", Form::number, "2 * w")) == "2 * w");
  CHECK(std::get<std::string>(value("revision", "A", Form::text, "7")) == "7");
  CHECK(std::get<bool>(value("w.mirror", "true", Form::flag, "false")) == false);
  CHECK(std::get<std::string>(value("tube[a].wall_mm", "2", Form::number, "nan")) == "nan");
  const auto list = std::get<std::vector<PatchItem>>(
      value("node[a].position_mm", "1; deck; 3", Form::list, "800; half_deck; -1,5"));
  CHECK(std::get<double>(list[0]) == 800);
  CHECK(std::get<std::string>(list[1]) == "half_deck");
  CHECK(std::get<double>(list[2]) == -1.5);
  const auto ids = std::get<std::vector<PatchItem>>(
      typed_value({"member[m].nodes", "1; 2", Form::list, 1, true}, Form::none, "1; 3"));
  CHECK(std::get<std::string>(ids[1]) == "3");
}

TEST_CASE("rows are copied and removed whole and nothing else moves") {
  const std::string copied = with_row_copied("f", small, "trip[t].leg[l1]", "l3");
  const auto tables = written_tables("f", copied);
  const WrittenTable* legs = table_named(tables, "trip.leg");
  REQUIRE(legs->rows.size() == 3);
  CHECK(legs->rows[1].id == "l3");
  CHECK(legs->rows[1].cells[2].shown == "4");
  CHECK(copied.find("km = 2.5 # far", copied.find("km = 2.5 # far") + 1) != std::string::npos);
  CHECK(without_row("f", copied, "trip[t].leg[l3]") == small);
  CHECK(differences_of("f", small, without_row("f", small, "trip[t].leg[l2]")).size() == 2);
  const std::string gone = without_row("f", small, "trip[t]");
  CHECK(gone.find("leg") == std::string::npos);
  CHECK(gone.find("# first") != std::string::npos);
  CHECK(gone.find("[q]") != std::string::npos);
  CHECK(row_refusal(small, "trip[no]") == "file.no-place");
  CHECK(row_refusal(small, "p") == "file.no-place");
  CHECK(row_refusal("[[a]]\nid=\"1\"\n[b]\nx=1\n[[a.c]]\nid=\"2\"\n", "a[1]") == "file.no-place");
}

TEST_CASE("a key goes with its line and one is added to an inline table") {
  CHECK(without_value("f", small, "trip[t].leg[l1].km").find("far") == std::string::npos);
  CHECK(patched("f", small, "trip[t].leg[l1].rate.start", 1.0).find("{ bend = 4, stop = 2, start = 1 }") !=
        std::string::npos);
  CHECK(patched("f", "a = {}\n", "a.b", 1.0) == "a = { b = 1 }\n");
}
