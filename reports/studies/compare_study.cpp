// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/studies/compare_study.h"

#include "catalog/files/difference.h"
#include "catalog/files/job_reader.h"

namespace seamwright::reports {

namespace {

// One half of the progress of two ratings.
rating::Progress half_of(const rating::Progress& whole, double from) {
  rating::Progress half;
  half.stop = whole.stop;
  if (whole.report) half.report = [&whole, from](double share) { whole.report(from + share / 2); };
  return half;
}

std::string name_of(const design::Design& design) {
  return design.identity.name + " " + design.identity.revision;
}

}  // namespace

Compared compared(const ComparedJob& first, const ComparedJob& second, rating::Method method,
                  const rating::Progress& progress) {
  const rules::Published& published = published::catalog().data;
  Compared c;
  try {
    c.first = rating::rate(first.job, published, method, half_of(progress, 0));
  } catch (const Fault& fault) {
    throw files::placed_in(fault, first.design_path, first.design_text);  // not in the other's file
  }
  c.second = rating::rate(second.job, published, method, half_of(progress, 0.5));
  CompareReport& r = c.report;
  r.welds = study::compare(c.first, c.second);
  r.first_chance = c.first.likelihood.frame.probability;
  r.second_chance = c.second.likelihood.frame.probability;
  r.verdict = c.second.verdict;
  for (const files::Difference& d :
       files::differences_of(second.design_path, first.design_text, second.design_text))
    r.differences.push_back({d.place, d.first, d.second});
  r.first = name_of(first.job.design);
  r.second = name_of(second.job.design);
  r.first_kg = study::frame_mass_kg(first.job.design.frame);
  r.second_kg = study::frame_mass_kg(second.job.design.frame);
  return c;
}

}  // namespace seamwright::reports
