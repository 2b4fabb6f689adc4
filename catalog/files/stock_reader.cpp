// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/stock_reader.h"

#include <algorithm>
#include <filesystem>

#include "catalog/files/small_table.h"
#include "catalog/published/nearest.h"

namespace seamwright::files {

namespace {

constexpr double least_diameter_mm = 4, most_diameter_mm = 500, least_wall_mm = 0.5, most_price = 1e6;

double price_in(const TableRow& row) { return row.has("price") ? row.real("price", 0, most_price) : study::no_price; }

study::StockTube tube_in(const TableRow& row, const published::Catalog& catalog) {
  study::StockTube tube;
  tube.steel = row.text_of("steel");
  if (!published::find_steel(catalog, tube.steel)) {
    std::vector<std::string> known;
    for (const published::Steel& s : catalog.steels) known.push_back(s.material.id);
    row.fail("improve.stock-unknown-steel", {text("found", tube.steel.substr(0, 80)), text("nearest", published::nearest(tube.steel, known))});
  }
  tube.size = {row.real("diameter_mm", least_diameter_mm, most_diameter_mm), row.real("wall_mm", least_wall_mm, most_diameter_mm)};
  if (2 * tube.size.wall_mm >= tube.size.diameter_mm)
    row.fail("improve.stock-bad-wall", {number("found", tube.size.wall_mm, "mm"), number("most", tube.size.diameter_mm / 2, "mm")});
  tube.price_per_m = price_in(row);
  return tube;
}

// A price that stands twice, or is left out where the row says nothing else, is a slip.
void take_price(const TableRow& row, bool& seen, double& price) {
  if (seen) row.fail("improve.stock-doubled", {text("found", row.text_of("item"))});
  seen = true;
  price = row.real("price", 0, most_price);
}

}  // namespace

study::Stock read_stock(const SourceFile& file, const published::Catalog& catalog) {
  study::Stock stock;
  bool weld = false, set_up = false;
  read_small_table(file, {"item", "steel", "diameter_mm", "wall_mm"}, {"price"}, [&](const TableRow& row) {
    const std::string item = row.text_of("item");
    if (item == "weld") return take_price(row, weld, stock.weld_per_mm);
    if (item == "set-up") return take_price(row, set_up, stock.set_up);
    if (item != "tube") row.fail("improve.stock-bad-item", {text("found", item.substr(0, 80))});
    study::StockTube tube = tube_in(row, catalog);
    const bool there = std::any_of(stock.tubes.begin(), stock.tubes.end(),
                                   [&](const study::StockTube& t) { return t.steel == tube.steel && t.size == tube.size; });
    if (there) row.fail("improve.stock-doubled", {text("found", tube.steel)});
    stock.tubes.push_back(std::move(tube));
  });
  if (stock.tubes.empty()) throw Fault{Message{"improve.stock-no-tubes", {text("file", file.name)}}};
  return stock;
}

std::optional<study::Stock> own_stock(const SourceFile& design, const published::Catalog& catalog) {
  const SourceFile file = design.beside("stock.csv");
  for (const SourceFile& known : design.beside(".").files_in(".csv"))
    if (std::filesystem::path(known.name).filename() == "stock.csv") return read_stock(file, catalog);
  return {};
}

}  // namespace seamwright::files
