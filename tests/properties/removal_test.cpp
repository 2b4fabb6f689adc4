// SPDX-License-Identifier: GPL-3.0-or-later
// A weld, its joint, a proof or a certificate is taken away. Either the job is refused, or no answer is
// better than before.
#include <catch2/catch.hpp>

#include "catalog/files/patch.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/published/published_data.h"
#include "tests/properties/jobs.h"

using namespace seamwright;
using namespace seamwright::properties;

namespace {

int badness(qualification::Answer answer) {
  switch (answer) {
    case qualification::Answer::yes:
      return 0;
    case qualification::Answer::cannot_decide:
      return 1;
    case qualification::Answer::no:
      return 2;
  }
  return 2;
}

}  // namespace

TEST_CASE("a weld that is taken away is missed") {
  const Texts texts = texts_of(demo_folder);
  const std::string path = demo_folder + "/design.toml";
  std::size_t tried = 0;
  for (const std::string& row : rows_of(texts.design, "weld")) {
    INFO(row);
    Texts less = texts;
    less.design = files::without_row(path, texts.design, row);
    try {
      const rating::Job job = read(less);
      rating::rate(job, published::catalog().data, rating::Method::spectral, {});
      FAIL_CHECK("rated without the weld");
    } catch (const Fault& fault) {
      CHECK(has_place(fault));
    }
    ++tried;
  }
  CHECK(tried > 40);
}

TEST_CASE("a certificate that is taken away qualifies nobody") {
  const qualification::Date today = *qualification::read_date("2026-12-01");
  const rating::Job job = read(texts_of(demo_folder));
  const files::Certificates all = files::read_certificates(demo_folder + "/certificates.toml", today);
  const auto procedures = files::read_procedures(demo_folder + "/procedures", today);
  REQUIRE(all.all.size() > 1);
  REQUIRE(!procedures.empty());
  for (const joints::Weld& w : job.design.welds)
    for (const files::ProcedureFile& p : procedures) {
      if (p.sheet.id != w.procedure) continue;
      const qualification::JointSizes sizes = files::sizes_of(job.design, w);
      for (const qualification::Certificate& c : all.all) {
        INFO(w.id << " by " << c.id);
        const auto answer = [&](const qualification::Certificate& one) {
          return badness(qualification::verdict(
              qualification::welder_covers(one, p.sheet, sizes, today, today, all.employer)));
        };
        const int before = answer(c);
        qualification::Certificate worse = c;
        worse.confirmed.clear();
        worse.prolonged.clear();
        CHECK(answer(worse) >= before);
        worse = c;
        worse.revoked = true;
        CHECK(answer(worse) > 0);
        worse = c;
        worse.designation.positions = {"PA"};
        CHECK(answer(worse) >= before);
      }
    }
}
