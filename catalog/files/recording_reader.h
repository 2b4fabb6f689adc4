// SPDX-License-Identifier: GPL-3.0-or-later
// Recorded rides: the tables that phones, loggers and amplifiers write, understood and read as a stream.
#pragma once

#include <functional>
#include <map>
#include <span>
#include <string>
#include <vector>

#include "catalog/files/source.h"

namespace seamwright::files {

enum class TimeKind { seconds, milliseconds, clock, iso };
const char* name_of(TimeKind kind);  ///< "seconds", "milliseconds", "clock", "iso-8601"

struct RecordedChannel {
  std::string name;
  std::string unit;           ///< "m/s2", "g", "microstrain", "MPa", "N", "" when not understood
  bool unit_by_name = false;  ///< read from a name without a written unit
  std::size_t column = 0;
};

/// This was understood of a table.
struct Recording {
  SourceFile file = "";
  char separator = ',';
  bool decimal_comma = false;
  std::size_t header_line = 0;  ///< 0 = no header: columns are called c1, c2 ...
  std::string time_column;
  std::size_t time_index = 0;
  TimeKind time_kind = TimeKind::seconds;
  bool time_unit_guessed = false;
  std::vector<RecordedChannel> channels;  ///< columns of numbers but the time
};

struct RecordingOptions {
  std::string time;                          ///< name of the time column; "" = find it
  std::map<std::string, std::string> units;  ///< by channel
};

/// Reads as far as the first rows. The header is the first line whose cells are as many as those of the line
/// that follows and are not numbers; lines before it are comments. Separator: tab, semicolon or comma. Times:
/// seconds or milliseconds (by the unit in the header; else whole numbers that step by 1 and more are
/// milliseconds), hh:mm:ss with . : or , before the milliseconds, or ISO 8601. Throws Fault "file.*" as
/// read_column() does, "recording.no-table", "recording.no-time" (columns found), "recording.two-times",
/// "recording.no-channel", "recording.unknown-unit".
Recording inspect_recording(const SourceFile& file, const RecordingOptions& options);

/// Calls sink(time in s, one value per channel in the unit, NaN for a missing cell) for every row; g stays g.
/// Clock times run on over midnight. A row without a time is skipped and counted. Returns the rows skipped.
/// Throws Fault "recording.bad-time" (line) when more rows have no time than have one among the first
/// hundred.
std::size_t read_rows(const Recording& recording,
                      const std::function<void(double, std::span<const double>)>& sink);

/// Index of a channel by its name. Throws Fault "file.no-column" with the nearest known.
std::size_t channel_index(const Recording& recording, const std::string& name);

}  // namespace seamwright::files
