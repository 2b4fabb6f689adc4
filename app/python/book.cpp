// SPDX-License-Identifier: GPL-3.0-or-later
// The record book, only to look.
#include "catalog/book/book.h"

#include "app/python/jobs.h"
#include "app/python/parts.h"
#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "catalog/book/verify.h"

namespace seamwright::python {

namespace {

using book::Book;

std::unique_ptr<Book> open(const py::object& path) {
  const std::string file = path_of(path);
  const py::gil_scoped_release others_go_on;
  return std::make_unique<Book>(Book::open_read(file));
}

// Interpreters call from many threads, a store is asked by one at a time: the interpreter is held but while the book is verified by itself.
std::vector<book::Carrier> carriers(const Book& b, const std::string& name, const std::string& value, const std::string& today) {
  return book::recall(b, {name, value}, today);
}

}  // namespace

void add_book(py::module_& module) {
  py::class_<Book>(module, "Book", "A record book that is only looked at.")
      .def(py::init(&open), py::arg("path"))
      .def_property_readonly("id", &Book::id)
      .def_property_readonly("head", &Book::head, "\"12:ab34...\": number and hash of the last entry.")
      .def("verify", [](const Book& b, const std::string& known_head) { return book::verify(b, known_head); }, py::arg("known_head") = "",
           "Every entry against its hash, its signature, its author's role and the rules.")
      .def("frames", [](const Book& b) { return b.values_of("frame"); }, "Serials that the book knows.")
      .def("trace", [](const Book& b, const std::string& serial) { return book::trace(b, serial); }, py::arg("serial"),
           "All records of a frame, and those behind them.")
      .def("gaps", [](const Book& b, const std::string& serial, const std::string& today) { return book::gaps(b, serial, today); },
           py::arg("serial"), py::arg("today"), "What is missing before the frame may leave; today: \"2026-11-26\".")
      .def("state", [](const Book& b, const std::string& serial, const std::string& today) { return book::state_of(b, serial, today); },
           py::arg("serial"), py::arg("today"), "Verdict, gaps, cracks, release and shipment of a frame.")
      .def("recall", &carriers, py::arg("name"), py::arg("value"), py::arg("today"),
           "Frames that carry a heat, a lot or the like, those that used most of their life first.");
}

}  // namespace seamwright::python
