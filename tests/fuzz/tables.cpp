// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "catalog/book/bulk.h"
#include "catalog/files/import_table.h"
#include "catalog/files/details_reader.h"
#include "catalog/files/measured_reader.h"
#include "catalog/files/recording_reader.h"
#include "catalog/files/returns_reader.h"
#include "tests/fuzz/targets.h"

namespace seamwright::fuzz {

void ride(std::string_view input) {
  const InputFile file = as_file(input, ".csv");
  const files::Recording r = files::inspect_recording(file, {});
  files::read_rows(r, [&](double time_s, std::span<const double> values) {
    promise(std::isfinite(time_s), "a row has a time");
    promise(values.size() == r.channels.size(), "a row has a value for each channel");
  });
}

void measured(std::string_view input) {
  for (const files::Finding& f : files::read_measured(as_file(input, ".csv")))
    promise(f.value_mm >= 0 && f.value_mm <= 1000, "a finding lies within its bounds");
}

void tests(std::string_view input) { files::read_tests(as_file(input, ".csv")); }

void readings(std::string_view input) {
  measured::GaugePlan plan;
  plan.gauges.resize(6);
  plan.channels.resize(2);
  plan.channels[0].id = "corner";
  plan.channels[1].id = "brake";
  for (const measured::GaugeReading& r : files::read_readings(as_file(input, ".csv"), plan))
    promise(r.gauge < 6, "a reading is of a gauge of the plan");
}

void nodes(std::string_view input) {
  const std::string design(
      "format = \"seamwright.design/1\"\nname = \"n\"\n\n[[node]]\nid = \"a\"\nposition_mm = [0, 0, 0]\n");
  const files::Imported once = files::import_table("design.toml", design, as_file(input, ".csv"));
  const files::Imported twice = files::import_table("design.toml", once.text, as_file(input, ".csv"));
  promise(twice.text == once.text && twice.added == 0, "a table read in twice changes nothing more");
}

void records(std::string_view input) {
  book::read_records(on_disk(input, ".csv"), "weld");
  book::read_records(on_disk(input, ".toml"), "");
}

}  // namespace seamwright::fuzz
