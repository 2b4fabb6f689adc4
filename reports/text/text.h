// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences by message id, numbers and times as a reader of a language has them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/evidence/evidence.h"
#include "reports/text/language.h"

namespace seamwright::reports {

/// "2026-11-26T12:00:00Z" as "2026-11-26 13:00:00 +0100 (12:00:00Z)": local time with its offset beside UTC;
/// what is no such time stays as it is.
std::string local_time(const std::string& utc);

/// The sentence with its arguments set in ("{wall}"); numbers get their unit and the language's decimal mark;
/// where the sentence has forms of number, its counted argument chooses. An id that the language lacks is told
/// in brackets with its arguments, so that nothing is hidden.
std::string sentence(const Message& message, Language language);

/// Significant digits that a reader may believe; JSON and CSV keep the full numbers.
inline constexpr int digits_given = 4;      ///< drawn, typed or measured
inline constexpr int digits_computed = 3;   ///< good to some percent: stresses, factors
inline constexpr int digits_estimated = 2;  ///< good to tens of percent or a factor: lives, chances, damage
/// The digits of a number by what it is: the name of a message's argument or of a figure.
int digits_of(std::string_view name);

/// A number with at most `digits` significant digits, the language's decimal mark, and its unit after a
/// narrow space.
std::string quantity(double value, std::string_view unit, int digits, Language language);

/// All ids of a language, for the test that holds both together.
std::vector<std::string> known_ids(Language language);
/// The raw template of an id, the form for other numbers than one where it has both; empty when unknown.
std::string_view sentence_template(std::string_view id, Language language);

}  // namespace seamwright::reports
