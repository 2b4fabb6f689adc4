// SPDX-License-Identifier: GPL-3.0-or-later
// Every constant of the published tables stands a second time in constants.txt, written down once and
// compared by reading; so none changes unseen. That is no independent source: those are in tests/published.
// The last test changes each number alone and wants it noticed.
#include <catch2/catch.hpp>
#include <fstream>
#include <regex>
#include <sstream>

#include "catalog/published/published_data.h"

using namespace seamwright;
using namespace seamwright::published;

namespace {

std::ostream& operator<<(std::ostream& out, const inspection::LevelLimit& l) {
  const char* kinds[] = {"no", "yes", "application", "at most", "at least"};
  out << " | " << kinds[static_cast<int>(l.kind)];
  if (l.short_only) out << " short";
  if (l.kind >= inspection::LimitKind::at_most)
    out << " " << l.base << " + " << l.per << " " << l.reference << " most " << l.most;
  return out;
}

struct Lines {
  std::ostringstream out;
  void row(const Source& source, bool from_memory) {
    out << " | " << source.key << ", " << source.clause << (from_memory ? ", from memory" : "") << "\n";
  }
};

void add_imperfections(const Catalog& c, Lines& lines) {
  std::ostringstream& out = lines.out;
  for (const inspection::Imperfection& x : c.imperfections) {
    out << "imperfection " << x.id << " " << x.number << " " << x.weld << " above " << x.above_mm << " to "
        << x.to_mm << x.d << x.c << x.b;
    lines.row(x.source, x.from_memory);
  }
  for (const PlanarGroup& x : c.planar) {
    out << "planar " << x.id << " begins " << x.begins << ": " << x.name;
    lines.row(x.provenance.source, x.provenance.from_memory);
  }
}

std::string constants_of(const Catalog& c) {
  Lines lines;
  std::ostringstream& out = lines.out;
  out.precision(12);
  for (const fatigue::Curve& x : c.data.curves) {
    out << "curve " << x.set << " " << x.id << " " << x.environment << " " << name_of(x.stress) << ":";
    for (const fatigue::Segment& s : x.segments)
      out << " m " << s.slope << " log a " << s.log_a << " to " << s.to_cycles;
    out << " cut-off " << x.cutoff_mpa.value_or(0) << " reference " << x.reference_thickness_mm
        << " exponent " << x.thickness_exponent << " scatter " << x.scatter_log_n << ", " << x.edition;
    lines.row(x.source, x.from_memory);
  }
  for (const rules::Detail& x : c.data.details) {
    out << "detail " << name_of(x.set) << " " << x.id << ": " << x.place << " curve " << x.curve << " "
        << name_of(x.stress) << " attachment " << x.max_attachment_mm << " size " << x.size_exponent
        << " over " << x.size_reference_mm << " wall " << x.min_wall_mm << " for";
    for (const std::string& kind : x.kinds) out << " " << kind;
    lines.row(x.source, x.from_memory);
  }
  for (std::size_t i = 0; i < c.data.pairs.size(); ++i) {
    const rules::Pair& x = c.data.pairs[i];
    out << "pair " << name_of(x.set) << " " << x.from << " " << name_of(x.stress) << " "
        << static_cast<int>(x.pairing);
    lines.row(x.source, c.pair_provenance[i].from_memory);
  }
  add_imperfections(c, lines);
  for (const RoadClass& x : c.road_classes) {
    out << "road " << x.id << ": " << x.lower_m3 << " " << x.mean_m3 << " " << x.upper_m3 << " knee " << x.knee_rad_m << " power " << x.power;
    lines.row(x.provenance.source, x.provenance.from_memory);
  }
  for (const RoadSurface& x : c.road_surfaces) {
    out << "surface " << x.id << ": " << x.gd_m3 << " " << x.waviness << " knee " << x.knee_rad_m << " power " << x.power << " reach "
        << x.reach;
    lines.row(x.provenance.source, x.provenance.from_memory);
  }
  for (const Steel& x : c.steels) {
    const frame::Material& m = x.material;
    out << "steel " << m.id << ": E " << m.youngs_mpa << " nu " << m.poisson << " rho " << m.density_kg_m3
        << " yield " << m.yield_mpa << " ultimate " << m.ultimate_mpa;
    lines.row(x.provenance.source, x.provenance.from_memory);
  }
  for (const TubeSize& x : c.tubes) {
    out << "tube " << x.id << ": " << x.diameter_mm << " " << x.wall_mm;
    lines.row(x.provenance.source, x.provenance.from_memory);
  }
  for (const RigPreset& x : c.rigs) {
    out << "rig " << x.id << " " << x.kind << ": " << x.force_n << " " << x.back_n << " " << x.cycles;
    lines.row(x.provenance.source, x.provenance.from_memory);
  }
  for (const JointKind& x : c.joint_kinds) {
    out << "joint kind " << x.id << ":";
    for (const std::string& place : x.places) out << " " << place;
    lines.row(x.provenance.source, x.provenance.from_memory);
  }
  for (const Reference& x : c.bibliography)
    out << "reference " << x.key << ": " << x.title << ", " << x.edition << ", " << x.publisher << "\n";
  return out.str();
}

std::string typed() {
  std::ifstream file(std::string(SEAMWRIGHT_SOURCE_DIR).append("/tests/catalog/published/constants.txt"));
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// The numbers of a data file stand here; notes, comments and names are no constants.
std::vector<std::pair<std::size_t, std::size_t>> numbers_of(const std::string& text) {
  static const std::regex number("[0-9]+(\\.[0-9]+)?([eE][-+]?[0-9]+)?");
  static const std::regex passed("^(#|note|name|\\s*$|id )");
  std::vector<std::pair<std::size_t, std::size_t>> found;
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string line = text.substr(begin, end - begin);
    if (!std::regex_search(line, passed))
      for (std::sregex_iterator i(line.begin(), line.end(), number), none; i != none; ++i)
        found.emplace_back(begin + static_cast<std::size_t>(i->position()),
                           static_cast<std::size_t>(i->length()));
    begin = end + 1;
  }
  return found;
}

}  // namespace

