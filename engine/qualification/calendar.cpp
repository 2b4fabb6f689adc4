// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/calendar.h"

#include <algorithm>
#include <cctype>

namespace seamwright::qualification {

using namespace std::chrono;

std::optional<Date> read_date(const std::string& s) {
  if (s.size() != 10 || s[4] != '-' || s[7] != '-') return std::nullopt;
  for (const std::size_t i : {0U, 1U, 2U, 3U, 5U, 6U, 8U, 9U})
    if (!std::isdigit(static_cast<unsigned char>(s[i]))) return std::nullopt;
  const Date date{year(std::stoi(s.substr(0, 4))), month(static_cast<unsigned>(std::stoi(s.substr(5, 2)))),
                  day(static_cast<unsigned>(std::stoi(s.substr(8, 2))))};
  if (!date.ok() || date.year() < year(1900) || date.year() > year(2199)) return std::nullopt;
  return date;
}

std::string text_of(Date date) {
  const auto two = [](unsigned n) { return std::string(n < 10 ? "0" : "") + std::to_string(n); };
  return std::to_string(static_cast<int>(date.year())) + "-" + two(static_cast<unsigned>(date.month())) +
         "-" + two(static_cast<unsigned>(date.day()));
}

Date add_months(Date date, int count) {
  const year_month month = year_month(date.year(), date.month()) + months(count);
  const day last = (month / std::chrono::last).day();
  return month / std::min(date.day(), last);
}

Date next_day(Date date) { return Date(sys_days(date) + days(1)); }

}  // namespace seamwright::qualification
