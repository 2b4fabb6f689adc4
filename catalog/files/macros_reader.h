// SPDX-License-Identifier: GPL-3.0-or-later
// Macro sections of procedure tests: what shows that a root is fused.
#pragma once

#include <functional>
#include <string>

#include "catalog/files/source.h"
#include "engine/design/design.h"

namespace seamwright::files {

/// A [[macro]] of an id shows this, in a file of the folder procedures beside a design (*.toml).
struct MacroShown {
  bool fused = false;     ///< root = "fused"
  bool measured = false;  ///< it has penetration_mm
};
/// Throws the Faults of reading for a file that is not one of the format "seamwright.procedure/1".
MacroShown shown_by_macro(const SourceFile& design, const std::string& id);

/// Holds each weld's proof against the record that the macro belongs to: its kind of joint, walls, diameters,
/// angle, process, positions and all else that decides, for the weld as its own procedure welds it. Where the
/// record does not reach, or the weld's procedure rests on another one, the root is not proven; why stands in
/// the weld and among the design's assumptions. A depth of fusion is held against them in the same way.
void prove_roots(design::Design& design, const SourceFile& file);

/// The same for many changes of one design, whose procedures are read once; from several threads at once. A weld that names a proof and
/// loses it by its new sizes takes the first procedure of the job that proves it, with the procedure's first fused macro; with `all`, so does
/// every weld at a tube node whose root no proof is named for.
std::function<void(design::Design&)> root_prover(const SourceFile& file, bool all);

}  // namespace seamwright::files
