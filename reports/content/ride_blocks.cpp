// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/ride_blocks.h"

#include <algorithm>
#include <cmath>

#include "engine/signal/welch.h"
#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

Facts recording_facts(const files::Ride& r) {
  const files::Recording& f = r.recording;
  Facts facts;
  const auto add = [&](MessageId id, Cell cell) { facts.facts.push_back({message_of(id), std::move(cell)}); };
  add("ride.separator", message_of(f.separator == '\t'  ? "ride.tab"
                                   : f.separator == ';' ? MessageId("ride.semicolon")
                                                        : "ride.comma"));
  add("ride.decimal", message_of(f.decimal_comma ? MessageId("ride.comma") : "ride.point"));
  add("ride.header", Quantity{static_cast<double>(f.header_line), "", 9});
  add("ride.time",
      Message{composed_id("ride.time-", files::name_of(f.time_kind)), {text("column", f.time_column)}});
  add("ride.rows", Quantity{static_cast<double>(r.survey.rows), "", 12});
  add("ride.duration", Quantity{r.survey.duration_s, "s", 5});
  add("ride.mean-rate", Quantity{r.survey.mean_rate_hz, "Hz", 4});
  add("ride.interval", Quantity{1000 * r.survey.median_interval_s, "ms", 3});
  add("ride.short-interval", Quantity{1000 * r.survey.short_interval_s, "ms", 3});
  add("ride.long-interval", Quantity{1000 * r.survey.long_interval_s, "ms", 3});
  add("ride.gaps", Quantity{static_cast<double>(r.survey.all_gaps), "", 9});
  return facts;
}

Table channels_of(const files::Ride& r) {
  Table t;
  for (const MessageId id :
       MessageIds{"column.channel", "column.unit", "column.mean", "column.deviation", "column.least",
                  "column.most", "column.largest-range", "column.missing"})
    t.columns.push_back(message_of(id));
  for (std::size_t c = 0; c < r.survey.channels.size(); ++c) {
    const signal::ChannelSurvey& s = r.survey.channels[c];
    const files::RecordedChannel& f = r.recording.channels[c];
    t.rows.push_back({Verbatim{f.name}, Verbatim{f.unit.empty() ? "?" : f.unit}, Quantity{s.mean, "", 4},
                      Quantity{s.deviation, "", 4}, Quantity{s.least, "", 4}, Quantity{s.most, "", 4},
                      Quantity{s.ranges.largest, "", 4}, Quantity{static_cast<double>(s.missing), "", 9}});
  }
  return t;
}

// RMS in thirds of octaves (IEC 61260: middles 10^(k/10) Hz).
Table spectrum_of(const files::Ride& r) {
  Table t;
  t.columns.push_back(message_of("column.band"));
  for (const auto& c : r.recording.channels) t.columns.push_back({"column.source", {text("source", c.name)}});
  for (int k = -5; k <= 30; ++k) {
    const double middle = std::pow(10, k / 10.0), half = std::pow(10, 0.05);
    if (middle * half > r.survey.rate_hz / 2) break;
    std::vector<Cell> row{Quantity{middle, "Hz", 3}};
    double sum = 0;
    for (const signal::ChannelSurvey& c : r.survey.channels) {
      const double rms = signal::band_rms(c.frequency_hz, c.density, middle / half, middle * half);
      sum += rms;
      row.emplace_back(Quantity{rms, "", 3});
    }
    if (sum > 0) t.rows.push_back(std::move(row));
  }
  return t;
}

Table ranges_of(const files::Ride& r) {
  Table t;
  t.columns.push_back(message_of("column.class"));
  for (const auto& c : r.recording.channels) t.columns.push_back({"column.source", {text("source", c.name)}});
  const std::size_t classes = r.survey.channels[0].ranges.cycles.size();
  for (std::size_t k = classes; k-- > 0;) {
    std::vector<Cell> row{
        Quantity{100.0 * static_cast<double>(k + 1) / static_cast<double>(classes), "%", 3}};
    double sum = 0;
    for (const signal::ChannelSurvey& c : r.survey.channels) {
      sum += c.ranges.cycles[k];
      row.emplace_back(Quantity{c.ranges.cycles[k], "", 9});
    }
    if (sum > 0) t.rows.push_back(std::move(row));
  }
  return t;
}

}  // namespace

