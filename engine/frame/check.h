// SPDX-License-Identifier: GPL-3.0-or-later
// A frame must satisfy this before matrices are built: known names, possible numbers, one connected piece.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace seamwright::frame {

struct Frame;

/// Two nodes closer than this stand at one place (mm).
inline constexpr double same_place_mm = 0.01;

/// Places of names in the frame's lists.
struct Names {
  std::map<std::string, std::size_t> nodes, tubes, materials;
};

/// Checks names, references and numbers of all parts but load cases. Throws the Faults that assemble() lists.
Names check_parts(const Frame& frame);

/// Throws "frame.bad-number" unless min <= value <= max (so for NaN too).
void check_number(const char* what, const std::string& of, double value, const char* unit, double min,
                  double max);

/// Checks that no two nodes stand at one place without a hinge, that every node belongs to a member or hinge,
/// and that members and hinges make one piece. Throws frame.doubled-node, frame.unused-node,
/// frame.loose-part.
void check_connected(const Frame& frame, const Names& names);

/// "a, b, c", at most eight of them, then "...".
std::string list_of(const std::vector<std::string>& ids);

}  // namespace seamwright::frame
