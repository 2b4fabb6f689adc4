// SPDX-License-Identifier: GPL-3.0-or-later
// Inputs that nobody has measured or published are ranked by how far they move the lives.
#pragma once

#include "engine/rating/rate.h"
#include "engine/study/assumed.h"

namespace seamwright::study {

/// One assumed input with the range that it may lie in, and what the lives are at both ends, with factors.
struct Influence {
  std::string input;  ///< name of a row of assumed_inputs()
  std::string unit;
  double low = 0, as_is = 0, high = 0;
  std::vector<MessageId> words;     ///< of a choice, by the three numbers above
  bool by_default = false;          ///< the files left it to the reader's default
  double low_km = 0, high_km = 0;   ///< shortest life of the frame; NaN: it cannot be rated there
  std::string low_weld, high_weld;  ///< that govern there
  double spread = 1;                ///< largest over smallest of the three lives
  std::string moved_weld;           ///< the weld whose own life moves most, ...
  double moved = 1;                 ///< ... largest over smallest of its three lives
  std::vector<Message> unrated;     ///< why an end cannot be rated
  Source source;                    ///< of the range
};
/// A figure behind the lives whose source was recalled, not read again.
struct RecalledSource {
  std::string figure;
  Source source;
  std::size_t sites = 0;  ///< that rest on it
};
struct Influences {
  double life_km = 0;
  std::string weld;
  std::vector<Influence> inputs;          ///< largest spread first
  std::vector<KeyWithoutEffect> unmoved;  ///< values left to defaults that move no life, with the reason
  std::vector<Message> unranged;  ///< values left to defaults without a row: their influence is not known
  std::vector<RecalledSource> recalled;
};
/// Rates at every end in the frequency domain, over all processors. Throws what rate() throws for the job as
/// it is, and RatingStopped.
Influences influences(const rating::Job& job, const rules::Published& published,
                      const rating::Progress& progress);

/// Values left to defaults: those without a row of assumed_inputs(), sorted into the last two lists above.
void sort_defaults(const rating::Job& job, Influences& all);

}  // namespace seamwright::study
