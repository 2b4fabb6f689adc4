// SPDX-License-Identifier: GPL-3.0-or-later
// A shop's stock is read or refused with its line; a design's text gets tubes of its own; trials survive their journal.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "catalog/files/improved_job.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/stock_reader.h"
#include "catalog/published/published_data.h"

using namespace seamwright;

namespace {

constexpr const char* stock_head = "item,steel,diameter_mm,wall_mm,price\n";

study::Stock stock_from(const std::string& text) {
  const files::FilesInMemory memory({{"stock.csv", text}});
  return files::read_stock({memory, "stock.csv"}, published::catalog());
}

std::string stock_refusal(const std::string& lines) {
  try {
    stock_from(stock_head + lines);
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace

TEST_CASE("a stock with prices, in German form too") {
  const study::Stock s = stock_from(std::string(stock_head) + "# ours\ntube,25CrMo4+N,40,2,14.50\ntube,25CrMo4+N,40,1.5,\nweld,,,,0.06\nset-up,,,,25\n");
  REQUIRE(s.tubes.size() == 2);
  CHECK(s.tubes[0].price_per_m == 14.5);
  CHECK(std::isnan(s.tubes[1].price_per_m));
  CHECK_FALSE(s.priced());
  CHECK(s.weld_per_mm == 0.06);
  CHECK(s.set_up == 25);
  const study::Stock german = stock_from("item;steel;diameter_mm;wall_mm;price\ntube;25CrMo4+N;40;1,5;14,50\n");
  CHECK(german.tubes[0].size.wall_mm == 1.5);
  CHECK(german.tubes[0].price_per_m == 14.5);
}

TEST_CASE("an absurd stock is refused with what is wrong") {
  CHECK(stock_refusal("weld,,,,0.06\n") == "improve.stock-no-tubes");
  CHECK(stock_refusal("") == "file.empty");
  CHECK(stock_refusal("tube,25CrMo4+N,40,20,1\n") == "improve.stock-bad-wall");
  CHECK(stock_refusal("tube,25CrMo4+N,40,25,1\n") == "improve.stock-bad-wall");
  CHECK(stock_refusal("tube,25CrMo4+N,40,2,-1\n") == "file.cell-range");
  CHECK(stock_refusal("tube,25CrMo4+N,-40,2,1\n") == "file.cell-range");
  CHECK(stock_refusal("tube,25CrMo4+N,40,none,1\n") == "file.bad-cell");
  CHECK(stock_refusal("tube,butter,40,2,1\n") == "improve.stock-unknown-steel");
  CHECK(stock_refusal("rod,25CrMo4+N,40,2,1\n") == "improve.stock-bad-item");
  CHECK(stock_refusal("tube,25CrMo4+N,40,2,1\ntube,25CrMo4+N,40,2,2\n") == "improve.stock-doubled");
  CHECK(stock_refusal("weld,,,,1\nweld,,,,2\ntube,25CrMo4+N,40,2,1\n") == "improve.stock-doubled");
}

TEST_CASE("each member of the demonstration gets a tube of its own, and nothing else changes") {
  const std::string path = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike/design.toml";
  const std::string text = files::read_text(path), apart = files::with_tubes_apart(path, text);
  const design::Design before = files::read_design_text(path, text, published::catalog()), after = files::read_design_text(path, apart, published::catalog());
  REQUIRE(before.frame.members.size() == after.frame.members.size());
  CHECK(after.frame.tubes.size() > before.frame.tubes.size());
  const auto tube_of = [](const design::Design& d, const std::string& id) {
    for (const frame::Member& m : d.frame.members)
      if (m.id == id) return m.tube;
    return std::string();
  };
  CHECK(tube_of(after, "fore.L") == tube_of(after, "fore.R"));
  CHECK(tube_of(after, "fore.L") != tube_of(after, "aft.L"));
  CHECK(tube_of(after, "cross-0.L") == tube_of(after, "cross-0.R"));  // two rows, one pair
  for (std::size_t i = 0; i < before.frame.members.size(); ++i) {
    const auto section = [&](const design::Design& d) {
      for (const frame::Tube& t : d.frame.tubes)
        if (t.id == d.frame.members[i].tube) return t.section;
      return frame::Section{};
    };
    CHECK(section(before) == section(after));
  }
  CHECK(files::with_tubes_apart(path, apart) == apart);
}

TEST_CASE("a journal brings back what was tried, up to where it was cut off, and nothing of another job") {
  const std::string path = (std::filesystem::temp_directory_path() / "seamwright-trials.part").string();
  std::filesystem::remove(path);
  const study::Trial trial{true, {0.1, 1e300, 0}, 12.25};
  {
    study::Trials none;
    files::TrialJournal journal(path, "one", none);
    journal.add({1, 2}, trial);
    journal.add({3, 4}, {});
  }
  std::ofstream(path, std::ios::app) << "5,6;1;0x1";  // the power went
  study::Trials known;
  CHECK(files::TrialJournal(path, "one", known).read() == 2);
  REQUIRE(known.contains({1, 2}));
  CHECK(known[{1, 2}].use == trial.use);
  CHECK(known[{1, 2}].merit == trial.merit);
  CHECK_FALSE(known[{3, 4}].possible);
  study::Trials other;
  CHECK(files::TrialJournal(path, "two", other).read() == 0);
  CHECK(other.empty());
  std::filesystem::remove(path);
}
