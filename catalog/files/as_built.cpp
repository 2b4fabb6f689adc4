// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/as_built.h"

#include <fmt/format.h>

#include <algorithm>

#include "catalog/published/nearest.h"

namespace seamwright::files {

namespace {

joints::Weld& weld_of(const std::string& path, const Finding& f, rating::Design& design) {
  std::vector<std::string> ids;
  for (joints::Weld& w : design.welds) {
    if (w.id == f.weld) return w;
    ids.push_back(w.id);
  }
  throw Fault{Message{"as-built.unknown-weld",
                      {text("file", path), number("line", f.line, ""), text("weld", f.weld),
                       text("nearest", published::nearest(f.weld, ids))}}};
}

void take(const Finding& f, const joints::Weld& drawn, joints::Weld& weld) {
  const std::string& what = f.imperfection;
  const auto least = [](double& now, double value, double as_drawn) {
    now = now == as_drawn ? value : std::min(now, value);
  };
  if (what == "throat") least(weld.throat_mm, f.value_mm, drawn.throat_mm);
  if (what == "5213") least(weld.throat_mm, std::max(1e-3, drawn.throat_mm - f.value_mm), drawn.throat_mm);
  if (what == "5214") least(weld.throat_mm, drawn.throat_mm + f.value_mm, drawn.throat_mm);
  if (what == "leg") weld.leg_mm = std::max(weld.leg_mm, f.value_mm);
  if (what == "5011" || what == "5012") weld.undercut_mm = std::max(weld.undercut_mm, f.value_mm);
  if (what.starts_with("507")) weld.offset_mm = std::max(weld.offset_mm, f.value_mm);
  if (what == "502" || what == "503") weld.cap_mm = std::max(weld.cap_mm, f.value_mm);
  if (what == "cap-width")
    weld.cap_width_mm = weld.cap_width_mm > 0 ? std::min(weld.cap_width_mm, f.value_mm) : f.value_mm;
}

void tell(const joints::Weld& drawn, const joints::Weld& built, std::vector<Difference>& changed) {
  const auto one = [&](const char* key, double before, double after) {
    if (before != after)
      changed.push_back({fmt::format("weld[{}].{}", built.id, key),
                         before > 0 ? fmt::format("{:g}", before) : "", fmt::format("{:g}", after)});
  };
  one("throat_mm", drawn.throat_mm, built.throat_mm);
  one("leg_mm", drawn.leg_mm, built.leg_mm);
  one("undercut_mm", drawn.undercut_mm, built.undercut_mm);
  one("offset_mm", drawn.offset_mm, built.offset_mm);
  one("cap_mm", drawn.cap_mm, built.cap_mm);
  one("cap_width_mm", drawn.cap_width_mm, built.cap_width_mm);
}

}  // namespace

std::vector<Difference> apply_as_built(const std::string& path, const std::vector<Finding>& findings,
                                       rating::Design& design) {
  const std::vector<joints::Weld> drawn = design.welds;
  for (const Finding& f : findings) {
    joints::Weld& weld = weld_of(path, f, design);
    take(f, drawn[static_cast<std::size_t>(&weld - design.welds.data())], weld);
  }
  std::vector<Difference> changed;
  for (std::size_t i = 0; i < drawn.size(); ++i) tell(drawn[i], design.welds[i], changed);
  return changed;
}

}  // namespace seamwright::files
