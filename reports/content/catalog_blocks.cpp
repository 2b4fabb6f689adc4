// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/catalog_blocks.h"

#include <algorithm>

#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

// One row of a kind: its id, the cells after it, and where they are from.
struct Row {
  std::string id;
  std::vector<Cell> cells;
  published::Provenance from;
};
struct Kind {
  std::string name;
  std::vector<Message> columns;
  std::vector<Row> rows;
};

std::vector<Message> columns(MessageIds ids) {
  std::vector<Message> found;
  for (const MessageId id : ids) found.push_back(message_of(id));
  return found;
}

// 0 stands for "not stated" in the data.
Cell stated(double value, const char* unit) {
  if (value == 0) return message_of("word.not-stated");
  return Quantity{value, unit, 5};
}

std::string joined(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) all.append(all.empty() ? "" : ", ").append(word);
  return all;
}

std::string curve_id(const fatigue::Curve& c) {
  return std::string(c.set).append(".").append(c.environment).append(".").append(c.id);
}

Kind curves(const published::Catalog& c) {
  Kind k{"curves",
         columns({"column.stress", "column.slopes", "column.knee", "column.reference-thickness",
                  "column.exponent"}),
         {}};
  for (std::size_t i = 0; i < c.data.curves.size(); ++i) {
    const fatigue::Curve& curve = c.data.curves[i];
    std::string slopes;
    for (const fatigue::Segment& s : curve.segments)
      slopes.append(slopes.empty() ? "" : " / ").append(std::to_string(s.slope).substr(0, 4));
    const auto knees = fatigue::knees_mpa(curve);
    k.rows.push_back({curve_id(curve),
                      {term_cell("stress-kind.", fatigue::name_of(curve.stress)), Verbatim{slopes},
                       knees.empty() ? Cell{Verbatim{""}} : Cell{Quantity{knees[0], "MPa", 4}},
                       stated(curve.reference_thickness_mm, "mm"), Quantity{curve.thickness_exponent, "", 3}},
                      c.curve_provenance[i]});
  }
  return k;
}

Kind details(const published::Catalog& c) {
  Kind k{"details", columns({"column.rules", "column.joint-kind", "column.place", "column.curve"}), {}};
  for (std::size_t i = 0; i < c.data.details.size(); ++i) {
    const rules::Detail& d = c.data.details[i];
    k.rows.push_back({d.id,
                      {term_cell("rule-set.", name_of(d.set)), term_cell("joint-kind.", joined(d.kinds)), site_cell(d.place),
                       d.curve.empty() ? Cell{State{"not_covered"}} : curve_cell(d.curve)},
                      c.detail_provenance[i]});
  }
  return k;
}

Kind steels(const published::Catalog& c) {
  Kind k{"steels",
         columns({"column.name", "column.condition", "column.youngs", "column.yield", "column.ultimate"}),
         {}};
  for (const published::Steel& s : c.steels)
    k.rows.push_back({s.material.id,
                      {Verbatim{s.name}, Verbatim{s.condition}, Quantity{s.material.youngs_mpa, "MPa", 6},
                       stated(s.material.yield_mpa, "MPa"), stated(s.material.ultimate_mpa, "MPa")},
                      s.provenance});
  return k;
}

Kind tubes(const published::Catalog& c) {
  Kind k{"tubes", columns({"column.diameter", "column.wall", "column.series"}), {}};
  for (const published::TubeSize& t : c.tubes)
    k.rows.push_back({t.id,
                      {Quantity{t.diameter_mm, "mm", 5}, Quantity{t.wall_mm, "mm", 4}, Verbatim{t.series}},
                      t.provenance});
  return k;
}

Kind joint_kinds(const published::Catalog& c) {
  Kind k{"joint-kinds", columns({"column.name", "column.places"}), {}};
  for (const published::JointKind& j : c.joint_kinds)
    k.rows.push_back({j.id, {term_cell("joint-kind.", j.id), term_cell("site.", joined(j.places))}, j.provenance});
  return k;
}

Kind roads(const published::Catalog& c) {
  Kind k{"roads", columns({"column.lower", "column.mean", "column.upper", "column.knee", "column.power"}), {}};
  for (const published::RoadClass& r : c.road_classes)
    k.rows.push_back(
        {r.id,
         {stated(r.lower_m3, "m3"), stated(r.mean_m3, "m3"), stated(r.upper_m3, "m3"), stated(r.knee_rad_m, "rad/m"), stated(r.power, "")},
         r.provenance});
  return k;
}

Kind surfaces(const published::Catalog& c) {
  Kind k{"surfaces", columns({"column.name", "column.mean", "column.waviness", "column.knee", "column.power", "column.reach"}), {}};
  for (const published::RoadSurface& s : c.road_surfaces)
    k.rows.push_back({s.id,
                      {term_cell("surface-name.", s.id), stated(s.gd_n0_m3(), "m3"), Quantity{s.waviness, "", 2}, stated(s.knee_rad_m, "rad/m"), Quantity{s.power, "", 2},
                       Quantity{s.reach, "", 2}},
                      s.provenance});
  return k;
}

