// SPDX-License-Identifier: GPL-3.0-or-later
// A Fault becomes an exception of Python, with its place as attributes and its sentence in the user's language.
#include <string>

#include "app/python/parts.h"
#include "app/python/values.h"
#include "engine/rating/progress.h"
#include "reports/text/text.h"
#include "reports/text/told.h"

namespace seamwright::python {

namespace {

py::object* fault_type = nullptr;    // live as long as the process, as the module does
py::object* stopped_type = nullptr;

const char* name_of_category(Category category) {
  constexpr const char* names[] = {"usage", "input", "machine", "locked"};
  return names[static_cast<int>(category)];
}

// Texts of files may hold bytes that are no letters.
py::object shown(const std::string& text) {
  return py::reinterpret_steal<py::object>(PyUnicode_DecodeUTF8(text.data(), static_cast<py::ssize_t>(text.size()), "replace"));
}

void raise(const Fault& fault) {
  const reports::Language language = reports::language_of_environment();
  const FaultPlace& place = fault.place;
  py::object made = (*fault_type)(shown(reports::placed_sentence(fault, language)));
  made.attr("id") = fault.message.id.text();
  made.attr("category") = name_of_category(fault.category);
  made.attr("file") = shown(place.file);
  made.attr("line") = place.line;
  made.attr("key") = shown(place.key);
  made.attr("found") = shown(place.found);
  made.attr("expected") = shown(place.expected);
  made.attr("nearest") = shown(place.nearest);
  made.attr("remedy") = place.remedy.empty() ? py::str("") : py::str(shown(reports::sentence({place.remedy, fault.message.arguments}, language)));
  PyErr_SetObject(fault_type->ptr(), made.ptr());
}

py::object* exception(py::module_& module, const char* name, const char* about) {
  const std::string full = std::string("seamwright.") + name;
  auto* made = new py::object(py::reinterpret_steal<py::object>(PyErr_NewExceptionWithDoc(full.c_str(), about, nullptr, nullptr)));
  module.attr(name) = *made;
  return made;
}

}  // namespace

void add_faults(py::module_& module) {
  fault_type = exception(module, "Fault",
                         "What was given cannot be, or cannot be read. str() is the sentence in the user's language; id, category (\"usage\", "
                         "\"input\", \"machine\", \"locked\"), file, line, key, found, expected, nearest and remedy say the same one by one; "
                         "\"\" or 0: not known.");
  stopped_type = exception(module, "Stopped", "The work was asked to stop.");
  py::register_exception_translator([](std::exception_ptr thrown) {
    try {
      std::rethrow_exception(thrown);
    } catch (const Fault& fault) {
      raise(fault);
    } catch (const rating::RatingStopped&) {
      PyErr_SetNone(stopped_type->ptr());
    }
  });
  module.def(
      "sentence", [](const Message& message) { return shown(reports::sentence(message, reports::language_of_environment())); },
      py::arg("message"), "The message as a sentence in the user's language (LC_ALL, LC_MESSAGES or LANG).");
}

}  // namespace seamwright::python
