// SPDX-License-Identifier: GPL-3.0-or-later
// A cut list says which piece comes from which bar of stock, so that few bars are bought.
//
// The pieces of one tube are packed by first fit in decreasing length. It never takes more than 11/9 of the
// least number of bars and 6/9 of a bar (Dosa 2007, "The tight bound of first fit decreasing bin-packing
// algorithm" [from memory]); how near a list comes is told by a bound of its own, and where that leaves a gap
// a search looks for one bar less.
#pragma once

#include <string>
#include <vector>

#include "engine/frame/section.h"
#include "engine/shape/cope.h"

namespace seamwright::shape {

struct CutPiece {
  std::string member;
  double length_mm = 0;
};

/// One tube of the stock: pieces of one steel and section.
struct StockTube {
  std::string steel;
  frame::Section section;
  std::vector<std::vector<CutPiece>> bars;  ///< what is cut from each, longest first
  std::vector<CutPiece> too_long;           ///< longer than a bar: in none of them
  double pieces_mm = 0;                     ///< all that is cut, without kerf
  double waste_mm = 0;                      ///< of all bars: kerf and what is left over
  std::size_t least_bars = 0;  ///< no list needs fewer: the larger of two bounds, or proven by the search
};

struct CutList {
  double stock_mm = 0, kerf_mm = 0;
  std::vector<StockTube> tubes;
};

/// A bar gives pieces whose lengths with one kerf between two of them are no longer than it; a piece at its
/// very end needs no cut there. Tubes in the order of their first member. Needs stock_mm > 0, kerf_mm >= 0.
CutList cut_list(const std::vector<Blank>& blanks, double stock_mm, double kerf_mm);

/// Bars that no packing of these lengths can do without: the larger of the sum over the length of a bar and
/// the bound L2 (Martello and Toth, "Lower bounds and reduction procedures for the bin packing problem",
/// 1990 [from memory]). Lengths with their kerf, none longer than the room.
std::size_t least_bars(const std::vector<double>& lengths_mm, double room_mm);

}  // namespace seamwright::shape
