// SPDX-License-Identifier: GPL-3.0-or-later
// new: a few measures give a whole front-loader job to refine, from the demonstration's layout.
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/begin.h"
#include "catalog/published/published_data.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

struct NewOptions {
  std::string folder, platform = "40x2", spine = "60x3";
  files::Measures measures;
};

int make(NewOptions o, const Session& session) {
  o.measures.platform = files::round_tube_of(o.platform);
  o.measures.spine = files::round_tube_of(o.spine);
  files::begin_job(o.folder, o.measures, published::catalog());
  print(reports::sentence({"new.done", {text("folder", o.folder)}}, session.language) + "\n");
  return 0;
}

std::string tube_fault(const std::string& words) {
  try {
    files::round_tube_of(words);
  } catch (const Fault& fault) {
    return reports::sentence(fault.message, reports::language_named("en"));
  }
  return {};
}

CLI::Range range_of(const files::MeasureRange& r) { return {r.least, r.most}; }

}  // namespace

void add_new(CLI::App& app, Session& session) {
  auto o = std::make_shared<NewOptions>();
  o->measures.name = "New trike";
  CLI::App* command = app.add_subcommand("new", "A whole front-loader job from a few measures, to refine");
  command->add_option("folder", o->folder, "where to put design.toml and duty.toml")->required();
  command->add_option("--name", o->measures.name, "of the design")->capture_default_str();
  command->add_option("--wheelbase", o->measures.wheelbase_mm, "front axle to rear axle, mm")
      ->check(range_of(files::wheelbase_range))
      ->capture_default_str();
  command->add_option("--track", o->measures.track_mm, "between the front wheels, mm")
      ->check(range_of(files::track_range))
      ->capture_default_str();
  command->add_option("--box-width", o->measures.box_width_mm, "of the platform, between its tubes' axes, mm")
      ->check(range_of(files::box_width_range))
      ->capture_default_str();
  command->add_option("--platform-tube", o->platform, "diameter x wall, mm")
      ->check(tube_fault)
      ->capture_default_str();
  command->add_option("--spine-tube", o->spine, "diameter x wall, mm")
      ->check(tube_fault)
      ->capture_default_str();
  command->callback([o, &session] { session.run = [o, &session] { return make(*o, session); }; });
}

}  // namespace seamwright::cli
