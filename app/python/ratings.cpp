// SPDX-License-Identifier: GPL-3.0-or-later
// Ratings with the ranges of every site.
#include "app/python/jobs.h"
#include "app/python/parts.h"
#include "catalog/files/job_checks.h"
#include "catalog/models/user_counts.h"
#include "catalog/published/published_data.h"
#include "engine/rating/memory.h"
#include "engine/rating/site_ranges.h"

namespace seamwright::python {

namespace {

using rating::RangeBins;
using rating::SiteRanges;

rating::RatingWithRanges rate(const py::object& job, const std::string& method, const std::string& weld, const py::object& progress) {
  const std::shared_ptr<OpenJob> open = job_of(job);
  const rating::Method by = method_of(method);
  return worked_on(*open, progress, [&](const rating::Progress& p) {
    files::require_subject(open->job.design, weld);
    models::UserCounts kept;
    rating::Memory memory;
    return rating::rate_with_ranges(open->job, published::catalog().data, by, p, weld, {&kept, &memory});
  });
}

// One number of each bin.
py::array column(const SiteRanges& ranges, double RangeBins::Bin::*number, const py::object& owner) {
  return view_of(&(ranges.ranges.bins[0].*number), {RangeBins::size}, {sizeof(RangeBins::Bin)}, owner);
}

py::array bounds() {
  py::array_t<double> made(RangeBins::size + 1);
  for (std::size_t i = 0; i <= RangeBins::size; ++i) made.mutable_at(i) = RangeBins::from_mpa(i);
  return made;
}

}  // namespace

void add_ratings(py::module_& module) {
  auto ranges = value<SiteRanges>(module, "SiteRanges", "Cycles and damage of a year at one site by stress range.");
  field(ranges, "weld", &SiteRanges::weld, "The weld's id.");
  field(ranges, "site", &SiteRanges::site, "As SiteRating.site.");
  ranges.def_property_readonly(
      "cycles", [](const py::object& self) { return column(self.cast<const SiteRanges&>(), &RangeBins::Bin::cycles, self); },
      "Cycles a year in each bin of range_bounds_mpa().");
  ranges.def_property_readonly(
      "damage", [](const py::object& self) { return column(self.cast<const SiteRanges&>(), &RangeBins::Bin::damage, self); },
      "Damage a year in each bin, with all factors.");
  auto whole = value<rating::RatingWithRanges, rating::Rating>(module, "RatingWithRanges", "A Rating, and the ranges of every site.");
  field(whole, "ranges", &rating::RatingWithRanges::ranges, "Each site once, by its weld and site; welds stand in another order than in the rating.");
  module.def("range_bounds_mpa", &bounds, "Bounds of the bins of ranges, MPa, one more than bins; what is smaller or larger joins the ends.");
  module.def("rate", &rate, py::arg("job"), py::kw_only(), py::arg("method") = "time", py::arg("weld") = "", py::arg("progress") = py::none(),
             "Rates every weld of a job: a Job or its path. method: \"time\" counts histories, \"spectral\" uses moments. weld: told in detail as "
             "well. progress: a function that is told the share that is done; what it raises ends the work.");
}

}  // namespace seamwright::python
