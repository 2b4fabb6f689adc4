// SPDX-License-Identifier: GPL-3.0-or-later
// The names of a view's flags: which share a place and so a name, how large names are, and the border that they
// need around the frame.
#pragma once

#include <string>
#include <vector>

#include "reports/content/border_labels.h"

namespace seamwright::reports {

constexpr double name_type_mm = 2.5, name_high_mm = 3.6;
/// An id in the sans serif of the pages is about this wide.
double name_width_mm(const std::string& id);

/// The ids that fall together, as one name: "W1" for both sides of a weld, "W1, W2.L" for two.
std::string joint_name(const std::vector<std::string>& ids);

struct FlagPlace {
  std::string id;
  Point at;
};
/// A place of the view that one name and one leader serve.
struct NamedPlace {
  Point at;
  std::string name;
  std::vector<std::size_t> flags;  ///< by their number in the list asked about
};
/// Flags whose dots would cover each other share a place; places in the order of their first flag.
std::vector<NamedPlace> named_places(const std::vector<FlagPlace>& flags);

/// Room for these names on all four sides of a picture; its lower corners stay free for the bar of the scale and
/// the axes.
Border names_border(const std::vector<NamedPlace>& places, double width_mm, double height_mm);

}  // namespace seamwright::reports
