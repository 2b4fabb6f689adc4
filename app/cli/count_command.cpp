// SPDX-License-Identifier: GPL-3.0-or-later
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/column.h"
#include "reports/content/cycles_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct CountOptions {
  std::string file, column, residue = "half";
  double gate = 0;
  bool json = false;
};

int count(const CountOptions& o, const Session& session) {
  cycles::Rainflow rainflow(o.gate);
  reports::Count result{o.file, o.column, 0, {}, {}};
  result.samples = files::read_column(
      o.file, o.column, [&](std::span<const double> block) { rainflow.push(block, result.cycles); });
  rainflow.finish(o.residue == "half" ? cycles::Residue::half : cycles::Residue::repeated, result.cycles);
  result.residue = rainflow.residue();
  if (o.json)
    print(reports::to_json(result));
  else
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
  command->add_option("--residue", o->residue, "half cycles, or as if the signal were repeated")
      ->check(CLI::IsMember({"half", "repeated"}))
      ->capture_default_str();
  command->add_option("--gate", o->gate, "ranges up to this are left out")->check(CLI::NonNegativeNumber);
  command->add_flag("--json", o->json, "one JSON document on stdout");
  command->callback([o, &session] { session.run = [o, &session] { return count(*o, session); }; });
}

}  // namespace seamwright::cli
