// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/published/published_data.h"

#include <toml++/toml.h>
#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <numbers>
#include <set>

#include "catalog/published/sha256.h"
#include "catalog/published/surface_names.h"
#include "engine/evidence/named_values.h"
#include "engine/rules/rule_sets.h"
#include "engine/rules/rules.h"

namespace seamwright::published {

namespace {

// One row being read: refuses what is missing, of the wrong kind, or unknown.
class Row {
 public:
  Row(const std::string& file, const toml::table& table) : file_(file), table_(table) {
    id_ = table.contains("id") ? text("id") : text("key");
  }
  [[noreturn]] void fail(const std::string& what) const {
    throw Fault{Message{"catalog.bad-row",
                        {seamwright::text("file", file_), number("line", table_.source().begin.line, ""),
                         seamwright::text("row", id_), seamwright::text("what", what)}}};
  }
  std::string text(const char* key) {
    seen_.insert(key);
    const auto value = table_[key].value_exact<std::string>();
    if (!value) fail(std::string("text wanted: ") + key);
    return *value;
  }
  double real(const char* key, std::optional<double> standard = std::nullopt) {
    seen_.insert(key);
    if (standard && !table_.contains(key)) return *standard;
    const auto value = table_[key].value<double>();
    if (!value || !table_[key].is_number() || !std::isfinite(*value))
      fail(std::string("finite number wanted: ") + key);
    return *value;
  }
  bool flag(const char* key) {
    seen_.insert(key);
    const auto value = table_[key].value_exact<bool>();
    if (!value) fail(std::string("true or false wanted: ") + key);
    return *value;
  }
  const toml::array& list(const char* key) {
    seen_.insert(key);
    const toml::array* array = table_[key].as_array();
    if (!array || array->empty()) fail(std::string("list wanted: ") + key);
    return *array;
  }
  Provenance provenance(const std::set<std::string>& keys) {
    seen_.insert("source");
    const toml::table* source = table_["source"].as_table();
    if (!source) fail("source missing");
    Provenance p;
    p.source.key = (*source)["key"].value_or(std::string());
    p.source.clause = (*source)["clause"].value_or(std::string());
    if (!keys.contains(p.source.key)) fail("source key is not in the bibliography: " + p.source.key);
    if (p.source.clause.empty()) fail("source clause missing");
    p.from_memory = flag("from_memory");
    if (table_.contains("note")) p.note = text("note");
    return p;
  }
  void finish() const {
    for (const auto& [key, value] : table_)
      if (!seen_.contains(std::string(key.str()))) fail("unknown key: " + std::string(key.str()));
  }
  bool has(const char* key) const { return table_.contains(key); }
  const std::string& id() const { return id_; }

