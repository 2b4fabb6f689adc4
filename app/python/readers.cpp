// SPDX-License-Identifier: GPL-3.0-or-later
// Tables that people bring: tests of details, and rides as loggers write them.
#include <cmath>

#include "app/python/jobs.h"
#include "app/python/parts.h"
#include "catalog/files/details_reader.h"
#include "catalog/files/recording_reader.h"
#include "engine/fatigue/fit.h"

namespace seamwright::python {

namespace {

std::vector<fatigue::Test> tests(const py::object& path) {
  const std::string file = path_of(path);
  const py::gil_scoped_release others_go_on;
  return files::read_tests(file);
}

fatigue::Fit fit(const std::vector<fatigue::Test>& all, std::optional<double> slope, double survival, double confidence) {
  const py::gil_scoped_release others_go_on;
  return fatigue::fit_curve(all, {slope, survival, confidence});
}

// The channels of a ride, one row to a channel, whole in memory.
struct Recording {
  std::vector<std::string> names, units;
  std::vector<double> seconds;
  std::vector<std::vector<double>> channels;
};

Recording recording(const py::object& path) {
  const std::string file = path_of(path);
  const py::gil_scoped_release others_go_on;
  const files::Recording ride = files::inspect_recording(file, {});
  Recording made;
  for (const auto& channel : ride.channels) {
    made.names.push_back(channel.name);
    made.units.push_back(channel.unit);
  }
  made.channels.resize(made.names.size());
  files::read_rows(ride, [&](double time, std::span<const double> values) {
    made.seconds.push_back(time);
    for (std::size_t i = 0; i < values.size(); ++i) made.channels[i].push_back(values[i]);
  });
  return made;
}

py::list channels(const py::object& self) {
  py::list views;
  for (const std::vector<double>& channel : self.cast<const Recording&>().channels) views.append(view_of(channel, self));
  return views;
}

}  // namespace

void add_readers(py::module_& module) {
  auto test = value<fatigue::Test>(module, "Test", "One test of a detail: its range, its cycles, and whether it ran out unbroken.");
  test.def(py::init<double, double, bool>(), py::arg("range_mpa"), py::arg("cycles"), py::arg("run_out") = false);
  field(test, "range_mpa", &fatigue::Test::range_mpa, "");
  field(test, "cycles", &fatigue::Test::cycles, "");
  field(test, "run_out", &fatigue::Test::run_out, "");
  module.def("read_tests", &tests, py::arg("path"), "Tests from a table, as `seamwright fit` reads it.");
  module.def("fit", &fit, py::arg("tests"), py::kw_only(), py::arg("slope") = py::none(), py::arg("survival") = 0.95, py::arg("confidence") = 0.75,
             "An S-N curve and its design curve from tests. slope: fixed; else found.");
  auto ride = value<Recording>(module, "Recording", "A recorded ride: its channels over time.");
  field(ride, "names", &Recording::names, "As the table has them.");
  field(ride, "units", &Recording::units, "Of the channels.");
  field(ride, "seconds", &Recording::seconds, "Of each row.");
  ride.def_property_readonly("channels", &channels, "An array for each channel.");
  module.def("read_recording", &recording, py::arg("path"), "A table of a ride as a logger wrote it, on its own grid.");
}

}  // namespace seamwright::python