Kind rigs(const published::Catalog& c) {
  Kind k{"rigs", columns({"column.name", "column.force", "column.cycles"}), {}};
  for (const published::RigPreset& r : c.rigs)
    k.rows.push_back({r.id, {term_cell("rig-name.", r.id), stated(r.force_n, "N"), stated(r.cycles, "")}, r.provenance});
  return k;
}

Kind references(const published::Catalog& c) {
  Kind k{"references", columns({"column.title", "column.edition", "column.publisher"}), {}};
  for (const published::Reference& r : c.bibliography)
    k.rows.push_back({r.key, {Verbatim{r.title}, Verbatim{r.edition}, Verbatim{r.publisher}}, {}});
  return k;
}

std::vector<Kind> kinds(const published::Catalog& c) {
  return {curves(c), details(c), joint_kinds(c), references(c), rigs(c), roads(c), steels(c), surfaces(c), tubes(c)};
}

Document contents(const std::vector<Kind>& all) {
  Document d;
  d.title = message_of("catalog.title");
  Table t;
  t.columns = columns({"column.kind", "column.name", "column.rows"});
  for (const Kind& k : all)
    t.rows.push_back({Verbatim{k.name}, term_cell("catalog-kind.", k.name), Quantity{static_cast<double>(k.rows.size()), "", 6}});
  d.blocks.emplace_back(std::move(t));
  return d;
}

Document listing(const Kind& kind) {
  Document d;
  d.title = {"catalog.kind-title", {term_argument("kind", "catalog-kind.", kind.name)}};
  Table t;
  t.columns = {message_of("column.id")};
  t.columns.insert(t.columns.end(), kind.columns.begin(), kind.columns.end());
  const bool sourced = kind.name != "references";
  if (sourced) {
    t.columns.push_back(message_of("column.source-of"));
    t.columns.push_back(message_of("column.clause"));
    t.columns.push_back(message_of("column.read"));
  }
  for (const Row& row : kind.rows) {
    std::vector<Cell> cells{Verbatim{row.id}};
    cells.insert(cells.end(), row.cells.begin(), row.cells.end());
    if (sourced) {
      cells.emplace_back(source_cell(row.from.source.key));
      cells.emplace_back(Verbatim{row.from.source.clause});
      cells.emplace_back(message_of(row.from.from_memory ? MessageId("word.from-memory") : "word.as-read"));
    }
    t.rows.push_back(std::move(cells));
  }
  d.blocks.emplace_back(std::move(t));
  return d;
}

Document row_document(const Kind& kind, const Row& row) {
  Document d;
  d.title = {"catalog.row-title", {term_argument("kind", "catalog-kind.", kind.name), text("id", row.id)}};
  Facts facts;
  for (std::size_t i = 0; i < row.cells.size(); ++i) facts.facts.push_back({kind.columns[i], row.cells[i]});
  if (kind.name != "references") {
    facts.facts.push_back({message_of("column.source-of"), source_cell(row.from.source.key)});
    facts.facts.push_back({message_of("column.clause"), Verbatim{row.from.source.clause}});
    facts.facts.push_back(
        {message_of("column.read"),
         message_of(row.from.from_memory ? MessageId("word.from-memory") : "word.as-read")});
    if (!row.from.note.empty()) facts.facts.push_back({message_of("column.note"), Verbatim{row.from.note}});
  }
  d.blocks.emplace_back(std::move(facts));
  if (kind.name == "joint-kinds") {
    const std::string drawing(published::drawing_of(row.id));
    if (!drawing.empty()) d.blocks.emplace_back(Drawing{drawing, {"drawing.sites", {term_argument("kind", "joint-kind.", row.id)}}});
  }
  return d;
}

[[noreturn]] void unknown(MessageId id, const std::string& found, const std::vector<std::string>& known) {
  constexpr std::size_t most = 24;
  std::string list;
  for (std::size_t i = 0; i < std::min(most, known.size()); ++i) list.append(list.empty() ? "" : ", ").append(known[i]);
  if (known.size() > most) list.append(", …");
  throw Fault{Message{
      id, {text("found", found), text("nearest", published::nearest_or_some(found, known)), text("known", list)}}};
}

}  // namespace

std::vector<std::string> catalog_kinds() {
  return {"curves", "details", "joint-kinds", "references", "rigs", "roads", "steels", "surfaces", "tubes"};
}

Document catalog_document(const published::Catalog& catalog, const std::string& kind, const std::string& id) {
  const std::vector<Kind> all = kinds(catalog);
  const auto document = [&]() -> Document {
    if (kind.empty()) return contents(all);
    const auto k = std::find_if(all.begin(), all.end(), [&](const Kind& x) { return x.name == kind; });
    if (k == all.end()) unknown("catalog.unknown-kind", kind, catalog_kinds());
    if (id.empty()) return listing(*k);
    for (const Row& row : k->rows)
      if (row.id == id || (k->name == "curves" && row.id.ends_with(std::string(".").append(id))))
        return row_document(*k, row);
    std::vector<std::string> ids;
    for (const Row& r : k->rows) ids.push_back(r.id);
    unknown("catalog.unknown-id", id, ids);
  };
  Document d = document();
  d.foot = {{"foot.catalog", {text("hash", catalog.sha256.substr(0, 12))}}};
  return d;
}

}  // namespace seamwright::reports
