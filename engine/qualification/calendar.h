// SPDX-License-Identifier: GPL-3.0-or-later
// Calendar days. Months are added as certificates count them: to the same day, or the last of a shorter
// month.
#pragma once

#include <chrono>
#include <optional>
#include <string>

namespace seamwright::qualification {

using Date = std::chrono::year_month_day;

/// "2025-03-10", years 1900..2199; nothing for anything else, such as 29 February of a common year.
std::optional<Date> read_date(const std::string& text);
std::string text_of(Date date);
Date add_months(Date date, int months);
Date next_day(Date date);

}  // namespace seamwright::qualification
