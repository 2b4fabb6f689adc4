// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/begin.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <iterator>
#include <optional>
#include <set>

#include "catalog/files/job_reader.h"
#include "catalog/files/patch.h"
#include "catalog/files/source.h"
#include "catalog/files/written.h"
#include "catalog/published/built_in.h"
#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/evidence/typed.h"
#include "engine/frame/assembly.h"
#include "engine/rating/rate.h"
#include "engine/shape/checks.h"

namespace seamwright::files {

namespace {

namespace fs = std::filesystem;

constexpr const char* layout = "orchard-trike-b/";
constexpr const char* forms = "pattern/";

const std::string& built_in_text(const std::string& name) {
  for (const published::DataFile& file : published::demonstration_files())
    if (file.name == name) return file.text;
  throw std::runtime_error("no built-in " + name);
}

// Lines of the layout that claim what a new shop has not shown: its macro sections and the strengths of its tubes.
std::string without_claims(std::string design) {
  const std::vector<WrittenTable> tables = written_tables("design.toml", design);
  if (const WrittenTable* welds = table_named(tables, "weld"))
    for (const WrittenRow& row : welds->rows)
      for (const WrittenValue& cell : row.cells)
        if (cell.form != Form::none && cell.place.ends_with(".root_proof"))
          design = without_value("design.toml", design, cell.place);
  if (const WrittenTable* steels = table_named(tables, "steel"))
    for (std::size_t i = steels->rows.size(); i-- > 0;)
      design = without_row("design.toml", design, "steel[" + std::to_string(i) + "]");
  const std::string claim = "# Strengths, invented", own =
      "# Strengths: a [[steel]] table for each steel, from the certificates of your tubes and from your procedure test.";
  if (const std::size_t at = design.find(claim); at != std::string::npos)
    design.replace(at, design.find('\n', at) - at, own);
  for (const auto& [old, name] : {std::pair("\"TIG-FUSED-2\"", "\"TIG-THIN\""), std::pair("\"TIG-FUSED-4\"", "\"TIG-THICK\"")})
    for (std::size_t at = design.find(old); at != std::string::npos; at = design.find(old, at))
      design.replace(at, std::string(old).size(), name);
  return design;
}

// A parameter of the layout is so many times its answer.
struct Parameter {
  Ask ask;
  const char* name;
  double scale;
};
constexpr Parameter parameters[] = {
    {Ask::front_wheel, "hub_z", 0.5},    {Ask::rear_wheel, "rear_hub_z", 0.5}, {Ask::deck_height, "deck_z", 1},
    {Ask::bottom_bracket, "bb_x", 1},    {Ask::bottom_bracket_height, "bb_z", 1}, {Ask::wheelbase, "wheelbase", 1},
    {Ask::box_ahead, "box_ahead", 1},    {Ask::box_length, "box_length", 1},   {Ask::box_width, "half_deck", 0.5},
    {Ask::track, "half_hub", 0.5},       {Ask::box_height, "box_height", 1},   {Ask::load_ahead, "load_ahead", 1},
    {Ask::saddle_height, "saddle_z", 1}, {Ask::bar_height, "bar_z", 1}};
static_assert(std::size(parameters) == frame_ask_count);

// Says why the frame cannot be, or its welds cannot be made, if so.
std::optional<Fault> fault_of(const NewJob& job, const published::Catalog& catalog) {
  try {
    const design::Design design = read_design_text("design.toml", new_design_text(job), catalog);
    frame::assemble(design::frame_with_cuts(design), frame::Footing::tyres);
    for (const shape::WeldFinding& finding : shape::weld_findings(design))
      if (!finding.preparation) return Fault{finding.message};
  } catch (const Fault& fault) {
    return fault;
  }
  return std::nullopt;
}

struct TubeMeasure {
  MessageId fault;
  double frame::RoundTube::* value;
  AskRange looked_through;
  double step;
};
constexpr TubeMeasure tube_measures[] = {{"new.unsound-diameter", &frame::RoundTube::diameter_mm, {8, 150}, 0.5},
                                         {"new.unsound-wall", &frame::RoundTube::wall_mm, {0.5, 12}, 0.1}};

// Goes from a value that is sound towards a bound: the last one that still is, to the measure's step.
double last_sound_value(double sound, double bound, double step, const std::function<bool(double)>& is_sound) {
  const double whole = bound - sound;
  double good = sound, bad = bound;
  for (int i = 1; i <= 16; ++i) {
    const double value = bound - whole * (16 - i) / 16;
    if (!is_sound(value)) {
      bad = value;
      break;
    }
    good = value;
  }
  if (good == bound) return bound;
  while (std::abs(bad - good) > 0.25 * step) {
    const double value = 0.5 * (good + bad);
    (is_sound(value) ? good : bad) = value;
  }
  const double inwards = whole > 0 ? std::floor(good / step) : std::ceil(good / step);
  return inwards * step;
}

// The members that a fault names, for the sentence about a tube.
std::string named_in(const Fault& fault) {
  std::string names;
  for (const Argument& a : fault.message.arguments)
    if (const auto* id = std::get_if<std::string>(&a.value);
        id && (a.name == "first" || a.name == "second" || a.name == "member" || a.name == "weld" ||
               a.name == "key" || a.name == "id" || a.name == "chord"))
      if (names.find(*id) == std::string::npos) names.append(names.empty() ? "" : ", ").append(*id);
  return names.empty() ? fault.what() : names;
}

const frame::RoundTube& pattern_tube(const std::string& id) {
  std::vector<std::string> ids;
  for (const auto& [name, tube] : pattern_tubes()) {
    if (name == id) return tube;
    ids.push_back(name);
  }
  throw Fault{Message{"new.unknown-tube", {text("tube", id), text("nearest", published::nearest_or_some(id, ids))}}};
}

// Names the one diameter or wall that, put back to the layout's own, makes the frame possible, and the range that it takes with the
// rest as it is. Where it needs more than one, the fault itself.
Fault with_nearest_bound(NewJob job, const Fault& why, const published::Catalog& catalog) {
  for (auto& [id, tube] : job.tubes)
    for (const TubeMeasure& m : tube_measures) {
      double& value = tube.*m.value;
      const double asked = value, own = pattern_tube(id).*m.value;
      const auto is_sound = [&](double v) {
        value = v;
        return !fault_of(job, catalog);
      };
      if (asked != own && is_sound(own)) {
        const double least = last_sound_value(own, m.looked_through.least, m.step, is_sound),
                     most = last_sound_value(own, m.looked_through.most, m.step, is_sound);
        return Fault{Message{m.fault,
                             {text("tube", id), number("value", asked, "mm"), number("least", least, "mm"),
                              number("most", most, "mm"), text("members", named_in(why))}}};
      }
      value = asked;
    }
  return why;
}

}  // namespace

frame::RoundTube round_tube_of(const std::string& words) {
  if (const std::size_t x = words.find('x'); x != std::string::npos) {
    const auto diameter = typed_number(words.substr(0, x)), wall = typed_number(words.substr(x + 1));
    if (diameter && wall && *wall > 0 && 2 * *wall < *diameter) return {*diameter, *wall};
  }
  throw Fault{Message{"new.bad-tube", {text("tube", words)}}};
}

std::pair<std::string, frame::RoundTube> named_tube_of(const std::string& words) {
  const std::size_t equals = words.find('=');
  if (equals == std::string::npos) throw Fault{Message{"new.bad-tube", {text("tube", words)}}};
  const std::string id = words.substr(0, equals);
  pattern_tube(id);
  return {id, round_tube_of(words.substr(equals + 1))};
}

const std::vector<std::pair<std::string, frame::RoundTube>>& pattern_tubes() {
  static const auto tubes = [] {
    std::vector<std::pair<std::string, frame::RoundTube>> all;
    const std::vector<WrittenTable> tables =
        written_tables("design.toml", built_in_text(std::string(layout) + "design.toml"));
    const WrittenTable* rows = table_named(tables, "tube");
    for (const WrittenRow& row : rows->rows) {
      frame::RoundTube tube{0, 0};
      for (const WrittenValue& cell : row.cells) {
        if (cell.place.ends_with(".diameter_mm")) tube.diameter_mm = typed_number(cell.shown).value_or(0);
        if (cell.place.ends_with(".wall_mm")) tube.wall_mm = typed_number(cell.shown).value_or(0);
      }
      if (tube.wall_mm > 0) all.emplace_back(row.id, tube);
    }
    return all;
  }();
  return tubes;
}

std::string new_design_text(const NewJob& job) {
  const Answers a = answered(job.given);
  static const std::string pattern = without_claims(built_in_text(std::string(layout) + "design.toml"));
  std::string design = job.wording.file(pattern);
  const auto set = [&](const std::string& place, const PatchValue& value) {
    design = patched("design.toml", design, place, value);
  };
  set("name", job.name);
  set("revision", std::string("0"));
  set("note", job.wording.text("note", "Begun from a few measures on the layout of the demonstration, which is invented: go through every line. No "
                                       "root is proven, no strength stated yet."));
  set("inside", std::string(design::name_of(job.inside)));
  for (const auto& [ask, parameter, scale] : parameters)
    set(std::string("parameters.").append(parameter), scale * a[ask]);
  std::set<std::string> given;
  for (const auto& [id, tube] : job.tubes) {
    pattern_tube(id);
    if (!given.insert(id).second) throw Fault{Message{"usage.given-twice", {text("found", id)}}, Category::usage};
    const std::string row = "tube[" + id + "]";
    set(row + ".diameter_mm", tube.diameter_mm);
    set(row + ".wall_mm", tube.wall_mm);
  }
  return design;
}

std::string new_duty_text(const NewJob& job) {
  const Answers a = answered(job.given);
  std::string duty = job.wording.file(built_in_text(std::string(layout) + "duty.toml"));
  const auto set = [&](const std::string& place, const PatchValue& value) { duty = patched("duty.toml", duty, place, value); };
  set("name", fmt::format(fmt::runtime(job.wording.text("new", "{name} duty")), fmt::arg("name", job.name)));
  set("revision", std::string("0"));
  set("note", job.wording.text("note", "Begun from plain questions. Roads, speeds, kerbs, pedalling and shares are the demonstration's, assumptions "
                                       "without a published source: go through every line."));
  set("years", a[Ask::years]);
  set("rider.mass_kg", a[Ask::rider]);
  set("trip[round].trips_per_year", a[Ask::trips]);
  const double bad = a[Ask::distance] * a[Ask::bad_road] / 100;
  for (const char* way : {"out", "back"}) {
    const std::string lane = std::string("trip[round].leg[lane-").append(way).append("]."),
                      road = std::string("trip[round].leg[road-").append(way).append("].");
    set(lane + "distance_km", bad);
    set(road + "distance_km", a[Ask::distance] - bad);
  }
  for (const char* leg : {"lane-out", "road-out"})
    set(std::string("trip[round].leg[").append(leg).append("].payload_kg"), a[Ask::payload]);
  set("rules.consequence", std::string(rules::name_of(job.hurt)));
  const bool looked_at = a[Ask::look_every] > 0;
  set("rules.strategy", std::string(rules::name_of(looked_at ? rules::Strategy::inspected : rules::Strategy::safe_life)));
  if (looked_at) set("rules.look_every_km", a[Ask::look_every]);
  else duty = without_value("duty.toml", duty, "rules.look_every_km");
  return duty;
}

std::vector<std::string> begin_job(const std::string& folder, const NewJob& job, const published::Catalog& catalog) {
  const fs::path to = folder;
  std::vector<std::pair<std::string, std::string>> texts{{"design.toml", new_design_text(job)},
                                                         {"duty.toml", new_duty_text(job)}};
  for (const published::DataFile& file : published::demonstration_files())
    if (file.name.starts_with(forms)) texts.emplace_back(file.name.substr(std::string(forms).size()), job.wording.file(file.text));
  for (const auto& [name, content] : texts)
    if (fs::exists(to / name)) throw Fault{Message{"new.exists", {text("file", (to / name).string())}}};
  if (const std::optional<Fault> why = fault_of(job, catalog)) throw with_nearest_bound(job, *why, catalog);
  rating::rate(read_job_texts((to / "design.toml").string(), texts[0].second, (to / "duty.toml").string(), texts[1].second, catalog),
               catalog.data, rating::Method::spectral, {});
  std::vector<std::string> names;
  for (const auto& [name, content] : texts) {
    std::error_code error;
    fs::create_directories((to / name).parent_path(), error);
    if (error) throw std::runtime_error("cannot make " + to.string() + ": " + error.message());
    write_text((to / name).string(), content);
    names.push_back(name);
  }
  return names;
}

}  // namespace seamwright::files
