// SPDX-License-Identifier: GPL-3.0-or-later
#include <functional>
#include <memory>
#include <stdexcept>
#include <utility>

#include "app/cli/commands.h"
#include "catalog/files/column.h"
#include "engine/cycles/histogram.h"
#include "reports/content/cycles_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct CountOptions {
  std::string file, column, residue = "half";
  double gate = 0;
  bool json = false;
};

// Reads the file once and gives its cycles as they close, so that memory does not grow with it; the number of samples.
std::size_t read_cycles(const CountOptions& o, const std::function<void(const cycles::Cycle&)>& sink, std::vector<double>& residue) {
  cycles::Rainflow rainflow(o.gate);
  const std::size_t samples =
      files::read_column(o.file, o.column, [&](std::span<const double> block) { rainflow.push(block, sink); });
  rainflow.finish(o.residue == "half" ? cycles::Residue::half : cycles::Residue::repeated, sink);
  residue = rainflow.residue();
  return samples;
}

// A pipe, or a file that somebody writes, gives other samples when it is read again.
void check_same(const CountOptions& o, std::size_t first, std::size_t again) {
  if (first != again) throw std::runtime_error(o.file + " changed while it was read");
}

// The first reading finds what is wrong with the file, and the bounds of the classes.
int count(const CountOptions& o, const Session& session) {
  constexpr std::size_t classes = 16;
  cycles::HistogramBounds bounds;
  reports::Count result{o.file, o.column};
  result.samples = read_cycles(
      o,
      [&](const cycles::Cycle& cycle) {
        bounds.add(cycle);
        result.cycles += cycle.count;
      },
      result.residue);
  if (o.json) {
    const auto [before, after] = reports::json_around_cycles(result.residue);
    std::string text = before;
    bool first = true;
    const auto write_cycle = [&](const cycles::Cycle& cycle) {
      text += reports::json_of_cycle(cycle, std::exchange(first, false));
      if (text.size() >= 65536) print(std::exchange(text, {}));
    };
    check_same(o, result.samples, read_cycles(o, write_cycle, result.residue));
    print(text + after);
    return 0;
  }
  result.ranges = bounds.empty(classes, 1);
  check_same(o, result.samples, read_cycles(o, [&](const cycles::Cycle& cycle) { add(result.ranges, cycle); }, result.residue));
  print(reports::cycles_document(result), session);
  return 0;
}

}  // namespace

void add_count(CLI::App& app, Session& session) {
  auto o = std::make_shared<CountOptions>();
  CLI::App* command = app.add_subcommand("count", "Rainflow count of a column of a text table");
  command
      ->add_option("file", o->file, "table: comma, semicolon or tab between columns, names in the first line")
      ->required();
  command->add_option("--column", o->column, "name of the column")->required();
  command->add_option("--residue", o->residue, "residue: half cycles, or as if the signal were repeated")
      ->check(CLI::IsMember({"half", "repeated"}))
      ->capture_default_str();
  command->add_option("--ignore-below", o->gate, "largest range that is ignored")->check(CLI::NonNegativeNumber);
  command->add_flag("--json", o->json, "one JSON document on stdout");
  command->callback([o, &session] { session.run = [o, &session] { return count(*o, session); }; });
}

}  // namespace seamwright::cli
