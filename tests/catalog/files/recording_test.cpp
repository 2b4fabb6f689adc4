// SPDX-License-Identifier: GPL-3.0-or-later
// Tables as phones, loggers and amplifiers write them.
#include "catalog/files/recording_reader.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/evidence/evidence.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;
using namespace seamwright::files;

namespace {

struct Read {
  Recording recording;
  std::vector<double> times;
  std::vector<std::vector<double>> values;
};

Read read(const std::string& text, const RecordingOptions& options = {}) {
  const Folder folder;
  Read r;
  r.recording = inspect_recording(folder.write("ride.csv", text), options);
  read_rows(r.recording, [&](double t, std::span<const double> v) {
    r.times.push_back(t);
    r.values.emplace_back(v.begin(), v.end());
  });
  return r;
}

std::string recording_refusal(const std::string& text, const RecordingOptions& options = {}) {
  try {
    read(text, options);
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace

TEST_CASE("semicolons, decimal commas, a blank first line and clock time with milliseconds after a colon") {
  const Read r = read(
      "\n"
      "time;gFx;gFz;Speed (m/s);\n"
      "14:34:33:116;0,0450;0,9655;3,5;\n"
      "14:34:33:217;0,1;1,0;3,6;\n");
  CHECK(r.recording.separator == ';');
  CHECK(r.recording.decimal_comma);
  CHECK(r.recording.header_line == 2);
  CHECK(r.recording.time_kind == TimeKind::clock);
  REQUIRE(r.recording.channels.size() == 3);
  CHECK(r.recording.channels[0].unit == "g");
  CHECK(r.recording.channels[0].unit_by_name);
  CHECK(r.recording.channels[2].unit == "m/s");
  CHECK(r.times[1] - r.times[0] == Approx(0.101));
  CHECK(r.values[0] == std::vector<double>{0.045, 0.9655, 3.5});
}

TEST_CASE("tabs, comments, a byte-order mark and milliseconds") {
  const Read r = read(
      "\xEF\xBB\xBF# logger 7\n# amplifier\nms\tstrain [\xC2\xB5"
      "m/m]\tforce (N)\n0\t1.5\t-3\n5\t2.5\t4e2\n");
  CHECK(r.recording.separator == '\t');
  CHECK(r.recording.time_kind == TimeKind::milliseconds);
  CHECK_FALSE(r.recording.time_unit_guessed);
  CHECK(r.recording.channels[0].unit == "microstrain");
  CHECK(r.recording.channels[1].unit == "N");
  CHECK(r.times[1] == Approx(0.005));
  CHECK(r.values[1] == std::vector<double>{2.5, 400});
}

TEST_CASE("ISO 8601 with zones, and commas between cells") {
  const Read r = read("timestamp,a_m/s2\n2026-03-01T23:59:59.500Z,1\n2026-03-02T01:00:00.250+01:00,2\n");
  CHECK(r.recording.time_kind == TimeKind::iso);
  CHECK(r.times[1] - r.times[0] == Approx(0.75).epsilon(1e-6));
  CHECK(r.recording.channels[0].unit == "m/s2");
  // 2026-03-01 is day 20513 since 1970.
  CHECK(r.times[0] == Approx(20513 * 86400.0 + 86399.5).epsilon(1e-15));
}

TEST_CASE("a clock runs on over midnight, and lines of words before the header are comments") {
  const Read r = read("Device,X\nnothing here\nTime,acc [g]\n23:59:59.9,1\n00:00:00.1,2\n00:00:00.3,3\n");
  CHECK(r.times[1] - r.times[0] == Approx(0.2));
  CHECK(r.values.size() == 3);
}

TEST_CASE("no header, missing cells, words in between and rows without a time") {
  const Read r = read("0.00,1,2\n0.01,,3\n0.02,NaN,4\nend of block\n0.03,5\n");
  CHECK(r.recording.header_line == 0);
  CHECK(r.recording.channels[0].name == "c2");
  REQUIRE(r.values.size() == 4);
  CHECK(std::isnan(r.values[1][0]));
  CHECK(std::isnan(r.values[2][0]));
  CHECK(r.values[3][0] == 5);
  CHECK(std::isnan(r.values[3][1]));
}

TEST_CASE("whole numbers that step by one and more are milliseconds, seconds since 1970 are not") {
  CHECK(read("t,a\n0,1\n10,2\n").recording.time_kind == TimeKind::milliseconds);
  CHECK(read("t,a\n1700000000,1\n1700000001,2\n").recording.time_kind == TimeKind::seconds);
  CHECK(read("t,a\n0.0,1\n0.1,2\n").recording.time_kind == TimeKind::seconds);
  CHECK(read("t (s),a\n0,1\n10,2\n").recording.time_kind == TimeKind::seconds);
}

TEST_CASE("units given by hand, and wrong ones") {
  CHECK(read("t,a\n0.0,1\n0.1,2\n", {"", {{"a", "g"}}}).recording.channels[0].unit == "g");
  CHECK(recording_refusal("t,a\n0.0,1\n0.1,2\n", {"", {{"b", "g"}}}) == "file.no-column");
  CHECK(recording_refusal("t,a\n0.0,1\n0.1,2\n", {"", {{"a", "furlong"}}}) == "recording.unknown-unit");
}

TEST_CASE("tables that cannot be are refused") {
  CHECK(recording_refusal("") == "file.empty");
  CHECK(recording_refusal("\n\n# only comments\n") == "file.empty");
  CHECK(recording_refusal("just words\nand more words\n") == "recording.no-table");
  CHECK(recording_refusal("a,b\n") == "recording.no-table");
  CHECK(recording_refusal("x,y\n1,2\n3,4\n") == "recording.no-time");
  CHECK(recording_refusal("time,zeit,a\n0,0,1\n1,1,2\n") == "recording.two-times");
  CHECK(recording_refusal("time,zeit,a\n0,0,1\n1,1,2\n", {"zeit", {}}).empty());
  CHECK(recording_refusal("time,a\n0,word\n1,word\n") == "recording.no-channel");
  CHECK(recording_refusal(std::string("time,a\n0,1\n") + std::string(3, '\0') + "\n") == "file.not-text");
  std::string rows = "time,a\n0,1\n";
  for (int i = 0; i < 300; ++i) rows += "x,1\n";
  CHECK(recording_refusal(rows) == "recording.bad-time");
}
