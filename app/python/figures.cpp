// SPDX-License-Identifier: GPL-3.0-or-later
// Published formulas by name.
#include "catalog/figures/figures.h"

#include "app/python/parts.h"
#include "app/python/values.h"
#include "catalog/published/published_data.h"

namespace seamwright::python {

namespace {

figures::FigureResult compute(const std::string& name, const py::kwargs& given) {
  std::map<std::string, std::string> arguments;
  for (const auto& [key, number] : given) arguments[py::str(key)] = py::str(number);
  const py::gil_scoped_release others_go_on;
  return figures::compute(name, arguments, published::catalog());
}

py::dict parameters() {
  py::dict all;
  for (const figures::Figure& figure : figures::figures()) {
    py::list names;
    for (const figures::Parameter& parameter : figure.parameters) names.append(parameter.name);
    all[py::str(figure.name)] = names;
  }
  return all;
}

}  // namespace

void add_figures(py::module_& module) {
  module.def("figure", &compute, py::arg("name"),
             "One published formula by its name, with its parameters by theirs: figure(\"miner\", curve=\"F\", spectrum=\"1000000@40\").");
  module.def("figures", &parameters, "The names of all figures, each with those of its parameters.");
}

}  // namespace seamwright::python
