// SPDX-License-Identifier: GPL-3.0-or-later
// The lightest or cheapest frame from the shop's own stock that keeps the job's targets (docs/methods/improve.md).
#pragma once

#include "engine/rating/rate.h"
#include "engine/study/tube_choices.h"

namespace seamwright::study {

enum class Aim { mass, price };

struct ImproveOrder {
  Stock stock;
  Aim aim = Aim::mass;
  ChoiceOptions choose;
  std::size_t most_sizes = 0;   ///< different sizes of welded tubes; 0: as many as the design has, or as there are
  std::size_t answers = 3;
  SearchOrder search;
  /// Proofs of roots hold as far as their records reach: this holds each weld's against its sizes again. Empty: as the design has them.
  std::function<void(design::Design&)> prove{};
};

/// A frame as the search sees it: by spectra, joints scaled from the design's models.
struct FrameFigures {
  bool possible = false;
  double mass_kg = 0;        ///< welded tubes, as frame_mass_kg()
  double weld_kg = 0;        ///< their welds' metal
  double price = no_price;   ///< NaN: the stock has no prices, or not this tube
  double cracked_of_1000 = 0;  ///< frames with any crack in the service
  double shortfall = 0;      ///< 0: every target is met
  std::size_t sizes = 0;     ///< of tubes
  double peak_use = 0;       ///< largest use of a strength under peak cases; NaN: none is stated
  std::size_t falling_short = 0;  ///< welds whose chance of a crack is beyond their target
  std::size_t uncovered = 0;      ///< welds of which a place has no rule
  std::string weld{};        ///< the likeliest to crack
};

/// One choice that differs from the design, and what taking it back alone would do to the answer.
struct ImproveChange {
  bool throat = false;
  std::string tube;
  frame::RoundTube from, to;         ///< of a tube
  double from_multiple = 1, multiple = 1;  ///< of its throats
  FrameFigures back;
};

/// The same pair, design and answer, by another rule set.
struct OtherRules {
  std::string set;
  double before = 0, after = 0;  ///< frames of 1000 with any crack
  bool vanishes = false;         ///< a lighter or cheaper frame is no better there than the design, or a better one is worse
};

struct ImprovedFrame {
  Point point;
  design::Design design;
  FrameFigures figures;
  std::vector<ImproveChange> changes;
  std::vector<OtherRules> other_rules;
};

struct Improvement {
  Aim aim = Aim::mass;
  FrameFigures drawn;                  ///< the design itself
  Choices choices;
  std::vector<ImprovedFrame> answers;  ///< lightest or cheapest first; where nothing meets, the nearest first
  bool reached = false;                ///< the first meets every target
  std::size_t trials = 0;
  SearchEnd end = SearchEnd::settled;
  std::vector<std::string> limits;     ///< that the first answer breaks: "any-crack", "single-path", "fall", "strength", ids of welds
  std::vector<Message> shape;          ///< faults of the drawing that no size mends
};

/// Two frames' axes of the front: what is aimed at, and frames of 1000 that crack, or how far off the targets are.
struct FrontPoint {
  Point point;
  double cost = 0, other = 0;
};
/// Those that no other is at least as good as in both, by cost; at most so many, the cheapest and the best of the rest spread evenly.
std::vector<FrontPoint> front_of(std::vector<FrontPoint> points, std::size_t most);
/// The first, and of the rest so many that they are spread evenly to the last.
std::vector<FrontPoint> spread_over(std::vector<FrontPoint> front, std::size_t most);

/// Rates in the frequency domain with the job's rules. `known` takes every trial: a search goes on from one that was stopped, given the same
/// job and stock. Throws Fault "improve.no-price" for a price asked of a stock without, the Faults of choices_of(), and what rate() throws for the job as
/// it is.
Improvement improve(const rating::Job& job, const rules::Published& published, const ImproveOrder& order, Trials& known,
                    const rating::Progress& progress);

}  // namespace seamwright::study
