// SPDX-License-Identifier: GPL-3.0-or-later
// Jobs: read, with numbers changed, by other rules.
#include "app/python/jobs.h"

#include "app/python/parts.h"
#include "catalog/files/job_reader.h"
#include "catalog/models/job_models.h"
#include "catalog/published/published_data.h"
#include "engine/evidence/named_values.h"
#include "engine/rules/rule_sets.h"
#include "engine/solid/joint_models.h"

namespace seamwright::python {

namespace {

using Places = std::map<std::string, double>;

rating::Job read(const std::string& path, const std::string& duty, const files::Changes& changes, bool equations,
                 const rating::Progress& progress) {
  rating::Job job = files::read_job(path, duty, published::catalog(), changes);
  if (!equations) models::add_joint_models(job, progress);
  return job;
}

std::shared_ptr<OpenJob> open(const py::object& path, const py::object& duty, const Places& design, const Places& service,
                              const std::string& rules, bool equations, const py::object& progress) {
  auto made = std::make_shared<OpenJob>();
  made->path = path_of(path);
  if (!duty.is_none()) made->duty = path_of(duty);
  const files::Changes changes{{design.begin(), design.end()}, {service.begin(), service.end()}};
  const auto set = find_named(rules::rule_sets, rules);
  if (!rules.empty() && !set) throw py::value_error("rules: " + rules);
  made->job = worked_on(*made, progress, [&](const rating::Progress& p) { return read(made->path, made->duty, changes, equations, p); });
  if (set) rules::change_set(made->job.rules, **set);
  return made;
}

std::vector<std::string> welds(const OpenJob& job) {
  std::vector<std::string> ids;
  for (const auto& weld : job.job.design.welds) ids.push_back(weld.id);
  return ids;
}

}  // namespace

std::string path_of(const py::handle& path) {
  PyObject* bytes = nullptr;
  if (!PyUnicode_FSConverter(path.ptr(), &bytes)) throw py::error_already_set();
  return py::reinterpret_steal<py::bytes>(bytes);
}

std::shared_ptr<OpenJob> job_of(const py::object& job) {
  if (py::isinstance<OpenJob>(job)) return job.cast<std::shared_ptr<OpenJob>>();
  return open(job, py::none(), {}, {}, "", false, py::none());
}

rating::Job scalable(const OpenJob& job) {
  rating::Job changed = job.job;
  if (!changed.joint_models) return changed;
  auto library = std::make_shared<solid::JointLibrary>(*changed.joint_models);
  library->scale_like = true;
  changed.joint_models = std::move(library);
  return changed;
}

rating::Method method_of(const std::string& name) {
  if (name == "time") return rating::Method::time;
  if (name == "spectral") return rating::Method::spectral;
  throw py::value_error("method: " + name);
}

rating::Progress Watch::progress() {
  return {[this](double share) {
            const py::gil_scoped_acquire held;
            if (thrown_) return;
            try {
              if (PyErr_CheckSignals() != 0) throw py::error_already_set();
              if (!told_.is_none()) told_(share);
            } catch (...) {
              thrown_ = std::current_exception();
              stop_.request_stop();
            }
          },
          stop_.get_token()};
}

void with_places(const OpenJob& job, const std::function<void()>& work) {
  try {
    work();
  } catch (const Fault& fault) {
    throw files::with_place(files::with_place(fault, files::design_path(job.path)), files::duty_path(job.path, job.duty));
  }
}

void add_jobs(py::module_& module) {
  py::class_<OpenJob, std::shared_ptr<OpenJob>>(module, "Job", "A design and its duty, as read_job() read them.")
      .def_readonly("path", &OpenJob::path, "The folder or the design file.")
      .def_property_readonly("name", [](const OpenJob& j) { return j.job.design.identity.name; }, "The design's name.")
      .def_property_readonly("rules", [](const OpenJob& j) { return std::string(name_of(j.job.rules.set)); }, "The rule set.")
      .def_property_readonly("welds", &welds, "The welds' ids, in the design's order.")
      .def_property_readonly("joint_models", [](const OpenJob& j) { return j.job.joint_models && !j.job.joint_models->unavailable; },
                             "True when joints are rated by finite-element models.")
      .def_property_readonly("assumptions", [](const OpenJob& j) { return j.job.assumptions; }, "Of the duty's reader.");
  module.def("read_job", &open, py::arg("path"), py::kw_only(), py::arg("duty") = py::none(), py::arg("design_changes") = Places{},
             py::arg("duty_changes") = Places{}, py::arg("rules") = "", py::arg("equations") = false, py::arg("progress") = py::none(),
             "Reads a job folder or a design file. duty: a file in place of the job's. design_changes, duty_changes: numbers in place of what the "
             "files say, by their places (\"tube[spine].wall_mm\"). rules: a rule set in place of the duty's. equations: joints by equations "
             "alone, without their finite-element models.");
}

}  // namespace seamwright::python
