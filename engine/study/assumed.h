// SPDX-License-Identifier: GPL-3.0-or-later
// A rating takes these without a published source: one row for each assumed input, with the keys of the files
// that it answers for, the range that it may lie in and where that range comes from.
#pragma once

#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::rating {
struct Job;
}

namespace seamwright::study {

enum class RangeKind {
  times,    ///< low and high are factors on the value
  plus,     ///< they are added to it
  between,  ///< they are values themselves
  words     ///< the value is the number of a choice; every other choice is an end
};

inline constexpr double no_such_input = std::numeric_limits<double>::quiet_NaN();

struct AssumedInput {
  std::string name;  ///< its word is "input.NAME"
  std::string unit;  ///< of the value; "" = dimensionless, or a factor on many values at once
  /// Keys of design and duty by their path without ids: "duty.rider.mass_kg". One that ends in a point stands
  /// for all below it.
  std::vector<std::string> keys;
  RangeKind kind = RangeKind::times;
  double low = 0, high = 0;
  std::function<double(const rating::Job&)> as_is;  ///< NaN: no such input
  std::function<void(rating::Job&, double)> set;
  std::vector<MessageId> words{};  ///< of the choices
  Source range{"seamwright", "range assumed"};
};
/// All of them, in the order of the files.
const std::vector<AssumedInput>& assumed_inputs();

/// A key that has no row, and why it cannot move a life: the id of a sentence "unmoved.*".
struct KeyWithoutEffect {
  std::string key;
  MessageId reason;
};
const std::vector<KeyWithoutEffect>& keys_without_effect();

/// "duty.road[tarmac].waviness" as "duty.road.waviness".
std::string without_ids(const std::string& key);
/// True when a key of a list, perhaps one that stands for all below it, answers for this one (without ids).
bool answers_for(const std::string& listed, const std::string& key);
/// The two ends of a row's range in this job; the value itself where the range has no end on that side.
std::pair<double, double> ends_of(const AssumedInput& row, double as_is);

/// Parts of the list.
std::vector<AssumedInput> assumed_of_rider();
std::vector<AssumedInput> assumed_of_roads();
std::vector<AssumedInput> assumed_of_legs();
std::vector<AssumedInput> assumed_of_events();
std::vector<AssumedInput> assumed_of_drive();
std::vector<AssumedInput> assumed_of_tyres();
std::vector<AssumedInput> assumed_of_design();
std::vector<AssumedInput> assumed_of_rules();

}  // namespace seamwright::study
