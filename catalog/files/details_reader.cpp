// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/details_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "catalog/files/parse.h"
#include "catalog/files/small_table.h"

namespace seamwright::files {

namespace {

constexpr std::array tested_stresses{fatigue::StressKind::nominal, fatigue::StressKind::hot_spot,
                                     fatigue::StressKind::throat};

void check_place(Reader& r, const std::vector<std::string>& kinds, const std::string& place,
                 const published::Catalog& catalog) {
  for (const std::string& kind : kinds) {
    const published::JointKind* known = published::find_joint_kind(catalog, kind);
    if (!known) r.fail("file.unknown-id", "kinds", kind, "a joint kind of the catalog");
    if (std::find(known->places.begin(), known->places.end(), place) == known->places.end())
      r.fail("file.unknown-id", "place", place, "a place of that joint kind");
  }
}

design::OwnDetail read_detail(Reader& r, const published::Catalog& catalog) {
  design::OwnDetail d;
  r.expects({"min_wall_mm", "max_wall_mm"});  // they look like one another
  d.id = r.id("id");
  d.by = r.text("by");
  d.kinds = r.texts("kinds");
  d.place = r.text("place");
  check_place(r, d.kinds, d.place, catalog);
  d.stress = r.one_of("stress", tested_stresses);
  d.min_wall_mm = r.real("min_wall_mm", positive);
  d.max_wall_mm = r.real("max_wall_mm", positive);
  if (d.max_wall_mm < d.min_wall_mm)
    r.fail("file.out-of-range", "max_wall_mm", number_as_typed(d.max_wall_mm), "at least min_wall_mm");
  fatigue::Curve& c = d.curve;
  c.id = d.id;
  c.set = "shop";
  c.edition = "own tests";
  c.environment = "air";
  c.stress = d.stress;
  c.segments = {
      {r.real("slope", {1, 30}), r.real("design_log_a", {1, 60}), std::numeric_limits<double>::infinity()}};
  c.scatter_log_n = r.real("deviation_log_n", {0, 3});
  c.source = {"own-tests", d.id};
  for (const char* key : {"survival", "confidence", "failures", "run_outs"}) r.real(key, {0, 1e6});
  r.text("tests_sha256");
  return d;
}

}  // namespace

std::vector<design::OwnDetail> read_own_details(const SourceFile& folder, const published::Catalog& catalog) {
  std::vector<design::OwnDetail> details;
  for (const SourceFile& file : folder.files_in(".toml")) {
    const toml::table table = parse(file.name, read_text(file));
    Reader root(file, "details", table, nullptr, nullptr);
    root.choice("format", {"seamwright.details/1"});
    root.text_or("note", "");
    for (const toml::table* t : root.tables("detail")) {
      Reader r = root.sub_reader("detail", *t);
      details.push_back(read_detail(r, catalog));
      r.finish();
      if (std::count_if(details.begin(), details.end(),
                        [&](const auto& d) { return d.id == details.back().id; }) > 1)
        r.fail("file.doubled-id", "id", details.back().id, "an id of its own");
    }
    root.finish();
  }
  return details;
}

std::string own_detail_text(const fatigue::Fit& fit, const fatigue::FitOptions& how, const OwnDetailRow& what,
                            const std::string& tests_sha256, const published::Catalog& catalog) {
  const published::JointKind* kind = published::find_joint_kind(catalog, what.kind);
  if (!kind) throw Fault{Message{"fit.unknown-kind", {text("kind", what.kind)}}};
  if (std::find(kind->places.begin(), kind->places.end(), what.place) == kind->places.end())
    throw Fault{Message{"fit.unknown-place", {text("place", what.place), text("kind", what.kind)}}};
  if (!(what.min_wall_mm > 0 && what.max_wall_mm >= what.min_wall_mm))
    throw Fault{Message{"fit.no-wall",
                        {number("min", what.min_wall_mm, "mm"), number("max", what.max_wall_mm, "mm")}}};
  const auto quoted = [](const std::string& s) {
    std::string out = "\"";
    for (const char c : s)
      if (static_cast<unsigned char>(c) >= 0x20)
        out.append(c == '"' || c == '\\' ? std::string("\\") + c : std::string(1, c));
    return out + "\"";
  };
  return fmt::format(
      "format = \"seamwright.details/1\"\nnote = \"Fitted from tests of the shop. It holds for what was "
      "tested, and nothing else.\"\n\n"
      "[[detail]]\nid = {}\nby = {}\nkinds = [{}]\nplace = {}\nstress = {}\nmin_wall_mm = {}\nmax_wall_mm = "
      "{}\n"
      "slope = {}\ndesign_log_a = {}\ndeviation_log_n = {}\nsurvival = {}\nconfidence = {}\nfailures = "
      "{}\nrun_outs = {}\n"
      "tests_sha256 = {}\n",
      quoted(what.id), quoted(what.by), quoted(what.kind), quoted(what.place), quoted(what.stress),
      what.min_wall_mm, what.max_wall_mm, fit.slope, fit.design_log_a, fit.deviation, how.survival,
      how.confidence, fit.failures, fit.run_outs, quoted(tests_sha256));
}

std::vector<fatigue::Test> read_tests(const SourceFile& file) {
  std::vector<fatigue::Test> tests;
  read_small_table(file, {"stress_range_mpa", "cycles", "outcome"}, {"specimen", "note"},
                   [&](const TableRow& row) {
                     const std::string outcome = row.text_of("outcome");
                     if (outcome != "failed" && outcome != "runout")
                       row.fail("fit.bad-outcome", {text("found", outcome.substr(0, 80))});
                     tests.push_back({row.real("stress_range_mpa"), row.real("cycles"), outcome == "runout"});
                   });
  return tests;
}

}  // namespace seamwright::files
