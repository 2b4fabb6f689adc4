// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/returns_reader.h"

#include <algorithm>
#include <cmath>

#include "catalog/files/parse.h"
#include "catalog/files/small_table.h"

namespace seamwright::files {

ReturnsFile read_returns(const SourceFile& file, const design::Design& design) {
  std::vector<std::string> subjects;
  for (std::size_t i = 0; i < design::subject_count(design); ++i)
    subjects.push_back(design::subject_of(design, i).id);
  constexpr Bounds km{0.001, 1e7}, frames{1, 1e6};
  const toml::table table = parse(file.name, read_text(file));
  ReturnsFile out;
  Reader root(file, "returns", table, nullptr, &out.assumptions);
  root.choice("format", {"seamwright.returns/1"});
  root.text_or("note", "");
  for (const toml::table* t : root.tables("cracked")) {
    Reader r = root.sub_reader("cracked", *t);
    measured::Return back;
    back.cracked = true;
    back.weld = r.id("weld");
    if (std::find(subjects.begin(), subjects.end(), back.weld) == subjects.end())
      r.refuse_unknown("weld", back.weld, subjects);
    back.site = r.text_or("site", "");
    back.km = r.real("km", km);
    r.finish();
    out.returns.push_back(back);
  }
  for (const toml::table* t : root.tables("survived")) {
    Reader r = root.sub_reader("survived", *t);
    measured::Return back;
    back.km = r.real("km", km);
    back.count = r.has("frames") ? r.real("frames", frames) : 1;
    r.finish();
    out.returns.push_back(back);
  }
  if (out.returns.empty()) root.refuse_missing("cracked", "[[cracked]] or [[survived]]");
  const toml::table nothing;
  const auto priors = root.tables("prior");
  Reader p = root.sub_reader("prior", priors.empty() ? nothing : *priors[0]);
  out.prior.ln_factor_deviation = p.real_or("ln_factor_deviation", {0.01, 3}, out.prior.ln_factor_deviation);
  out.prior.scatter_median = p.real_or("scatter_median", {0.05, 3}, out.prior.scatter_median);
  out.prior.ln_scatter_deviation =
      p.real_or("ln_scatter_deviation", {0.01, 3}, out.prior.ln_scatter_deviation);
  p.finish();
  root.finish();
  return out;
}

std::vector<measured::GaugeReading> read_readings(const SourceFile& file, const measured::GaugePlan& plan) {
  std::vector<std::string> channels;
  for (const measured::GaugeChannel& c : plan.channels) channels.push_back(c.id);
  const auto most = static_cast<double>(plan.gauges.size());
  std::vector<measured::GaugeReading> readings;
  read_small_table(file, {"gauge", "channel", "microstrain"}, {}, [&](const TableRow& row) {
    const double gauge = row.real("gauge");
    if (!(gauge >= 1 && gauge <= most && gauge == std::floor(gauge)))
      row.fail("gauges.unknown-gauge", {number("gauge", gauge, ""), number("most", most, "")});
    const std::string channel = row.text_of("channel");
    if (std::find(channels.begin(), channels.end(), channel) == channels.end())
      row.fail("file.unknown-id", {text("key", "channel"), text("found", channel.substr(0, 80)),
                                   text("expected", published::nearest_or_some(channel.substr(0, 80), channels))});
    readings.push_back({static_cast<std::size_t>(gauge) - 1, channel, row.real("microstrain")});
  });
  return readings;
}

}  // namespace seamwright::files
