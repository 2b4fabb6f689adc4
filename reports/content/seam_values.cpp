// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/seam_values.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/sites/place_kinds.h"

namespace seamwright::reports {

namespace {

constexpr double step_deg = 360.0 / solid::places_around;

SeamValues without_numbers(MessageId name) {
  SeamValues v{name, {}};
  for (SeamValues::Around& around : v.at) around.fill(std::numeric_limits<double>::quiet_NaN());
  return v;
}

// The larger of what is there and this.
void keep_larger(SeamValues& values, SeamLine line, double angle_deg, double value) {
  const auto place = static_cast<std::size_t>(std::lround(angle_deg / step_deg) + solid::places_around) % solid::places_around;
  double& there = values.at[static_cast<std::size_t>(line)][place];
  if (!(there >= value)) there = value;
}

std::optional<SeamLine> line_of(const std::string& kind) {
  if (sites::place::chord_toe == kind) return SeamLine::chord_toe;
  if (sites::place::brace_toe == kind) return SeamLine::brace_toe;
  if (sites::place::root == kind || sites::place::root_wall == kind) return SeamLine::root;
  return {};
}

bool has_number(double value) { return !std::isnan(value); }

}  // namespace

MessageId name_of(SeamLine line) {
  if (line == SeamLine::brace_toe) return "seam.brace-toe";
  return line == SeamLine::root ? MessageId("seam.root") : MessageId("seam.chord-toe");
}

double level_of(const SeamScale& scale, double value) {
  if (!(value > scale.least)) return 0;
  if (value >= scale.most) return 1;
  return scale.logarithmic ? std::log(value / scale.least) / std::log(scale.most / scale.least)
                           : (value - scale.least) / (scale.most - scale.least);
}

std::optional<SeamPlace> largest_place(const SeamValues& values) {
  std::optional<SeamPlace> largest;
  for (const SeamLine line : seam_lines)
    for (std::size_t k = 0; k < solid::places_around; ++k) {
      const double value = values.at[static_cast<std::size_t>(line)][k];
      if (has_number(value) && (!largest || value > largest->value)) largest = {line, step_deg * static_cast<double>(k), value};
    }
  return largest;
}

std::vector<SeamValues> stress_factors(const models::JointReport::Seam& seam) {
  std::vector<SeamValues> out;
  if (!seam.loaded) return out;
  std::size_t load = 0;
  for (const MessageId name : {MessageId("seam.axial"), MessageId("seam.in-plane"), MessageId("seam.out-of-plane")}) {
    SeamValues values = without_numbers(name);
    for (const auto& toe : seam.toes)
      if (toe.is_there) keep_larger(values, toe.on_chord ? SeamLine::chord_toe : SeamLine::brace_toe, toe.angle_deg, std::abs(toe.model[load]));
    for (const auto& root : seam.root) keep_larger(values, SeamLine::root, root.angle_deg, std::abs(root.model[load]));
    out.push_back(values);
    ++load;
  }
  return out;
}

std::optional<SeamValues> used_around(const rating::WeldRating& weld) {
  SeamValues values = without_numbers("seam.damage");
  for (const rating::SiteRating& site : weld.sites)
    if (const auto line = line_of(site.kind); line && has_number(site.used()))
      keep_larger(values, *line, site.angle_deg, site.used());
  const bool goes_around = std::any_of(values.at.begin(), values.at.end(), [](const SeamValues::Around& around) {
    return std::all_of(around.begin(), around.end(), has_number);
  });
  return goes_around ? std::optional(values) : std::nullopt;
}

}  // namespace seamwright::reports
