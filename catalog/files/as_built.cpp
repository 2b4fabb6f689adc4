// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/as_built.h"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "catalog/files/procedure_reader.h"
#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"

namespace seamwright::files {

const joints::Weld& found_weld(const std::string& path, const Finding& f, const design::Design& design) {
  std::vector<std::string> ids;
  for (const joints::Weld& w : design.welds) {
    if (w.id == f.weld) return w;
    ids.push_back(w.id);
  }
  throw Fault{Message{"as-built.unknown-weld",
                      {text("file", path), number("line", f.line, ""), text("weld", f.weld),
                       text("nearest", published::nearest_or_some(f.weld, ids))}}};
}

namespace {

// True when a size of the weld stands for the finding; takes it where it does. 0 stands for nothing found,
// but for a throat, which is then not there.
bool apply_size(const Finding& f, const joints::Weld& drawn, joints::Weld& weld) {
  const std::string& what = f.imperfection;
  // A longer leg makes a longer attachment; a thinner throat must not make it shorter.
  const double drawn_leg = drawn.throat_mm * std::numbers::sqrt2;
  if (what == "throat" || what == "5213") {
    const double mm = std::max(1e-3, what == "throat" ? f.value_mm : drawn.throat_mm - f.value_mm);
    if (mm < weld.throat_mm) {
      weld.throat_mm = mm;
      weld.leg_mm = std::max(weld.leg_mm, drawn_leg);
    }
  } else if (what == "leg") {
    weld.leg_mm = std::max({weld.leg_mm, drawn_leg, f.value_mm});
  } else if (what == "5011" || what == "5012") {
    weld.undercut_mm = std::max(weld.undercut_mm, f.value_mm);
  } else if (what == "507" || what == "5071" || what == "5072") {
    weld.offset_mm = std::max(weld.offset_mm, f.value_mm);
  } else if (what == "502" || what == "503") {
    weld.cap_mm = std::max(weld.cap_mm, f.value_mm);
  } else if (what == "cap-width") {
    weld.cap_width_mm = weld.cap_width_mm > 0 ? std::min(weld.cap_width_mm, f.value_mm) : f.value_mm;
  } else {
    return false;
  }
  return true;
}

// True when the finding lies within quality level B, which the rating presumes.
bool within_level_b(const Finding& f, const design::Design& design, const joints::Weld& drawn) {
  const inspection::Weld weld = weld_to_inspect(design, drawn);
  const inspection::Imperfection* row =
      inspection::row_for(published::catalog().imperfections, f.imperfection, weld);
  const auto bound = row ? inspection::bound_of(*row, 'B', weld) : std::nullopt;
  return bound && inspection::judge(*bound, f.value_mm) == inspection::Judgement::accepted;
}

void apply_finding(const Finding& f, const design::Design& design, const joints::Weld& drawn,
                   joints::Weld& weld, AsBuilt& out) {
  if (f.imperfection == "throat" && !(f.value_mm > 0)) {
    weld.flaws.push_back({f.imperfection, f.value_mm, true});
  } else if (apply_size(f, drawn, weld)) {
    return;
  } else if (f.imperfection == "5214") {
    out.without_effect.emplace_back(weld.id,
                                    Message{"as-built.no-credit", {number("value", f.value_mm, "mm")}});
  } else if (published::is_planar(published::catalog(), f.imperfection)) {
    if (f.value_mm > 0) weld.flaws.push_back({f.imperfection, f.value_mm, true});
  } else if (within_level_b(f, design, drawn)) {
    if (f.value_mm > 0)
      out.without_effect.emplace_back(
          weld.id, Message{"as-built.within",
                           {text("imperfection", f.imperfection), number("value", f.value_mm, "mm")}});
  } else {
    weld.flaws.push_back({f.imperfection, f.value_mm, false});
  }
}

void list_differences(const joints::Weld& drawn, const joints::Weld& built,
                      std::vector<Difference>& changed) {
  const auto add_changed = [&](const char* key, double before, double after) {
    if (before != after)
      changed.push_back({fmt::format("weld[{}].{}", built.id, key),
                         before > 0 ? fmt::format("{:g}", before) : "", fmt::format("{:g}", after)});
  };
  add_changed("throat_mm", drawn.throat_mm, built.throat_mm);
  if (built.leg_mm > drawn.throat_mm * std::numbers::sqrt2 * (1 + 1e-9))
    add_changed("leg_mm", drawn.leg_mm, built.leg_mm);
  add_changed("undercut_mm", drawn.undercut_mm, built.undercut_mm);
  add_changed("offset_mm", drawn.offset_mm, built.offset_mm);
  add_changed("cap_mm", drawn.cap_mm, built.cap_mm);
  add_changed("cap_width_mm", drawn.cap_width_mm, built.cap_width_mm);
  for (const joints::Flaw& flaw : built.flaws)
    changed.push_back(
        {fmt::format("weld[{}], {}", built.id, flaw.imperfection), "", fmt::format("{:g}", flaw.mm)});
}

}  // namespace

inspection::Weld weld_to_inspect(const design::Design& design, const joints::Weld& weld) {
  const qualification::JointSizes sizes = sizes_of(design, weld);
  const bool butt = sizes.form == qualification::JointForm::butt;
  return {sizes.wall_mm, weld.throat_mm, butt ? 0 : 2 * weld.throat_mm, butt};
}

AsBuilt apply_as_built(const std::string& path, const std::vector<Finding>& findings,
                       design::Design& design) {
  const std::vector<joints::Weld> drawn = design.welds;
  AsBuilt out;
  for (const Finding& f : findings) {
    const auto number = static_cast<std::size_t>(&found_weld(path, f, design) - design.welds.data());
    apply_finding(f, design, drawn[number], design.welds[number], out);
  }
  for (std::size_t i = 0; i < drawn.size(); ++i) list_differences(drawn[i], design.welds[i], out.changed);
  return out;
}

}  // namespace seamwright::files
