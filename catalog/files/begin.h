// SPDX-License-Identifier: GPL-3.0-or-later
// A job begun: from a few measures on the demonstration's layout, or from tables of nodes and members.
#pragma once

#include <string>

#include "catalog/files/source.h"
#include "engine/frame/section.h"

namespace seamwright::published {
struct Catalog;
}

namespace seamwright::files {

/// Ranges of the measures, mm, in which the layout's nodes keep their order: the front axle between pivot
/// (1000) and the platform's next cross tube (1450), hubs outside the axle tube's ends (370 from the middle),
/// platform tubes between stringers (140) and these. Within them the geometry of the tubes decides.
struct MeasureRange {
  double least, most;
};
inline constexpr MeasureRange wheelbase_range{1000, 1450}, track_range{740, 1200}, box_width_range{280, 740};

struct Measures {
  std::string name;
  double wheelbase_mm = 1250;  ///< front axle to rear axle
  double track_mm = 820;       ///< between the front wheels
  double box_width_mm = 560;   ///< of the platform, between its tubes' axes
  frame::RoundTube platform{40, 2}, spine{60, 3};
};
/// "60x3": diameter and wall in mm. Throws Fault "new.bad-tube".
frame::RoundTube round_tube_of(const std::string& text);

/// Writes design.toml and duty.toml into a folder, which is made. Nothing is written that is not rated first:
/// throws Fault "new.exists" when one of them is there, "new.outside" for a measure outside its range,
/// "new.unsound" for one with which tubes of the layout cannot be where they are (with the range that works,
/// found by trying the geometry), what reading, assembling and rating throw, and std::runtime_error.
void begin_job(const std::string& folder, const Measures& measures, const published::Catalog& catalog);

/// The design's text with the rows of a table put in: nodes (id, x_mm, y_mm, z_mm) or members (id, tube,
/// nodes: their ids with spaces between), each perhaps with mirror (true, false). A row whose id is there
/// already takes the table's values and keeps the rest; others come behind the last of their kind. `file` is
/// for messages. Throws the Faults of read_small_table() and patched(), "import.bad-row"
/// (line).
struct Imported {
  std::string text, kind;  ///< kind: "node" or "member"
  std::size_t added = 0, changed = 0;
};
Imported import_table(const std::string& file, const std::string& content, const SourceFile& rows);

}  // namespace seamwright::files
