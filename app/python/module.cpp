// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/python/parts.h"
#include "app/python/values.h"

namespace seamwright::python {

py::array view_of(const double* numbers, std::vector<py::ssize_t> shape, std::vector<py::ssize_t> strides, py::handle owner) {
  py::array view(py::dtype::of<double>(), std::move(shape), std::move(strides), numbers, owner);
  view.attr("flags").attr("writeable") = false;
  return view;
}

}  // namespace seamwright::python

PYBIND11_MODULE(_seamwright, module) {
  using namespace seamwright::python;
  module.attr("__version__") = SEAMWRIGHT_VERSION;
  for (const auto add : {add_faults, add_values_1, add_values_2, add_jobs, add_ratings, add_studies, add_readers, add_figures, add_book})
    add(module);
}
