// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/parameter_reach.h"

#include <cmath>
#include <optional>

#include "catalog/files/job_reader.h"
#include "catalog/files/patch.h"
#include "catalog/files/reader.h"
#include "catalog/files/written.h"
#include "engine/design/design.h"

namespace seamwright::files {

namespace {

std::vector<frame::Vec3> places_in(const design::Design& design) {
  std::vector<frame::Vec3> places;
  for (const frame::Node& n : design.frame.nodes) places.push_back(n.position_mm);
  return places;
}

struct MovedNodes {
  double value = 0;
  std::vector<frame::Vec3> places;
};

}  // namespace

std::vector<ParameterReach> parameter_reaches(const SourceFile& file, const published::Catalog& catalog) {
  const std::string content = read_text(file);
  const std::vector<frame::Vec3> places = places_in(read_design_text(file, content, catalog));
  std::vector<ParameterReach> reaches;
  const std::vector<WrittenTable> tables = written_tables(file.name, content);
  const WrittenTable* table = table_named(tables, "parameters");
  if (!table || table->rows.empty()) return reaches;
  const auto variant = [&](const WrittenValue& cell, double value) -> std::optional<MovedNodes> {
    try {
      MovedNodes v{value, places_in(read_design_text(file, patched(file.name, content, cell.place, value), catalog))};
      if (v.places.size() == places.size()) return v;
    } catch (const Fault&) {  // such a frame cannot be: the other side tells
    }
    return std::nullopt;
  };
  Parameters known;
  for (const WrittenValue& cell : table->rows.front().cells) {
    const auto evaluated = evaluate(cell.shown, known);
    const double* value = std::get_if<double>(&evaluated);
    if (!value) continue;
    ParameterReach reach{cell.place.substr(cell.place.rfind('.') + 1), *value, {}};
    known[reach.name] = *value;
    const double step = 1e-3 * std::max(1.0, std::abs(*value));
    const MovedNodes as_written{*value, places};
    const MovedNodes more = variant(cell, *value + step).value_or(as_written),
                  less = variant(cell, *value - step).value_or(as_written);
    if (more.value > less.value)
      for (std::size_t i = 0; i < places.size(); ++i)
        reach.moves.push_back((more.places[i] - less.places[i]) / (more.value - less.value));
    reaches.push_back(std::move(reach));
  }
  return reaches;
}

}  // namespace seamwright::files
