// SPDX-License-Identifier: GPL-3.0-or-later
// The module's parts, each of which adds its classes and functions.
#pragma once

#include <pybind11/pybind11.h>

namespace seamwright::python {

void add_values_1(pybind11::module_& module);
void add_values_2(pybind11::module_& module);
void add_faults(pybind11::module_& module);
void add_jobs(pybind11::module_& module);
void add_ratings(pybind11::module_& module);
void add_studies(pybind11::module_& module);
void add_readers(pybind11::module_& module);
void add_figures(pybind11::module_& module);
void add_book(pybind11::module_& module);

}  // namespace seamwright::python
