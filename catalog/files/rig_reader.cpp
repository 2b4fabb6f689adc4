// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/rig_reader.h"

#include <algorithm>

#include "catalog/files/parse.h"

namespace seamwright::files {

namespace {

std::string node_id(Reader& r, const frame::Frame& frame) {
  std::string id = r.id("node");
  std::vector<std::string> ids;
  for (const frame::Node& n : frame.nodes) ids.push_back(n.id);
  if (std::find(ids.begin(), ids.end(), id) == ids.end()) r.refuse_unknown("node", id, ids);
  return id;
}

frame::Support read_fixing(Reader r, const frame::Frame& frame) {
  frame::Support s{node_id(r, frame), {}};
  const std::vector<std::string> names{"ux", "uy", "uz", "rx", "ry", "rz"};
  for (const std::string& name : r.texts("fixed")) {
    const auto it = std::find(names.begin(), names.end(), name);
    if (it == names.end()) r.fail("file.out-of-range", "fixed", name, "ux, uy, uz, rx, ry, rz");
    s.fixed.at(static_cast<std::size_t>(it - names.begin())) = true;
  }
  r.finish();
  return s;
}

// Forces swing between `from` (nothing, unless stated) and `to`.
std::vector<std::vector<frame::NodeLoad>> read_forces(Reader& r, const frame::Frame& frame) {
  std::vector<std::vector<frame::NodeLoad>> steps(2);
  for (const toml::table* table : r.tables("force")) {
    Reader f = r.sub_reader("force", *table);
    const std::string node = node_id(f, frame);
    const frame::Vec3 none = frame::Vec3::Zero();
    steps[0].push_back({node, f.vector_or("from_n", none), f.vector_or("from_nmm", none, true)});
    steps[1].push_back({node, f.vector_or("to_n", none), f.vector_or("to_nmm", none, true)});
    f.finish();
  }
  if (steps[0].empty()) r.refuse_missing("force", "one table [[case.force]] or more");
  return steps;
}

void take_preset(Reader& r, const rating::Job& job, const published::Catalog& catalog, measured::RigCase& c) {
  const std::string id = r.text("published");
  const published::RigPreset* preset = published::find_rig(catalog, id);
  if (!preset) {
    std::vector<std::string> ids;
    for (const published::RigPreset& p : catalog.rigs) ids.push_back(p.id);
    r.refuse_unknown("published", id, ids);
  }
  c.source = preset->provenance.source;
  c.from_memory = preset->provenance.from_memory;
  c.cycles = preset->cycles;
  // A duty on which nobody pedals has no drive unless it states one.
  if (preset->kind == "pedalling" && !(job.duty.drive.chainring_radius_mm > 0))
    r.fail("file.out-of-range", "published", id,
           "a duty with pedalling or with [drive]: its chain pulls in this case");
  if (preset->kind == "pedalling")
    c.steps = measured::pedalling_steps(job.design, job.duty.drive, preset->force_n);
  else if (preset->kind == "vertical-at-seat")
    c.steps = measured::seat_steps(job.design, preset->force_n);
  else
    c.not_applicable = preset->kind;
}

measured::RigCase read_case(Reader r, const rating::Job& job, const published::Catalog& catalog) {
  measured::RigCase c;
  c.id = r.id("id");
  if (r.has("published")) {
    take_preset(r, job, catalog, c);
    if (r.has("cycles")) c.cycles = r.real("cycles", {1, 1e9});
  } else {
    c.source = {"seamwright", r.text("source")};
    c.cycles = r.real("cycles", {1, 1e9});
    c.steps = read_forces(r, job.design.frame);
  }
  for (const toml::table* table : r.tables("fixing"))
    c.fixings.push_back(read_fixing(r.sub_reader("fixing", *table), job.design.frame));
  if (c.fixings.empty() && c.not_applicable.empty())
    r.refuse_missing("fixing", "one table [[case.fixing]] or more");
  r.finish();
  return c;
}

}  // namespace

std::vector<measured::RigCase> read_rigs(const SourceFile& file, const rating::Job& job,
                                         const published::Catalog& catalog) {
  const toml::table table = parse(file.name, read_text(file));
  Reader root(file, "rig", table, nullptr, nullptr);
  root.choice("format", {"seamwright.rig/1"});
  root.text_or("note", "");
  std::vector<measured::RigCase> cases;
  for (const toml::table* t : root.tables("case")) {
    Reader r = root.sub_reader("case", *t);
    cases.push_back(read_case(r, job, catalog));
    const std::string id = cases.back().id;
    if (std::count_if(cases.begin(), cases.end(), [&](const auto& c) { return c.id == id; }) > 1)
      r.fail("file.doubled-id", "id", id, "an id of its own");
  }
  if (cases.empty()) root.refuse_missing("case", "one table [[case]] or more");
  root.finish();
  return cases;
}

}  // namespace seamwright::files
