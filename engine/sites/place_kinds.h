// SPDX-License-Identifier: GPL-3.0-or-later
// The kinds of places that can crack, and what follows from the kind: everything that depends on it stands in
// this table, nothing asks for the letters of a name.
#pragma once

#include <string_view>

namespace seamwright::sites {

/// A place belongs to one of these parts of a joint.
enum class JointPart { toe, wall_beside, root, notch, bolt, whole_weld };

struct PlaceKind {
  std::string_view name;  ///< as catalog/published/details and all results name it
  JointPart part = JointPart::whole_weld;
  bool shear = false;  ///< stress along the throat or the section: rated on a shear class
  /// The name that catalog/published/pairs has for where the stress comes from; "" = "scf" or "nominal",
  /// "throat" at a root, as the detail's own stress has it.
  std::string_view stress_from;

  bool operator==(const PlaceKind& other) const { return name == other.name; }
  bool operator==(std::string_view other) const { return name == other; }
};

namespace place {
inline constexpr PlaceKind chord_toe{"chord-toe", JointPart::toe, false, ""};
inline constexpr PlaceKind brace_toe{"brace-toe", JointPart::toe, false, ""};
inline constexpr PlaceKind chord_wall{"chord-wall", JointPart::wall_beside, false, ""};
inline constexpr PlaceKind root{"root", JointPart::root, false, ""};
inline constexpr PlaceKind root_shear{"root-shear", JointPart::root, true, "throat-shear"};
/// The wall behind a root that is proven to be fused.
inline constexpr PlaceKind root_wall{"root-wall", JointPart::root, false, ""};
/// Checks beside the rating of a root: its leg in the set's own way for throats that bend; one throat carrying evenly; its slit as a crack.
inline constexpr PlaceKind root_leg{"root-leg", JointPart::root, false, ""};
inline constexpr PlaceKind even_root{"root-even", JointPart::root, false, ""};
inline constexpr PlaceKind even_root_shear{"root-even-shear", JointPart::root, true, "throat-shear"};
/// A fused root as if it were open: what share of such roots may be so.
inline constexpr PlaceKind open_root{"root-open", JointPart::root, false, ""};
inline constexpr PlaceKind open_root_shear{"root-open-shear", JointPart::root, true, "throat-shear"};
inline constexpr PlaceKind slit_crack{"slit-crack", JointPart::root, false, ""};
/// A crack around the brace that is through the wall: how long it takes to half the girth.
inline constexpr PlaceKind through_crack{"through-crack", JointPart::toe, false, "nominal"};
inline constexpr PlaceKind notch{"notch", JointPart::notch, false, "notch"};
inline constexpr PlaceKind notch_shear{"notch-shear", JointPart::notch, true, "notch-shear"};
inline constexpr PlaceKind bolt{"bolt", JointPart::bolt, false, "bolt"};
inline constexpr PlaceKind bolt_shear{"bolt-shear", JointPart::bolt, true, "bolt-shear"};
/// A weld that no rule covers, as a whole: has no angle.
inline constexpr PlaceKind weld{"weld", JointPart::whole_weld, false, ""};
}  // namespace place

}  // namespace seamwright::sites
