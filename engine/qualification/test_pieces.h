// SPDX-License-Identifier: GPL-3.0-or-later
// The fewest test pieces that qualify the procedures, and the welders, of a frame: ISO 15614-1:2017 level 2 and ISO 9606-1:2012
// [ranges from memory].
#pragma once

#include "engine/qualification/stated_procedure.h"

namespace seamwright::qualification {

/// A weld with the procedure that makes it; heat input of that procedure's passes, kJ/mm, 0 = not known.
struct PlannedWeld {
  std::string id;
  const Sheet* sheet = nullptr;
  JointSizes sizes;
  double lowest_heat = 0, highest_heat = 0;
};

/// Welds are told by their number in what was asked.
struct ProcedurePiece {
  std::string procedure;
  Record record;  ///< to be had by it: the piece as it is to be welded, with hardness tested
  std::vector<std::size_t> welds;
};
struct WelderPiece {
  Designation designation;
  std::vector<std::size_t> welds;
};
/// A weld that no test piece covers, with what stands in the way of the piece that comes nearest.
struct OpenWeld {
  std::size_t weld = 0;
  Item reason;
};
template <typename Piece>
struct PiecePlan {
  std::vector<Piece> pieces;
  std::vector<OpenWeld> open;
  bool proven = true;  ///< no smaller number would do
};

/// Pieces are welded like the welds themselves, from tubes of the frame, at the smallest angle and the lowest heat input of the procedure's
/// welds. A branch asks for a branch piece (the shop's rule for tube nodes, common practice), below 60 degrees for one of ISO 15613.
PiecePlan<ProcedurePiece> procedure_pieces(const std::vector<PlannedWeld>& welds);

/// Test pieces of one welder for all welds: butt welds on tubes of the frame, or fillets where the welds are fillets.
PiecePlan<WelderPiece> welder_pieces(const std::vector<PlannedWeld>& welds);

}  // namespace seamwright::qualification
