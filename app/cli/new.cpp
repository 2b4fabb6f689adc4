// SPDX-License-Identifier: GPL-3.0-or-later
// new: a few measures give a whole front-loader job to refine, from the demonstration's layout.
#include <filesystem>
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/job.h"
#include "catalog/files/patch.h"
#include "engine/frame/assembly.h"
#include "engine/rating/geometry.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

struct Options {
  std::string folder, name = "New trike", platform = "40x2", spine = "60x3";
  double wheelbase_mm = 1250, track_mm = 820, box_width_mm = 560;
};

// "60x3" in mm.
frame::RoundTube tube_of(const std::string& text) {
  const std::size_t x = text.find('x');
  try {
    if (x != std::string::npos) {
      std::size_t first = 0, second = 0;
      const frame::RoundTube t{std::stod(text.substr(0, x), &first), std::stod(text.substr(x + 1), &second)};
      if (first == x && second == text.size() - x - 1 && t.wall_mm > 0 && 2 * t.wall_mm < t.diameter_mm)
        return t;
    }
  } catch (const std::logic_error&) {  // no number there
  }
  throw CLI::ValidationError(text, "expected diameter x wall in mm, such as 60x3");
}

std::string content_of(const std::string& name) {
  for (const published::DataFile& file : published::example_files())
    if (file.name == name) return file.text;
  throw std::runtime_error("no built-in " + name);
}

int make(const Options& o, const Session& session) {
  const std::filesystem::path folder = o.folder;
  for (const char* name : {"design.toml", "duty.toml"})
    if (std::filesystem::exists(folder / name))
      throw Fault{Message{"new.exists", {text("file", (folder / name).string())}}};
  std::string design = content_of("design.toml"), duty = content_of("duty.toml");
  const auto set = [&](const char* place, const files::PatchValue& value) {
    design = files::patched("design.toml", design, place, value);
  };
  set("name", o.name);
  set("revision", std::string("0"));
  set("note", std::string("Begun from a few measures on the layout of the demonstration, which is invented: "
                          "go through every line."));
  set("parameters.wheelbase", o.wheelbase_mm);
  set("parameters.half_hub", o.track_mm / 2);
  set("parameters.half_deck", o.box_width_mm / 2);
  for (const auto& [id, text] : {std::pair{"rail", &o.platform}, std::pair{"spine", &o.spine}}) {
    const frame::RoundTube tube = tube_of(*text);
    set((std::string("tube[") + id + "].diameter_mm").c_str(), tube.diameter_mm);
    set((std::string("tube[") + id + "].wall_mm").c_str(), tube.wall_mm);
  }
  duty = files::patched("duty.toml", duty, "name", o.name + " duty");
  // Nothing is written that could not be rated.
  const published::Catalog& catalog = published::catalog();
  const rating::Design read = files::read_design_text((folder / "design.toml").string(), design, catalog);
  frame::assemble(rating::frame_with_cuts(read), frame::On::tyres);
  files::read_duty_text((folder / "duty.toml").string(), duty, catalog);
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error) throw std::runtime_error("cannot make " + folder.string() + ": " + error.message());
  write_file((folder / "design.toml").string(), design);
  write_file((folder / "duty.toml").string(), duty);
  print(reports::sentence({"new.done", {text("folder", folder.string())}}, session.language) + "\n");
  return 0;
}

}  // namespace

void add_new(CLI::App& app, Session& session) {
  auto o = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("new", "A whole front-loader job from a few measures, to refine");
  command->add_option("folder", o->folder, "where to put design.toml and duty.toml")->required();
  command->add_option("--name", o->name, "of the design")->capture_default_str();
  command->add_option("--wheelbase", o->wheelbase_mm, "front axle to rear axle, mm")
      ->check(CLI::Range(900.0, 2200.0))
      ->capture_default_str();
  command->add_option("--track", o->track_mm, "between the front wheels, mm")
      ->check(CLI::Range(500.0, 1200.0))
      ->capture_default_str();
  command->add_option("--box-width", o->box_width_mm, "of the platform, between its tubes' axes, mm")
      ->check(CLI::Range(300.0, 1000.0))
      ->capture_default_str();
  command->add_option("--platform-tube", o->platform, "diameter x wall, mm")->capture_default_str();
  command->add_option("--spine-tube", o->spine, "diameter x wall, mm")->capture_default_str();
  command->callback([o, &session] { session.run = [o, &session] { return make(*o, session); }; });
}

}  // namespace seamwright::cli
