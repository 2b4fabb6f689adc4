// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/begin.h"

#include <array>
#include <filesystem>
#include <sstream>

#include "catalog/files/job.h"
#include "catalog/files/patch.h"
#include "catalog/files/small_table.h"
#include "catalog/files/source.h"
#include "catalog/files/written.h"
#include "engine/evidence/typed.h"
#include "engine/frame/assembly.h"
#include "engine/rating/geometry.h"

namespace seamwright::files {

namespace {

std::string example(const std::string& name) {
  for (const published::DataFile& file : published::example_files())
    if (file.name == name) return file.text;
  throw std::runtime_error("no built-in " + name);
}

void check(const char* what, double value, const MeasureRange& range) {
  if (value >= range.least && value <= range.most) return;
  throw Fault{Message{"new.outside",
                      {text("measure", what), number("value", value, "mm"),
                       number("least", range.least, "mm"), number("most", range.most, "mm")}}};
}

std::string designed(const Measures& m) {
  std::string design = example("design.toml");
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
  check("wheelbase", m.wheelbase_mm, wheelbase_range);
  check("track", m.track_mm, track_range);
  check("box width", m.box_width_mm, box_width_range);
  const std::string design = designed(m),
                    duty = patched("duty.toml", example("duty.toml"), "name", m.name + " duty");
  const rating::Design read = read_design_text((to / "design.toml").string(), design, catalog);
  frame::assemble(rating::frame_with_cuts(read), frame::On::tyres);
  read_duty_text((to / "duty.toml").string(), duty, catalog);
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
    std::istringstream words(row.word("nodes"));
    for (std::string word; words >> word;) chain.push_back(word);
    if (chain.size() < 2) row.fail("import.bad-row", {text("column", "nodes")});
    values.emplace_back("tube", row.word("tube"));
    values.emplace_back("nodes", chain);
  }
  if (row.has("mirror")) {
    const std::string word = row.word("mirror");
    if (word != "true" && word != "false") row.fail("import.bad-row", {text("column", "mirror")});
    values.emplace_back("mirror", word == "true");
  }
  return values;
}

// Behind the last row of its kind, or at the end.
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
    for (const Written& cell : table->rows.back().cells)  // nothing of the neighbour stays
      if (cell.form != Form::none && cell.place.substr(cell.place.rfind('.') + 1) != "id")
        out = without(file, out, place + cell.place.substr(table->rows.back().place.size()));
  } else {
    if (!out.empty() && out.back() != '\n') out.push_back('\n');
    out.append("\n").append(row);
  }
  for (auto value = values.rbegin(); value != values.rend(); ++value)
    out = patched(file, out, kind + "[" + id + "]." + value->first, value->second);
  return out;
}

}  // namespace

Imported import_table(const std::string& file, const std::string& content, const std::string& table_path) {
  const std::string head = read_text(table_path);
  const bool nodes = head.find("x_mm") != std::string::npos;
  Imported out{content, nodes ? "node" : "member", 0, 0};
  const std::vector<std::string> needed = nodes ? std::vector<std::string>{"id", "x_mm", "y_mm", "z_mm"}
                                                : std::vector<std::string>{"id", "tube", "nodes"};
  read_small_table(table_path, needed, {"mirror"}, [&](const TableRow& row) {
    const std::string id = row.word("id");
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
