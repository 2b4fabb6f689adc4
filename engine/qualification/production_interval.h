// SPDX-License-Identifier: GPL-3.0-or-later
// Production test pieces: a piece of the frames' tubes is welded with them and cut open, each procedure once in so many months or frames,
// whichever comes first. Common practice of small shops, no standard asks for these numbers; they stand here alone.
#pragma once

namespace seamwright::qualification {

struct ProductionInterval {
  int months = 12;
  int frames = 25;
};
inline constexpr ProductionInterval production_interval{};

}  // namespace seamwright::qualification
