// SPDX-License-Identifier: GPL-3.0-or-later
// A job begun from a few measures and plain questions, on the layout of the demonstration's redesign.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "catalog/files/pattern.h"
#include "catalog/files/wording.h"
#include "engine/design/design.h"
#include "engine/frame/section.h"
#include "engine/rules/rules.h"

namespace seamwright::published {
struct Catalog;
}

namespace seamwright::files {

/// The defaults are the severer of two.
struct NewJob {
  std::string name;
  std::map<Ask, double> given;  ///< the other questions take what answered() takes for them
  std::vector<std::pair<std::string, frame::RoundTube>> tubes;  ///< of the layout, by id, in place of its own
  rules::Consequence hurt = rules::Consequence::people;         ///< who is in the box
  design::Inside inside = design::Inside::vented;               ///< what keeps the inside of the tubes from rusting
  Wording wording = {};                                         ///< the language of notes, names and comments
};

/// "60x3": diameter and wall in mm. Throws Fault "new.bad-tube".
frame::RoundTube round_tube_of(const std::string& text);
/// "rail=45x3". Throws Fault "new.bad-tube" and "new.unknown-tube".
std::pair<std::string, frame::RoundTube> named_tube_of(const std::string& text);
/// The tubes of the layout with their diameters and walls, mm, in its order.
const std::vector<std::pair<std::string, frame::RoundTube>>& pattern_tubes();

/// The text of the design as begin_job() writes it, whether or not such a frame can be built. Throws what answered() throws, and
/// Fault "new.unknown-tube".
std::string new_design_text(const NewJob& job);

/// The text of the duty in the same way. Throws what answered() throws.
std::string new_duty_text(const NewJob& job);

/// Writes design.toml, duty.toml, certificates.toml (a form) and procedures/ (preliminary ones) into a folder, which is made, and
/// returns their names. Nothing is written that is not rated first: throws Fault "new.exists" when one of them is there,
/// "new.unsound-diameter" or "new.unsound-wall" for a tube that cannot be where it is (with the range that works, found by trying the
/// geometry), what new_design_text(), reading, assembling and rating throw, and std::runtime_error.
std::vector<std::string> begin_job(const std::string& folder, const NewJob& job, const published::Catalog& catalog);

}  // namespace seamwright::files
