// SPDX-License-Identifier: GPL-3.0-or-later
// Sheets: a record of a frame with 400 welds as PDF (limit 2 s), a view of as many flags (limit 0.1 s).
#include <fmt/format.h>

#include <chrono>

#include "reports/content/frame_picture.h"
#include "reports/pages/pages.h"
#include "tests/timing/ladder.h"
#include "tests/timing/line.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

double seconds(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

Document record(std::size_t welds) {
  Document d;
  d.title = {"record.title", {text("serial", "F1")}};
  d.mark = "F1";
  d.code = "F1 4711:0a1b2c3d";
  // Trace writes it so: welds in nine columns, then inspections and materials in six.
  for (const std::size_t columns : {9U, 6U, 6U}) {
    Table t;
    t.columns.assign(columns, {"column.weld", {}});
    for (std::size_t i = 0; i < welds; ++i) {
      std::vector<Cell> row;
      for (std::size_t c = 0; c < columns; ++c)
        row.emplace_back(Verbatim{
            c == 4 ? fmt::format("method VT, on 2026-11-{:02}, result accept, weld W{}", i % 28 + 1, i)
                   : fmt::format("W{} T-40x2", i)});
      t.rows.push_back(std::move(row));
    }
    d.blocks.emplace_back(Heading{2, {"record.welds", {}}});
    d.blocks.emplace_back(std::move(t));
  }
  return d;
}

}  // namespace

int main() {
  const Document d = record(400);
  to_pdf(record(1), language_named("en"), Paper::a4);  // fonts are read once
  fmt::print("pages\n");
  timing::aim("record of 400 welds as PDF", seconds([&] { to_pdf(d, language_named("en"), Paper::a4); }), "s",
              2);
  const FrameDrawing drawing = timing::ladder(400);
  timing::aim("view of 400 members with flags", seconds([&] { frame_picture(drawing, {}, {}, 182, 112); }),
              "s", 0.1);
  FrameLook turning;
  turning.flags = false;
  timing::aim("the same without flags", seconds([&] { frame_picture(drawing, {}, turning, 182, 112); }), "s",
              0.016);
}