std::vector<Message> ride_checks(const files::Ride& r) {
  std::vector<Message> found;
  const signal::Survey& s = r.survey;
  if (r.skipped > 0) found.push_back({"ride.skipped", {number("rows", static_cast<double>(r.skipped), "")}});
  if (r.recording.time_unit_guessed)
    found.push_back({"ride.time-guessed", {text("column", r.recording.time_column)}});
  if (s.long_interval_s > 2 * s.median_interval_s || s.short_interval_s < 0.5 * s.median_interval_s)
    found.push_back({"ride.jitter",
                     {number("short", 1000 * s.short_interval_s, "ms"),
                      number("long", 1000 * s.long_interval_s, "ms"), number("rate", s.rate_hz, "Hz")}});
  if (s.all_gaps > 0)
    found.push_back(
        {"ride.gap",
         {number("count", static_cast<double>(s.all_gaps), ""), number("from", s.gaps[0].from_s, "s"),
          number("longest",
                 std::max_element(s.gaps.begin(), s.gaps.end(),
                                  [](const auto& a, const auto& b) { return a.seconds < b.seconds; })
                     ->seconds,
                 "s")}});
  if (s.repeated_times > 0)
    found.push_back({"ride.repeated", {number("rows", static_cast<double>(s.repeated_times), "")}});
  for (std::size_t c = 0; c < s.channels.size(); ++c) {
    const signal::ChannelSurvey& ch = s.channels[c];
    const files::RecordedChannel& f = r.recording.channels[c];
    const auto add = [&](MessageId id, double value, const char* unit) {
      found.push_back({id, {text("channel", f.name), number("value", value, unit)}});
    };
    if (ch.constant) {
      add("ride.constant", ch.least, "");
      continue;
    }
    if (f.unit.empty()) found.push_back({"ride.no-unit", {text("channel", f.name)}});
    if (f.unit_by_name)
      found.push_back({"ride.unit-by-name", {text("channel", f.name), text("unit", f.unit)}});
    if (ch.missing > 0) add("ride.missing", static_cast<double>(ch.missing), "");
    if (ch.clipped_share > 1e-4) add("ride.clipped", 100 * ch.clipped_share, "%");
    if (ch.longest_stuck_s > std::max(0.5, 20 * s.median_interval_s))
      add("ride.stuck", ch.longest_stuck_s, "s");
    if (ch.spikes > 0) add("ride.spikes", static_cast<double>(ch.spikes), "");
    if (std::abs(ch.drift) > 1) add("ride.drift", ch.drift, "");
    if (ch.aliasing_share > 0.02) add("ride.aliasing", 100 * ch.aliasing_share, "%");
  }
  return found;
}

Document ride_document(const files::Ride& r) {
  Document d;
  d.title = {"ride.title", {text("file", r.recording.file.name)}};
  d.blocks.emplace_back(Heading{2, message_of("ride.understood")});
  d.blocks.emplace_back(recording_facts(r));
  d.blocks.emplace_back(Paragraph{
      {"ride.resampled", {number("rate", r.survey.rate_hz, "Hz"), number("gap", r.survey.gap_s, "s")}}});
  d.blocks.emplace_back(channels_of(r));
  d.blocks.emplace_back(Heading{2, message_of("ride.checks")});
  const std::vector<Message> checks = ride_checks(r);
  if (checks.empty()) d.blocks.emplace_back(Paragraph{message_of("ride.no-findings")});
  for (const Message& m : checks) d.blocks.emplace_back(Paragraph{m});
  if (r.road)
    d.blocks.emplace_back(
        Paragraph{{"ride.road",
                   {text("class", r.road_class), number("roughness", 1e6 * r.road->gd_n0_m3, "e-6 m3"),
                    number("rms", r.road->measured_rms_m_s2, "m/s2"), text("node", r.road->node),
                    number("speed", r.road->speed_kmh, "km/h"), number("from", r.road->from_hz, "Hz"),
                    number("to", r.road->to_hz, "Hz")}}});
  if (!r.profile.empty()) d.blocks.emplace_back(Paragraph{{"ride.profile", {text("file", r.profile)}}});
  if (r.damage) {
    d.blocks.emplace_back(Paragraph{
        {"ride.damage",
         {text("channel", r.channel), curve_argument(r.curve), number("damage", r.damage->damage, ""),
          number("largest", r.damage->largest_mpa, "MPa")}}});
    if (r.damage->life_km > 0)
      d.blocks.emplace_back(Paragraph{{"ride.life", {number("life", r.damage->life_km, "km")}}});
    d.blocks.emplace_back(Caution{{message_of("caution.estimate"), message_of("ride.no-factors")}});
  }
  d.blocks.emplace_back(Heading{2, message_of("ride.spectrum")});
  d.blocks.emplace_back(spectrum_of(r));
  d.blocks.emplace_back(Heading{2, message_of("ride.ranges")});
  d.blocks.emplace_back(ranges_of(r));
  return d;
}

}  // namespace seamwright::reports
