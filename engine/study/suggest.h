// SPDX-License-Identifier: GPL-3.0-or-later
// A weld that falls short gets the smallest change that meets, one kind at a time.
#pragma once

#include "engine/rating/rate.h"
#include "engine/study/stock.h"

namespace seamwright::study {

/// Kinds: "brace-wall", "brace-diameter", "chord-wall", "chord-diameter" (mm, of the member and its mirrored
/// twin, from the stock), "brace-tube", "chord-tube" (a pair of both from the shop's own stock), "throat" (mm), "proven-root", "payload" (share of the job's), "gusset". A gusset is
/// never rated: no published factor covers a joint that one stiffens. Nor is a proven root where the set has
/// no class for it at such a weld: the proof changes nothing there.
struct Suggestion {
  std::string kind, unit;
  double from = 0, to = 0;       ///< as it is, and with the change; NaN: nothing to change; of a tube the diameter
  double from_wall = 0, to_wall = 0;  ///< of a tube, else 0
  MessageId why{};               ///< no change of this kind was rated: why; "" where one was
  bool meets = false;            ///< confirmed by the method asked for
  bool covered = true;           ///< false: not rated, or the weld is not covered with the change
  bool with_proof = false;       ///< tried together with a root that is proven
  double life_km = 0;            ///< of this weld with the change (or the best that was tried), with factors
  double mass_kg = 0;            ///< of the frame, more or less than now
  std::string governing_weld{};  ///< of the changed frame
  std::size_t worse =
      0;  ///< other welds whose life falls by more than a tenth or is lost, or whose verdict does
};

/// No other change can meet while the root is not proven and rated by equations alone, and few where a model says that it is the worst
/// place: where the set gives credit for the proof, the others are tried together with it. Tries the stock's walls (thinner ones too) and larger diameters, and of the shop's own stock, where it has one, the ten pairs of both that are nearest by weight, the lightest first; throats up to three
/// times, payload down to a tenth, each in the frequency domain; the first step that meets is rated by
/// `method`, and the next steps after it until one meets there too. Throws Fault "rating.unknown-weld"; what
/// rate() throws for the job as it is. A change that makes the job impossible is passed over.
std::vector<Suggestion> suggestions(const rating::Job& job, const rules::Published& published,
                                    const std::vector<frame::RoundTube>& stock, const std::string& weld,
                                    rating::Method method, const rating::Progress& progress, const Stock* own = nullptr);

}  // namespace seamwright::study