TEST_CASE("the tables hold what is written down a second time, line by line") {
  std::istringstream ours(constants_of(catalog())), theirs(typed());
  std::string a, b;
  std::size_t lines = 0;
  while (std::getline(ours, a)) {
    REQUIRE(std::getline(theirs, b));
    CHECK(a == b);
    ++lines;
  }
  CHECK_FALSE(std::getline(theirs, b));
  CHECK(lines > 200);
}

TEST_CASE("each number of the tables, changed alone, is noticed") {
  const auto file = [](const std::string& name) {
    for (const DataFile& f : data_files())
      if (f.name == name) return f;
    throw std::runtime_error(name);
  };
  std::size_t tried = 0;
  for (const DataFile& whole : data_files()) {
    // Alone with the references that it names, which is quick; else with all that it hangs on.
    std::vector<DataFile> beside{file("bibliography.toml"), whole};
    if (whole.name == "bibliography.toml" || whole.name == "details.toml") beside = data_files();
    const std::string right = constants_of(read_catalog(beside));
    for (const auto& [at, length] : numbers_of(whole.text)) {
      std::vector<DataFile> files = beside;
      std::string* text = nullptr;
      for (DataFile& f : files)
        if (f.name == whole.name) text = &f.text;
      const std::size_t exponent = text->substr(at, length).find_first_of("eE");
      char& last = (*text)[at + std::min(length, exponent) - 1];
      last = last == '9' ? '8' : static_cast<char>(last + 1);
      ++tried;
      bool noticed = false;
      try {
        noticed = constants_of(read_catalog(files)) != right;
      } catch (const Fault&) {
        noticed = true;  // not even read
      }
      INFO(whole.name << " at " << at << ": " << whole.text.substr(at > 40 ? at - 40 : 0, 80));
      CHECK(noticed);
    }
  }
  CHECK(tried > 1000);
}
