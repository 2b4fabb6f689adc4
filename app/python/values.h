// SPDX-License-Identifier: GPL-3.0-or-later
// A plain value of engine or catalog as Python sees it: fields to be read, arrays without a copy, words for choices.
#pragma once

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <Eigen/Core>
#include <nlohmann/json.hpp>
#include <string>
#include <type_traits>
#include <vector>

#include "engine/evidence/evidence.h"

namespace pybind11::detail {

/// An id is seen as its text.
template <>
struct type_caster<seamwright::MessageId> {
  PYBIND11_TYPE_CASTER(seamwright::MessageId, const_name("str"));
  bool load(handle, bool) { return false; }
  static handle cast(seamwright::MessageId id, return_value_policy, handle) { return str(id.text()).release(); }
};

/// The content of a record is seen as dictionaries and lists.
template <>
struct type_caster<nlohmann::json> {
  PYBIND11_TYPE_CASTER(nlohmann::json, const_name("object"));
  bool load(handle, bool) { return false; }
  static handle cast(const nlohmann::json& value, return_value_policy, handle) {
    return module_::import("json").attr("loads")(value.dump()).release();
  }
};

}  // namespace pybind11::detail

namespace seamwright::python {

namespace py = pybind11;

/// Numbers in memory of `owner`, which lives as long as the array; nobody writes into them.
py::array view_of(const double* numbers, std::vector<py::ssize_t> shape, std::vector<py::ssize_t> strides, py::handle owner);

template <typename Numbers>
py::array view_of(const Numbers& numbers, py::handle owner) {
  constexpr auto step = static_cast<py::ssize_t>(sizeof(double));
  if constexpr (requires { numbers.rows(); }) {
    if constexpr (Numbers::ColsAtCompileTime != 1)
      return view_of(numbers.data(), {numbers.rows(), numbers.cols()}, {step, step * numbers.rows()}, owner);
    else
      return view_of(numbers.data(), {numbers.rows()}, {step}, owner);
  } else {
    return view_of(numbers.data(), {static_cast<py::ssize_t>(numbers.size())}, {step}, owner);
  }
}

template <typename T>
concept Numbers = std::is_same_v<T, std::vector<double>> || std::is_base_of_v<Eigen::EigenBase<T>, T>;

/// A class of values with its words for who looks at one.
template <typename T, typename... Bases>
py::class_<T, Bases...> value(py::module_& module, const char* name, const char* about) {
  py::class_<T, Bases...> made(module, name, about);
  made.def("__repr__", [](const py::object& self) { return py::module_::import("seamwright._values").attr("shown")(self); });
  return made;
}

template <typename C, typename B, typename T, typename... Bases>
void field(py::class_<C, Bases...>& made, const char* name, T B::*member, const char* about) {
  if constexpr (Numbers<T>)
    made.def_property_readonly(
        name, [member](const py::object& self) { return view_of(self.cast<const C&>().*member, self); }, about);
  else if constexpr (std::is_enum_v<T>)
    made.def_property_readonly(name, [member](const C& self) { return std::string(name_of(self.*member)); }, about);
  else
    made.def_readonly(name, member, about);
}

/// A field that is worked out from the others.
template <typename C, typename T, typename... Bases>
void derived(py::class_<C, Bases...>& made, const char* name, T (C::*function)() const, const char* about) {
  made.def_property_readonly(name, function, about);
}

}  // namespace seamwright::python
