// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/begin.h"

#include <array>
#include <cmath>
#include <filesystem>
#include <optional>
#include <sstream>

#include "catalog/files/job_reader.h"
#include "catalog/files/patch.h"
#include "catalog/files/small_table.h"
#include "catalog/files/source.h"
#include "catalog/files/written.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/evidence/typed.h"
#include "engine/frame/assembly.h"
#include "engine/rating/rate.h"

namespace seamwright::files {

namespace {

std::string example_text(const std::string& name) {
  for (const published::DataFile& file : published::example_files())
    if (file.name == name) return file.text;
  throw std::runtime_error("no built-in " + name);
}

Fault outside_fault(MessageId id, MessageId measure, double value, const MeasureRange& range) {
  return Fault{Message{id,
                       {sentence_argument("measure", measure), number("value", value, "mm"),
                        number("least", range.least, "mm"), number("most", range.most, "mm")}}};
}

void check_within(MessageId what, double value, const MeasureRange& range) {
  if (!(value >= range.least && value <= range.most)) throw outside_fault("new.outside", what, value, range);
}

std::string design_text_of(const Measures& m) {
  std::string design = example_text("design.toml");
  const auto set = [&](const std::string& place, const PatchValue& value) {
    design = patched("design.toml", design, place, value);
  };
  set("name", m.name);
  set("revision", std::string("0"));
  set("note", std::string("Begun from a few measures on the layout of the demonstration, which is invented: "
                          "go through every line."));
  set("parameters.wheelbase", m.wheelbase_mm);
  set("parameters.half_hub", m.track_mm / 2);
  set("parameters.half_deck", m.box_width_mm / 2);
  for (const auto& [id, tube] : {std::pair("rail", m.platform), std::pair("spine", m.spine)}) {
    const std::string row = std::string("tube[").append(id).append("]");
    set(row + ".diameter_mm", tube.diameter_mm);
    set(row + ".wall_mm", tube.wall_mm);
  }
  return design;
}

// Says why the frame of these measures cannot be, if it cannot.
std::optional<Fault> fault_of(const Measures& m, const published::Catalog& catalog) {
  try {
    frame::assemble(design::frame_with_cuts(read_design_text("design.toml", design_text_of(m), catalog)),
                    frame::Footing::tyres);
  } catch (const Fault& fault) {
    return fault;
  }
  return std::nullopt;
}

struct Measure {
  MessageId name;
  double& (*value_in)(Measures&);
  MeasureRange looked_through;
  double step;
};

constexpr MeasureRange diameters{8, 150}, walls{0.5, 12};
constexpr Measure all_measures[] = {
    {"new.wheelbase", [](Measures& m) -> double& { return m.wheelbase_mm; }, wheelbase_range, 1},
    {"new.track", [](Measures& m) -> double& { return m.track_mm; }, track_range, 1},
    {"new.box-width", [](Measures& m) -> double& { return m.box_width_mm; }, box_width_range, 1},
    {"new.platform-diameter", [](Measures& m) -> double& { return m.platform.diameter_mm; }, diameters, 0.5},
    {"new.platform-wall", [](Measures& m) -> double& { return m.platform.wall_mm; }, walls, 0.1},
    {"new.spine-diameter", [](Measures& m) -> double& { return m.spine.diameter_mm; }, diameters, 0.5},
    {"new.spine-wall", [](Measures& m) -> double& { return m.spine.wall_mm; }, walls, 0.1}};

// Goes from a value that is sound towards a bound: the last one that still is, to the measure's step.
double last_sound_value(Measures m, const Measure& measure, double bound, const published::Catalog& catalog) {
  double& value = measure.value_in(m);
  const double whole = bound - value;
  double good = value, bad = bound;
  for (int i = 1; i <= 16; ++i) {
    value = bound - whole * (16 - i) / 16;
    if (fault_of(m, catalog)) {
      bad = value;
      break;
    }
    good = value;
  }
  if (good == bound) return bound;
  while (std::abs(bad - good) > 0.25 * measure.step) {
    value = 0.5 * (good + bad);
    (fault_of(m, catalog) ? bad : good) = value;
  }
  const double inwards = whole > 0 ? std::floor(good / measure.step) : std::ceil(good / measure.step);
  return inwards * measure.step;
}

// The members that a fault names, for the sentence about a measure.
std::string named_in(const Fault& fault) {
  std::string names;
  for (const Argument& a : fault.message.arguments)
    if (const auto* id = std::get_if<std::string>(&a.value);
        id && (a.name == "first" || a.name == "second" || a.name == "member" || a.name == "weld" ||
               a.name == "key" || a.name == "id"))
      if (names.find(*id) == std::string::npos) names.append(names.empty() ? "" : ", ").append(*id);
  return names.empty() ? fault.what() : names;
}

// Names the one measure that, put back to the layout's own, makes the frame possible, and the range that it
// takes with the others as they are. Where it needs more than one, the fault itself.
Fault with_nearest_bound(const Measures& m, const Fault& why, const published::Catalog& catalog) {
  for (const Measure& measure : all_measures) {
    Measures changed = m, standard;
    double& value = measure.value_in(changed);
    const double given = value;
    value = measure.value_in(standard);
    if (value == given || fault_of(changed, catalog)) continue;
    Fault fault = outside_fault("new.unsound", measure.name, given,
                                {last_sound_value(changed, measure, measure.looked_through.least, catalog),
                                 last_sound_value(changed, measure, measure.looked_through.most, catalog)});
    fault.message.arguments.push_back(text("members", named_in(why)));
    return fault;
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

void begin_job(const std::string& folder, const Measures& m, const published::Catalog& catalog) {
  const std::filesystem::path to = folder;
  for (const char* name : {"design.toml", "duty.toml"})
    if (std::filesystem::exists(to / name))
      throw Fault{Message{"new.exists", {text("file", (to / name).string())}}};
  check_within("new.wheelbase", m.wheelbase_mm, wheelbase_range);
  check_within("new.track", m.track_mm, track_range);
  check_within("new.box-width", m.box_width_mm, box_width_range);
  if (const std::optional<Fault> why = fault_of(m, catalog)) throw with_nearest_bound(m, *why, catalog);
  const std::string design = design_text_of(m),
                    duty = patched("duty.toml", example_text("duty.toml"), "name", m.name + " duty");
  rating::rate(
      read_job_texts((to / "design.toml").string(), design, (to / "duty.toml").string(), duty, catalog),
      catalog.data, rating::Method::spectral, {});
  std::error_code error;
  std::filesystem::create_directories(to, error);
  if (error) throw std::runtime_error("cannot make " + to.string() + ": " + error.message());
  write_text((to / "design.toml").string(), design);
  write_text((to / "duty.toml").string(), duty);
}

namespace {

using Values = std::vector<std::pair<std::string, PatchValue>>;

constexpr std::array axes{"x_mm", "y_mm", "z_mm"};

Values values_of(const TableRow& row, bool nodes) {
  Values values;
  if (nodes) {
    std::vector<double> at;
    for (const char* axis : axes) {
      if (!row.has(axis)) row.fail("import.bad-row", {text("column", axis)});
      at.push_back(row.real(axis));
    }
    values.emplace_back("position_mm", at);
  } else {
    std::vector<std::string> chain;
    std::istringstream listed(row.text_of("nodes"));
    for (std::string word; listed >> word;) chain.push_back(word);
    if (chain.size() < 2) row.fail("import.bad-row", {text("column", "nodes")});
    values.emplace_back("tube", row.text_of("tube"));
    values.emplace_back("nodes", chain);
  }
  if (row.has("mirror")) {
    const std::string word = row.text_of("mirror");
    if (word != "true" && word != "false") row.fail("import.bad-row", {text("column", "mirror")});
    values.emplace_back("mirror", word == "true");
  }
  return values;
}

// Adds the row behind the last of its kind, or at the end.
std::string with_row_added(const std::string& file, const std::string& content, const std::string& kind,
                           const std::string& id, const Values& values) {
  std::string row = "[[" + kind + "]]\nid = \"\"\n";
  row = patched(file, row, kind + "[0].id", id);
  const std::vector<WrittenTable> tables = written_tables(file, content);
  const WrittenTable* table = table_named(tables, kind);
  std::string out = content;
  if (table && !table->rows.empty() && !table->rows.back().id.empty()) {
    out = with_row_copied(file, out, table->rows.back().place, id);
    const std::string place = kind + "[" + id + "]";
    for (const WrittenValue& cell : table->rows.back().cells)  // nothing of the neighbour stays
      if (cell.form != Form::none && cell.place.substr(cell.place.rfind('.') + 1) != "id")
        out = without_value(file, out, place + cell.place.substr(table->rows.back().place.size()));
  } else {
    if (!out.empty() && out.back() != '\n') out.push_back('\n');
    out.append("\n").append(row);
  }
  for (auto value = values.rbegin(); value != values.rend(); ++value)
    out = patched(file, out, kind + "[" + id + "]." + value->first, value->second);
  return out;
}

}  // namespace

Imported import_table(const std::string& file, const std::string& content, const SourceFile& rows) {
  const std::string head = read_text(rows);
  const bool nodes = head.find("x_mm") != std::string::npos;
  Imported out{content, nodes ? "node" : "member", 0, 0};
  const std::vector<std::string> needed = nodes ? std::vector<std::string>{"id", "x_mm", "y_mm", "z_mm"}
                                                : std::vector<std::string>{"id", "tube", "nodes"};
  read_small_table(rows, needed, {"mirror"}, [&](const TableRow& row) {
    const std::string id = row.text_of("id");
    if (id.empty()) row.fail("import.bad-row", {text("column", "id")});
    const Values values = values_of(row, nodes);
    const std::vector<WrittenTable> tables = written_tables(file, out.text);
    const WrittenTable* table = table_named(tables, out.kind);
    bool there = false;
    for (std::size_t i = 0; table && i < table->rows.size(); ++i) there = there || table->rows[i].id == id;
    if (there) {
      for (const auto& [key, value] : values)
        out.text = patched(file, out.text, out.kind + "[" + id + "]." + key, value);
      ++out.changed;
    } else {
      out.text = with_row_added(file, out.text, out.kind, id, values);
      ++out.added;
    }
  });
  return out;
}

}  // namespace seamwright::files
