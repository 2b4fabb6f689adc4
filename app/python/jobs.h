// SPDX-License-Identifier: GPL-3.0-or-later
// A job that was opened, and work on it: threads of Python go on meanwhile.
#pragma once

#include <exception>
#include <functional>
#include <memory>
#include <string>
#include <utility>

#include "app/python/values.h"
#include "engine/rating/job.h"
#include "engine/rating/progress.h"
#include "engine/rating/rate.h"

namespace seamwright::python {

struct OpenJob {
  rating::Job job;
  std::string path, duty;
};

/// A path as text; a TypeError or ValueError where it can be none.
std::string path_of(const py::handle& path);
/// The job itself, or the one of a path, with its joint models.
std::shared_ptr<OpenJob> job_of(const py::object& job);
/// The same with models that may be scaled from like ones, for studies that change it.
rating::Job scalable(const OpenJob& job);
rating::Method method_of(const std::string& name);

/// Tells a function of Python how far the work is; whatever that throws, and Ctrl-C, ends the work.
class Watch {
 public:
  explicit Watch(py::object told) : told_(std::move(told)) {}
  rating::Progress progress();
  /// Raises again whatever of Python ended the work, if anything did.
  void rethrow() const {
    if (thrown_) std::rethrow_exception(thrown_);
  }

 private:
  py::object told_;
  std::stop_source stop_;
  std::exception_ptr thrown_;
};

/// A fault of the model gets the place in the files of the job.
void with_places(const OpenJob& job, const std::function<void()>& work);

/// Works without holding the interpreter.
template <typename Work>
auto worked(const py::object& told, const Work& work) {
  Watch watch(told);
  decltype(work(watch.progress())) result;
  try {
    const rating::Progress progress = watch.progress();
    const py::gil_scoped_release others_go_on;
    result = work(progress);
  } catch (const rating::RatingStopped&) {
    watch.rethrow();
    throw;
  }
  watch.rethrow();
  return result;
}

/// The same on one job.
template <typename Work>
auto worked_on(const OpenJob& job, const py::object& told, const Work& work) {
  return worked(told, [&](const rating::Progress& progress) {
    decltype(work(progress)) result;
    with_places(job, [&] { result = work(progress); });
    return result;
  });
}

}  // namespace seamwright::python
