// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/recording_reader.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <optional>

#include "catalog/files/text_lines.h"
#include "catalog/published/nearest.h"
#include "engine/evidence/typed.h"

namespace seamwright::files {

namespace {

constexpr double day_s = 86400;

std::optional<double> whole_number(std::string_view digits, std::size_t least, std::size_t most) {
  if (digits.size() < least || digits.size() > most) return std::nullopt;
  double value = 0;
  for (const char c : digits) {
    if (c < '0' || c > '9') return std::nullopt;
    value = 10 * value + (c - '0');
  }
  return value;
}

// hh:mm:ss, hh:mm:ss.fff, hh:mm:ss,fff or hh:mm:ss:mmm, in s of the day.
std::optional<double> clock_time(std::string_view cell) {
  const std::size_t a = cell.find(':');
  if (a == std::string_view::npos) return std::nullopt;
  const std::size_t b = cell.find(':', a + 1);
  if (b == std::string_view::npos) return std::nullopt;
  std::string_view seconds = cell.substr(b + 1);
  double part = 0;
  if (const std::size_t at = seconds.find_first_of(".,:"); at != std::string_view::npos) {
    const std::string_view digits = seconds.substr(at + 1);
    const auto value = whole_number(digits, 1, 9);
    if (!value) return std::nullopt;
    // Milliseconds stand after a colon, with or without leading zeros, a fraction after a point.
    part = seconds[at] == ':' ? *value / 1000 : *value / std::pow(10, static_cast<double>(digits.size()));
    seconds = seconds.substr(0, at);
  }
  const auto h = whole_number(cell.substr(0, a), 1, 2), m = whole_number(cell.substr(a + 1, b - a - 1), 2, 2),
             s = whole_number(seconds, 2, 2);
  if (!h || !m || !s || *h > 23 || *m > 59 || *s > 60) return std::nullopt;
  return 3600 * *h + 60 * *m + *s + part;
}

// Days since 1970-01-01 of a date of the Gregorian calendar.
double days_of(double year, double month, double day) {
  const double y = month <= 2 ? year - 1 : year, m = month <= 2 ? month + 9 : month - 3;
  return std::floor(365 * y) + std::floor(y / 4) - std::floor(y / 100) + std::floor(y / 400) +
         std::floor((153 * m + 2) / 5) + day - 719469;
}

// YYYY-MM-DD, T or blank, a clock time, and Z, +hh:mm or nothing.
std::optional<double> iso_time(std::string_view cell) {
  if (cell.size() < 19 || cell[4] != '-' || cell[7] != '-' || (cell[10] != 'T' && cell[10] != ' '))
    return std::nullopt;
  const auto year = whole_number(cell.substr(0, 4), 4, 4), month = whole_number(cell.substr(5, 2), 2, 2),
             day = whole_number(cell.substr(8, 2), 2, 2);
  if (!year || !month || !day || *month < 1 || *month > 12 || *day < 1 || *day > 31) return std::nullopt;
  std::string_view rest = cell.substr(11);
  double offset = 0;
  if (rest.ends_with('Z')) {
    rest.remove_suffix(1);
  } else if (const std::size_t at = rest.find_first_of("+-"); at != std::string_view::npos) {
    const std::string_view zone = rest.substr(at + 1);
    const auto h = whole_number(zone.substr(0, 2), 2, 2);
    const auto m =
        zone.size() > 2 ? whole_number(zone.substr(zone.size() - 2), 2, 2) : std::optional<double>(0);
    if (!h || !m) return std::nullopt;
    offset = (rest[at] == '-' ? -1 : 1) * (3600 * *h + 60 * *m);
    rest = rest.substr(0, at);
  }
  const auto clock = clock_time(rest);
  if (!clock) return std::nullopt;
  return day_s * days_of(*year, *month, *day) + *clock - offset;
}

std::optional<double> time_of(std::string_view cell, TimeKind kind) {
  switch (kind) {
    case TimeKind::clock:
      return clock_time(cell);
    case TimeKind::iso:
      return iso_time(cell);
    case TimeKind::seconds:
      return typed_number(cell);
    case TimeKind::milliseconds: {
      const auto value = typed_number(cell);
      return value ? std::optional<double>(*value / 1000) : std::nullopt;
    }
  }
  return std::nullopt;
}

std::string lower_case(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return out;
}

// The unit written in a header cell: in brackets, or at the end of the name after _ or a blank.
std::string written_unit(const std::string& name) {
  for (const char* brackets : {"()", "[]"}) {
    const std::size_t from = name.find(brackets[0]), to = name.find(brackets[1], from + 1);
    if (from != std::string::npos && to != std::string::npos) return name.substr(from + 1, to - from - 1);
  }
  const std::size_t at = name.find_last_of("_ ");
  return at == std::string::npos ? "" : name.substr(at + 1);
}

// Units in their ways of writing.
std::string known_unit(const std::string& written) {
  const std::string u = lower_case(written);
  for (const char* s : {"m/s2", "m/s^2", "m/s\xC2\xB2", "m/s/s", "m_s2", "ms-2", "s2", "m/s**2"})
    if (u == s) return "m/s2";
  for (const char* s : {"microstrain",
                        "\xC2\xB5"
                        "e",
                        "\xCE\xBC"
                        "e",
                        "\xC2\xB5m/m", "\xCE\xBCm/m", "um/m", "ue", "ustrain",
                        "\xC2\xB5"
                        "strain"})
    if (u == s) return "microstrain";
  if (u == "g" || u == "m/s" || u == "km/h") return u;
  if (u == "mpa" || u == "n/mm2" || u == "n/mm\xC2\xB2") return "MPa";
  if (u == "n") return "N";
  return "";
}

RecordedChannel channel_of(const std::string& name, std::size_t column) {
  RecordedChannel c;
  c.name = name;
  c.column = column;
  c.unit = known_unit(written_unit(name));
  if (!c.unit.empty()) return c;
  const std::string n = lower_case(name);
  // Phones write gFx, gx, g_y for acceleration in g.
  for (const char* s : {"gfx", "gfy", "gfz", "gx", "gy", "gz", "g_x", "g_y", "g_z"})
    if (n == s) {
      c.unit = std::string(1, 'g');
      c.unit_by_name = true;
    }
  return c;
}

bool names_time(const std::string& name) {
  const std::string n = lower_case(name.substr(0, name.find_first_of("([")));
  std::string bare;
  for (const char c : n)
    if (c != ' ' && c != '_') bare += c;
  for (const char* s :
       {"time", "t", "zeit", "timestamp", "seconds", "sec", "s", "ms", "millis", "milliseconds", "times",
        "timems", "ts", "tms", "datetime", "date", "elapsed", "clock"})
    if (bare == s) return true;
  return false;
}

// Kind of a cell as a time beside plain numbers.
std::optional<TimeKind> calendar_kind(std::string_view cell) {
  if (iso_time(cell)) return TimeKind::iso;
  if (clock_time(cell)) return TimeKind::clock;
  return std::nullopt;
}

struct Start {
  std::vector<std::string> header, first, second;
  std::size_t header_line = 0;
};

bool is_data(const std::vector<std::string>& row) {
  return std::any_of(row.begin(), row.end(), [&](const std::string& c) {
    return typed_number(c).has_value() || calendar_kind(c).has_value();
  });
}

// The lines at the head of a file, without a byte-order mark.
std::vector<std::pair<std::size_t, std::string>> head_of(const SourceFile& file) {
  constexpr std::size_t most = 200;
  Lines lines(file);
  std::vector<std::pair<std::size_t, std::string>> head;
  std::string line;
  bool first = true;
  while (head.size() < most && lines.next(line)) {
    if (line.find('\0') != std::string::npos) lines.fail("file.not-text", {});
    if (first && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
    first = false;
    const std::string_view t = trimmed(line);
    if (t.empty() || t.front() == '#' || t.front() == '%' || t.starts_with("//")) continue;
    head.emplace_back(lines.number(), line);
  }
  if (head.empty()) lines.fail("file.empty", {});
  return head;
}

std::optional<Start> find_start(const std::vector<std::pair<std::size_t, std::string>>& head,
                                char separator) {
  for (std::size_t i = 0; i + 1 < head.size(); ++i) {
    const auto names = cells(head[i].second, separator), row = cells(head[i + 1].second, separator);
    if (names.size() < 2 || row.size() + 1 < names.size() || row.size() > names.size() + 1) continue;
    if (!is_data(row)) continue;
    Start s;
    if (is_data(names)) {  // no header
      for (std::size_t c = 0; c < names.size(); ++c)
        s.header.push_back(std::string("c").append(std::to_string(c + 1)));
      s.first = names;
      s.second = row;
    } else {
      s.header = names;
      s.header_line = head[i].first;
      s.first = row;
      s.second = i + 2 < head.size() ? cells(head[i + 2].second, separator) : row;
    }
    return s;
  }
  return std::nullopt;
}

std::string columns_named(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& n : names)
    if (!n.empty()) out.append(out.empty() ? "" : ", ").append(n);
  return out.substr(0, 500);
}

void find_time(Recording& r, const Start& s, const std::string& wanted) {
  const auto fault = [&](MessageId id, const std::string& found) {
    throw Fault{Message{id,
                        {text("file", r.file.name), number("line", static_cast<double>(r.header_line), ""),
                         text("found", found)}}};
  };
  std::vector<std::size_t> found;
  for (std::size_t c = 0; c < s.header.size() && c < s.first.size(); ++c) {
    if (wanted.empty() ? names_time(s.header[c]) || calendar_kind(s.first[c]).has_value()
                       : s.header[c] == wanted)
      found.push_back(c);
  }
  if (found.empty() && wanted.empty() && r.header_line == 0 && typed_number(s.first[0]))
    found.push_back(0);  // no names: the first column
  if (found.empty()) fault("recording.no-time", columns_named(s.header));
  if (found.size() > 1) {
    std::vector<std::string> names;
    for (const std::size_t c : found) names.push_back(s.header[c]);
    fault("recording.two-times", columns_named(names));
  }
  r.time_index = found[0];
  r.time_column = s.header[found[0]];
  const std::string& cell = s.first[r.time_index];
  if (const auto kind = calendar_kind(cell)) {
    r.time_kind = *kind;
    return;
  }
  const auto first = typed_number(cell);
  if (!first) fault("recording.no-time", r.time_column);
  const std::string unit = lower_case(written_unit(r.time_column)), name = lower_case(r.time_column);
  if (unit == "ms" || name == "ms" || name == "millis" || name == "milliseconds") {
    r.time_kind = TimeKind::milliseconds;
  } else if (unit != "s" && unit != "sec" && name != "s" && name != "seconds") {
    r.time_unit_guessed = true;
    const auto second = r.time_index < s.second.size() ? typed_number(s.second[r.time_index]) : first;
    const bool round = std::floor(*first) == *first && second && std::floor(*second) == *second;
    // Seconds since 1970 are whole and step by 1 too.
    const bool epoch_s = *first > 1e9 && *first < 1e11;
    if (round && !epoch_s && *second - *first >= 1) r.time_kind = TimeKind::milliseconds;
  }
}

}  // namespace

const char* name_of(TimeKind kind) {
  switch (kind) {
    case TimeKind::seconds:
      return "seconds";
    case TimeKind::milliseconds:
      return "milliseconds";
    case TimeKind::clock:
      return "clock";
    case TimeKind::iso:
      return "iso-8601";
  }
  return "seconds";
}

Recording inspect_recording(const SourceFile& file, const RecordingOptions& options) {
  const auto head = head_of(file);
  Recording r;
  r.file = file;
  std::optional<Start> start;
  for (const char separator : {'\t', ';', ','}) {
    start = find_start(head, separator);
    if (!start) continue;
    r.separator = separator;
    break;
  }
  if (!start)
    throw Fault{Message{"recording.no-table",
                        {text("file", file.name), number("line", static_cast<double>(head[0].first), "")}}};
  r.header_line = start->header_line;
  r.decimal_comma = r.separator != ',' &&
                    std::any_of(start->first.begin(), start->first.end(),
                                [](const std::string& c) { return c.find(',') != std::string::npos; });
  find_time(r, *start, options.time);
  for (std::size_t c = 0; c < start->header.size(); ++c) {
    if (c == r.time_index || start->header[c].empty()) continue;
    const auto number_in = [&](const std::vector<std::string>& row) {
      return c < row.size() && typed_number(row[c]).has_value();
    };
    if (!number_in(start->first) && !number_in(start->second)) continue;
    r.channels.push_back(channel_of(start->header[c], c));
  }
  for (const auto& [name, unit] : options.units) {
    const auto at = std::find_if(r.channels.begin(), r.channels.end(),
                                 [&wanted = name](const auto& c) { return c.name == wanted; });
    std::vector<std::string> names;
    for (const auto& c : r.channels) names.push_back(c.name);
    if (at == r.channels.end())
      throw Fault{Message{"file.no-column",
                          {text("file", file.name), number("line", static_cast<double>(r.header_line), ""),
                           text("column", name), text("expected", published::nearest_or_some(name, names))}}};
    at->unit = known_unit(unit);
    at->unit_by_name = false;
    if (at->unit.empty()) throw Fault{Message{"recording.unknown-unit", {text("unit", unit)}}};
  }
  if (r.channels.empty())
    throw Fault{Message{"recording.no-channel",
                        {text("file", file.name), number("line", static_cast<double>(r.header_line), "")}}};
  return r;
}

std::size_t read_rows(const Recording& r, const std::function<void(double, std::span<const double>)>& sink) {
  Lines lines(r.file);
  std::string line;
  std::vector<std::string_view> row;
  std::vector<double> values(r.channels.size());
  std::size_t skipped = 0, read = 0;
  double last = -std::numeric_limits<double>::infinity(), days = 0;
  while (lines.next(line)) {
    if (lines.number() <= r.header_line) continue;
    if (read + skipped == 0 && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
    const std::string_view whole_line = trimmed(line);
    if (whole_line.empty() || whole_line.front() == '#') continue;
    row.clear();
    for (std::string_view rest = line;;) {
      const std::size_t at = rest.find(r.separator);
      row.push_back(trimmed(rest.substr(0, at)));
      if (at == std::string_view::npos) break;
      rest.remove_prefix(at + 1);
    }
    const auto time = r.time_index < row.size() ? time_of(row[r.time_index], r.time_kind) : std::nullopt;
    if (!time) {
      ++skipped;
      if (skipped > read && skipped > 100) lines.fail("recording.bad-time", {text("column", r.time_column)});
      continue;
    }
    // A clock that falls by more than half a day has passed midnight.
    if (r.time_kind == TimeKind::clock && *time + days < last - day_s / 2) days += day_s;
    last = *time + days;
    for (std::size_t c = 0; c < values.size(); ++c) {
      const auto value =
          r.channels[c].column < row.size() ? typed_number(row[r.channels[c].column]) : std::nullopt;
      values[c] = value.value_or(std::numeric_limits<double>::quiet_NaN());
    }
    ++read;
    sink(last, values);
  }
  return skipped;
}

std::size_t channel_index(const Recording& r, const std::string& name) {
  std::vector<std::string> names;
  for (std::size_t c = 0; c < r.channels.size(); ++c) {
    if (r.channels[c].name == name) return c;
    names.push_back(r.channels[c].name);
  }
  throw Fault{Message{"file.no-column",
                      {text("file", r.file.name), number("line", static_cast<double>(r.header_line), ""),
                       text("column", name), text("expected", published::nearest_or_some(name, names))}}};
}

}  // namespace seamwright::files