 private:
  const std::string& file_;
  const toml::table& table_;
  std::string id_;
  std::set<std::string> seen_;
};

fatigue::StressKind stress_kind(Row& row) {
  const std::string name = row.text("stress");
  for (auto kind : {fatigue::StressKind::nominal, fatigue::StressKind::hot_spot, fatigue::StressKind::throat,
                    fatigue::StressKind::shear})
    if (name == fatigue::name_of(kind)) return kind;
  row.fail("unknown stress kind: " + name);
}

const rules::RuleSet* rule_set(Row& row) {
  const std::string name = row.text("set");
  if (const auto set = find_named(rules::rule_sets, name)) return *set;
  row.fail("unknown rule set: " + name);
}

fatigue::Curve read_curve(Row& row, const Provenance& provenance) {
  fatigue::Curve c;
  c.id = row.id();
  c.set = name_of(rule_set(row));
  c.edition = row.text("edition");
  c.environment = row.text("environment");
  if (!find_named(rules::environments, c.environment)) row.fail("unknown environment: " + c.environment);
  c.stress = stress_kind(row);
  for (const toml::node& node : row.list("segments")) {
    const toml::table* s = node.as_table();
    if (!s) row.fail("a segment is a table");
    fatigue::Segment segment{(*s)["slope"].value_or(0.0), (*s)["log_a"].value_or(0.0),
                             (*s)["to_cycles"].value_or(std::numeric_limits<double>::infinity())};
    if (!(segment.slope >= 1 && segment.log_a > 0 && segment.to_cycles > 0))
      row.fail("a segment needs slope and log_a");
    c.segments.push_back(segment);
  }
  if (row.has("cutoff_mpa")) c.cutoff_mpa = row.real("cutoff_mpa");
  c.reference_thickness_mm = row.real("reference_thickness_mm", 0.0);
  c.thickness_exponent = row.real("thickness_exponent", 0.0);
  c.source = provenance.source;
  c.from_memory = provenance.from_memory;
  for (double knee : fatigue::knees_mpa(c)) {
    const double jump =
        fatigue::cycles_to_failure(c, knee * (1 - 1e-9)) / fatigue::cycles_to_failure(c, knee * (1 + 1e-9));
    if (std::abs(jump - 1) > 0.02) row.fail("the branches do not meet at the knee");
  }
  return c;
}

joints::Layout layout_of(Row& row) {
  static const std::map<std::string, joints::Layout> layouts{{"tube-on-tube", joints::Layout::tube_on_tube},
                                                             {"tube-end", joints::Layout::tube_end},
                                                             {"slotted", joints::Layout::slotted},
                                                             {"plate-on-tube", joints::Layout::plate_on_tube},
                                                             {"unwelded", joints::Layout::unwelded}};
  const auto found = layouts.find(row.text("layout"));
  if (found == layouts.end()) row.fail("unknown layout: " + row.text("layout"));
  return found->second;
}

rules::Detail read_detail(Row& row, const Provenance& provenance) {
  rules::Detail d;
  d.id = row.id();
  d.set = rule_set(row);
  for (const toml::node& kind : row.list("kinds")) d.kinds.push_back(kind.value_or(std::string()));
  d.place = row.text("place");
  d.curve = row.text("curve");
  d.stress = stress_kind(row);
  d.max_attachment_mm = row.real("max_attachment_mm", 0.0);
  d.min_wall_mm = row.real("min_wall_mm", 0.0);
  d.size_exponent = row.real("size_exponent", 0.0);
  d.size_reference_mm = row.real("size_reference_mm", 0.0);
  d.source = provenance.source;
  d.from_memory = provenance.from_memory;
  return d;
}

std::string hash_of(const std::vector<DataFile>& files) {
  std::string all;
  for (const DataFile& file : files) all.append(file.name).append(1, '\0').append(file.text).append(1, '\0');
  return sha256_hex(all);
}

using Reader = std::function<void(Row&, const Provenance&)>;

void read_rows(const DataFile& file, const toml::table& table, const char* name,
               const std::set<std::string>& keys, const Reader& reader) {
  const toml::array* rows = table[name].as_array();
  if (!rows) return;
  std::set<std::string> ids;
  for (const toml::node& node : *rows) {
    const toml::table* fields = node.as_table();
    if (!fields) continue;
    Row row(file.name, *fields);
    const Provenance provenance = row.provenance(keys);
    reader(row, provenance);
    row.finish();
    const std::string key = row.id() + "/" + (fields->contains("set") ? row.text("set") : "") + "/" +
                            (fields->contains("environment") ? row.text("environment") : "");
    if (!ids.insert(key).second) row.fail("doubled id");
  }
}

void read_imperfections(Catalog& out, const DataFile& file, const toml::table& table,
                        const std::set<std::string>& keys) {
  read_rows(file, table, "imperfection", keys, [&](Row& row, const Provenance& p) {
    inspection::Imperfection i{row.id(),
                               row.text("number"),
                               row.text("name"),
                               row.text("weld"),
                               row.real("above_mm"),
                               row.real("to_mm"),
                               inspection::read_limit(row.text("D")),
                               inspection::read_limit(row.text("C")),
                               inspection::read_limit(row.text("B")),
                               p.source,
                               p.from_memory};
    if (i.weld != "butt" && i.weld != "fillet" && i.weld != "any") row.fail("unknown weld: " + i.weld);
    out.imperfections.push_back(i);
  });
  read_rows(file, table, "planar", keys, [&](Row& row, const Provenance& p) {
    out.planar.push_back({row.id(), row.text("begins"), row.text("name"), p});
    if (out.planar.back().begins.empty()) row.fail("begins with nothing");
  });
}

void read_file(Catalog& out, const DataFile& file, const toml::table& table,
               const std::set<std::string>& keys) {
  read_rows(file, table, "curve", keys, [&](Row& row, const Provenance& p) {
    out.data.curves.push_back(read_curve(row, p));
    out.curve_provenance.push_back(p);
  });
  read_rows(file, table, "detail", keys, [&](Row& row, const Provenance& p) {
    out.data.details.push_back(read_detail(row, p));
    out.detail_provenance.push_back(p);
  });
  read_rows(file, table, "road_class", keys, [&](Row& row, const Provenance& p) {
    out.road_classes.push_back(
        {row.id(), row.real("lower_m3"), row.real("mean_m3"), row.real("upper_m3"), row.real("knee_rad_m", 0), row.real("power", 0), p});
  });
  read_rows(file, table, "road_surface", keys, [&](Row& row, const Provenance& p) {
    out.road_surfaces.push_back({row.id(), row.real("gd_m3"), row.real("waviness"), row.real("knee_rad_m"), row.real("power"), row.real("reach"), p});
  });
  read_rows(file, table, "pair", keys, [&](Row& row, const Provenance& p) {
    rules::Pair pair{row.id(), rule_set(row), row.text("from"), stress_kind(row), rules::Pairing::permitted,
                     p.source};
    const std::string how = row.text("pairing");
    if (how != "permitted" && how != "engineering") row.fail("unknown pairing: " + how);
    if (how == "engineering") pair.pairing = rules::Pairing::engineering;
    out.data.pairs.push_back(pair);
    out.pair_provenance.push_back(p);
  });
  read_rows(file, table, "rig_case", keys, [&](Row& row, const Provenance& p) {
    out.rigs.push_back(
        {row.id(), row.text("kind"), row.real("force_n"), row.real("back_n"), row.real("cycles"), p});
  });
  read_rows(file, table, "tube_size", keys, [&](Row& row, const Provenance& p) {
    out.tubes.push_back({row.id(), row.real("diameter_mm"), row.real("wall_mm"), row.text("series"), p});
  });
  read_rows(file, table, "joint_kind", keys, [&](Row& row, const Provenance& p) {
    JointKind kind{row.id(), layout_of(row), {}, row.flag("needs_chord"), p};
    for (const toml::node& place : row.list("places")) kind.places.push_back(place.value_or(std::string()));
    out.joint_kinds.push_back(kind);
  });
  read_imperfections(out, file, table, keys);
  read_rows(file, table, "steel", keys, [&](Row& row, const Provenance& p) {
    frame::Material m{row.id(),
                      row.real("youngs_mpa"),
                      row.real("poisson"),
                      row.real("density_kg_m3"),
                      row.real("yield_mpa"),
                      row.real("ultimate_mpa")};
    out.steels.push_back({m, row.text("name"), row.text("condition"), p});
  });
}

template <class T>
const T* find(const std::vector<T>& rows, std::string_view id) {
  for (const T& row : rows)
    if (row.id == id) return &row;
  return nullptr;
}

// Every detail's curve and joint kinds are there, and its place is one where those kinds crack: else it would
// never be asked for, and nobody would know.
void check_details(const Catalog& all) {
  for (const rules::Detail& d : all.data.details) {
    const auto refuse = [&](const char* what) {
      throw Fault{Message{
          "catalog.bad-row",
          {text("file", "details.toml"), number("line", 0, ""), text("row", d.id), text("what", what)}}};
    };
    const auto own = [&](const fatigue::Curve& c) {
      return c.id == d.curve && rules::is_curve_of(*d.set, c);
    };
    if (!d.curve.empty() && std::none_of(all.data.curves.begin(), all.data.curves.end(), own))
      refuse("unknown curve");
    if (d.kinds.empty()) refuse("no joint kind");
    for (const std::string& kind : d.kinds) {
      const JointKind* known = find(all.joint_kinds, kind);
      if (!known) refuse("unknown joint kind");
      if (std::find(known->places.begin(), known->places.end(), d.place) == known->places.end())
        refuse("a place that the joint kind does not have");
    }
  }
}

}  // namespace

Catalog read_catalog(const std::vector<DataFile>& files) {
  Catalog out;
  std::vector<std::pair<const DataFile*, toml::table>> parsed;
  std::set<std::string> keys;
  for (const DataFile& file : files) {
    try {
      parsed.emplace_back(&file, toml::parse(file.text));
    } catch (const toml::parse_error& error) {
      throw Fault{Message{"catalog.bad-row",
                          {text("file", file.name), number("line", error.source().begin.line, ""),
                           text("row", ""), text("what", std::string(error.description()))}}};
    }
    if (const toml::array* rows = parsed.back().second["reference"].as_array())
      for (const toml::node& node : *rows)
        if (const toml::table* fields = node.as_table()) {
          Row row(file.name, *fields);
          out.bibliography.push_back(
              {row.id(), row.text("title"), row.text("edition"), row.text("publisher")});
          keys.insert(row.id());
        }
  }
  for (const auto& [file, table] : parsed) read_file(out, *file, table, keys);
  check_details(out);
  out.sha256 = hash_of(files);
  out.data.sha256 = out.sha256;
  return out;
}

const Catalog& catalog() {
  static const Catalog read = read_catalog(data_files());
  return read;
}

bool is_planar(const Catalog& catalog, std::string_view number) {
  return std::any_of(catalog.planar.begin(), catalog.planar.end(),
                     [&](const PlanarGroup& g) { return number.starts_with(g.begins); });
}

const Steel* find_steel(const Catalog& catalog, std::string_view id) {
  for (const Steel& steel : catalog.steels)
    if (steel.material.id == id) return &steel;
  return nullptr;
}
const JointKind* find_joint_kind(const Catalog& catalog, std::string_view id) {
  return find(catalog.joint_kinds, id);
}
const RigPreset* find_rig(const Catalog& catalog, std::string_view id) { return find(catalog.rigs, id); }
const RoadClass* find_road_class(const Catalog& catalog, std::string_view id) {
  return find(catalog.road_classes, id);
}
const RoadSurface* find_road_surface(const Catalog& catalog, std::string_view id) {
  return find(catalog.road_surfaces, id);
}

std::vector<std::string> surface_names() {
  std::vector<std::string> names;
  for (const RoadSurface& s : catalog().road_surfaces) names.push_back(s.id);
  return names;
}

// G_d(n) = 2 pi G_d(W) at W = 2 pi n.
double RoadSurface::gd_n0_m3() const {
  return 2 * std::numbers::pi * gd_m3 * std::pow(2 * std::numbers::pi * 0.1, -waviness);
}

}  // namespace seamwright::published
