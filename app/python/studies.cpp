// SPDX-License-Identifier: GPL-3.0-or-later
// Questions asked of a job beyond its rating.
#include "app/python/jobs.h"
#include "app/python/parts.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/returns_reader.h"
#include "catalog/published/published_data.h"
#include "engine/study/comparison.h"
#include "engine/study/influence.h"
#include "engine/study/recalibration.h"
#include "engine/study/suggest.h"
#include "engine/study/sweep.h"
#include "engine/study/throat_needs.h"

namespace seamwright::python {

namespace {

const rules::Published& data() { return published::catalog().data; }

study::RatedPair compare(const py::object& first, const py::object& second, const std::string& method, const py::object& progress) {
  const std::shared_ptr<OpenJob> a = job_of(first), b = job_of(second);
  const rating::Method by = method_of(method);
  return worked_on(*b, progress, [&](const rating::Progress& p) { return study::rate_pair(a->job, b->job, data(), by, p); });
}

study::Influences influences(const py::object& job, const py::object& progress) {
  const std::shared_ptr<OpenJob> open = job_of(job);
  return worked_on(*open, progress, [&](const rating::Progress& p) { return study::influences(scalable(*open), data(), p); });
}

std::vector<study::ThroatNeed> throats(const py::object& job, const py::object& progress) {
  const std::shared_ptr<OpenJob> open = job_of(job);
  return worked_on(*open, progress, [&](const rating::Progress& p) { return study::throats_needed(scalable(*open), data(), p); });
}

std::vector<study::Suggestion> suggest(const py::object& job, const std::string& weld, const std::string& method, const py::object& progress) {
  const std::shared_ptr<OpenJob> open = job_of(job);
  const rating::Method by = method_of(method);
  std::vector<frame::RoundTube> stock;
  for (const published::TubeSize& t : published::catalog().tubes) stock.push_back({t.diameter_mm, t.wall_mm});
  return worked_on(*open, progress, [&](const rating::Progress& p) {
    files::weld_of(open->job.design, weld);
    return study::suggestions(scalable(*open), data(), stock, weld, by, p);
  });
}

using Places = std::map<std::string, double>;

// Every variant is the job's files with some numbers in place of theirs, and with its rules and its joint models scaled.
std::vector<study::SweptVariant> sweep(const py::object& job, const std::vector<Places>& designs, const std::string& method, std::size_t threads,
                                       const py::object& progress) {
  const std::shared_ptr<OpenJob> open = job_of(job);
  const rating::Job base = scalable(*open);
  std::vector<study::SweptVariant> all(designs.size());
  study::SweepOrder order;
  order.method = method_of(method);
  order.threads = threads;
  order.job_of = [&](std::size_t number) {
    const Places& places = designs[number];
    rating::Job variant = files::read_job(open->path, open->duty, published::catalog(), {{places.begin(), places.end()}, {}});
    variant.rules = base.rules;
    variant.joint_models = base.joint_models;
    return variant;
  };
  order.sink = [&](const study::SweptVariant& variant) { all[variant.number] = variant; };
  return worked(progress, [&](const rating::Progress& p) {
    study::sweep(study::variants_of_part(designs.size(), 1, 1), order, data(), p);
    return all;
  });
}

study::Recalibration recalibrate(const py::object& job, const py::object& returns, const py::object& progress) {
  const std::shared_ptr<OpenJob> open = job_of(job);
  const std::string file = path_of(returns);
  return worked_on(*open, progress, [&](const rating::Progress& p) {
    const files::ReturnsFile home = files::read_returns(file, open->job.design);
    return study::recalibrate(open->job, data(), home.returns, home.prior, p);
  });
}

}  // namespace

void add_studies(py::module_& module) {
  const auto progress = [] { return py::arg("progress") = py::none(); };
  module.def("compare", &compare, py::arg("first"), py::arg("second"), py::kw_only(), py::arg("method") = "spectral", progress(),
             "Rates two jobs and sets them side by side, weld by weld.");
  module.def("influences", &influences, py::arg("job"), py::kw_only(), progress(),
             "Assumed inputs by how far they move the lives, within the ranges that they may lie in.");
  module.def("throats_needed", &throats, py::arg("job"), py::kw_only(), progress(), "The throat that the root of each weld needs.");
  module.def("suggestions", &suggest, py::arg("job"), py::arg("weld"), py::kw_only(), py::arg("method") = "spectral", progress(),
             "The smallest changes with which a weld meets, one kind at a time, from the published stock of tubes.");
  module.def("sweep", &sweep, py::arg("job"), py::arg("variants"), py::kw_only(), py::arg("method") = "spectral", py::arg("threads") = 0, progress(),
             "Rates variants of the job's design, over all processors: each is a dictionary of numbers by their places "
             "(\"tube[spine].wall_mm\") in place of what the file says. One that is impossible says why and ends nothing.");
  module.def("recalibrate", &recalibrate, py::arg("job"), py::arg("returns"), py::kw_only(), progress(),
             "The rating before and after what frames from the field say of its loads; returns: their file.");
}

}  // namespace seamwright::python
