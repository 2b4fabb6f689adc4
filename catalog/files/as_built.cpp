// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/as_built.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "catalog/files/small_table.h"
#include "catalog/published/nearest.h"

namespace seamwright::files {

namespace {

struct Column {
  const char* name;
  double joints::Weld::*member;
  double least;
};
constexpr Column columns[] = {
    {"throat_mm", &joints::Weld::throat_mm, 1e-3},  {"leg_mm", &joints::Weld::leg_mm, 1e-3},
    {"undercut_mm", &joints::Weld::undercut_mm, 0}, {"offset_mm", &joints::Weld::offset_mm, 0},
    {"cap_mm", &joints::Weld::cap_mm, 0},           {"cap_width_mm", &joints::Weld::cap_width_mm, 1e-3}};

}  // namespace

std::vector<Difference> apply_as_built(const std::string& path, rating::Design& design) {
  std::vector<std::string> names;
  for (const Column& c : columns) names.emplace_back(c.name);
  std::vector<Difference> changed;
  std::set<std::string> seen;
  read_small_table(path, {"weld"}, names, [&](const TableRow& row) {
    const std::string id = row.word("weld");
    std::vector<std::string> ids;
    for (const joints::Weld& w : design.welds) ids.push_back(w.id);
    const auto at = static_cast<std::size_t>(std::find(ids.begin(), ids.end(), id) - ids.begin());
    if (at == ids.size())
      row.fail("as-built.unknown-weld",
               {text("weld", id.substr(0, 80)), text("nearest", published::nearest(id, ids))});
    if (!seen.insert(id).second) row.fail("as-built.twice", {text("weld", id)});
    joints::Weld& weld = design.welds[at];
    for (const Column& c : columns) {
      if (!row.has(c.name)) continue;
      const double value = row.real(c.name);
      if (value < c.least || value > 100)
        row.fail("file.out-of-range-cell", {text("column", c.name), number("value", value, "mm")});
      double& now = weld.*c.member;
      if (value != now)
        changed.push_back({fmt::format("weld[{}].{}", id, c.name), now > 0 ? fmt::format("{:g}", now) : "",
                           fmt::format("{:g}", value)});
      now = value;
    }
  });
  return changed;
}

}  // namespace seamwright::files
