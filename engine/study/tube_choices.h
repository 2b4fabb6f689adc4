// SPDX-License-Identifier: GPL-3.0-or-later
// A design's tubes as choices among the sizes of a shop's stock, and its throats as choices among multiples of what is drawn.
#pragma once

#include <cstdint>
#include <optional>
#include <set>

#include "engine/design/design.h"
#include "engine/study/discrete_search.h"
#include "engine/study/stock.h"

namespace seamwright::study {

/// Sizes lie within this factor of the tube as drawn, diameter and wall alike: so far a joint's model is scaled (solid/scaled_model.h).
inline constexpr double furthest_size = 1.6;
/// Walls that meet at a weld are not more unequal than this. Engineering choice of ours.
inline constexpr double most_wall_ratio = 3;

/// One thing to choose: the size of a tube of the design (left and right share it), or the throat of all welds of its braces.
struct Choice {
  bool throat = false;
  std::string tube;  ///< id
  std::vector<StockTube> sizes{};    ///< by diameter, then wall
  std::vector<double> multiples{};   ///< of the throats as drawn
  std::optional<std::uint32_t> drawn{};  ///< which option the design has; none: its size is not in stock
  frame::RoundTube drawn_size{0, 0};  ///< of a tube
  std::uint32_t start = 0;           ///< as drawn, or the size in stock that is nearest
  std::size_t count() const { return throat ? multiples.size() : sizes.size(); }
};

/// A tube of the design that stays as it is, and why.
struct KeptTube {
  std::string tube;
  frame::RoundTube size;
  MessageId why;
  std::string because{};  ///< node, notch or steel that the reason names
};

struct ChoiceOptions {
  bool throats = false;         ///< throats are chosen too
  std::set<std::string> keep{};  ///< tubes that stay, whatever the stock has
};

struct Choices {
  std::vector<Choice> choices;
  std::vector<KeptTube> kept;
  Point start() const;
  /// The design as drawn; nothing where a size is not in stock.
  std::optional<Point> drawn() const;
};

/// A tube is chosen when all its members are welded and none is held by something that asks for its bore or its outside (a hinge, a seat, a
/// clamp, an end that the design says is held otherwise). Throws Fault "improve.unknown-tube" for a tube to keep that there is not,
/// "improve.nothing-to-choose".
Choices choices_of(const design::Design& design, const Stock& stock, const ChoiceOptions& options);

/// Puts the point's sizes and throats into the design. Throats never pass twice the thinnest wall that they join, and are rounded to a tenth of
/// a millimetre; legs as drawn go with them.
void apply_choices(const Choices& choices, const Point& point, design::Design& design);

/// A throat as chosen: times its multiple, to a tenth of a millimetre, and never more than twice the thinnest wall.
double chosen_throat_mm(double drawn_mm, double multiple, double thinnest_wall_mm);
/// The metal of a fillet with equal legs: throat squared times length.
double weld_metal_kg(double seam_mm, double throat_mm);

/// Next sizes in every direction: wall, diameter, weight.
std::vector<std::uint32_t> near_options(const Choice& choice, std::uint32_t option);

/// Seams of a design as drawn, for what welds weigh and cost: from its plan, scaled with the brace's diameter.
class SeamLengths {
 public:
  explicit SeamLengths(const design::Design& drawn);
  /// Length of all seams, mm, and the mass of their metal, kg.
  double length_mm(const design::Design& design) const;
  double metal_kg(const design::Design& design) const;
  double drawn_mm(std::size_t weld) const { return seams_[weld].length_mm; }

 private:
  struct Seam {
    double length_mm = 0, brace_mm = 0;
  };
  double seam_mm(const design::Design& design, std::size_t weld) const;
  std::vector<Seam> seams_;
};

/// Different sizes of welded round tubes, by steel.
std::size_t sizes_in(const design::Design& design);

/// The price of the tubes by length, of the seams, and one set-up for each size. Tubes that the stock does not have cost nothing here.
double price_of(const design::Design& design, const Stock& stock, const SeamLengths& seams);

}  // namespace seamwright::study
