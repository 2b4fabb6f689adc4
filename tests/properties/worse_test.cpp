// SPDX-License-Identifier: GPL-3.0-or-later
// Findings on the finished welds: every imperfection that the catalog knows, at every weld, small and large.
#include <catch2/catch.hpp>

#include "catalog/files/as_built.h"
#include "catalog/published/published_data.h"
#include "tests/properties/jobs.h"

using namespace seamwright;
using namespace seamwright::properties;

namespace {

std::vector<std::string> known_findings() {
  std::vector<std::string> out = {"throat", "leg", "cap-width"};
  for (const auto& i : published::catalog().imperfections) out.push_back(i.number);
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

rating::Job as_built(const rating::Job& drawn, const std::string& imperfection, double share_of_throat) {
  rating::Job job = drawn;
  std::vector<files::Finding> findings;
  for (const joints::Weld& w : drawn.design.welds) {
    files::Finding f;
    f.weld = w.id;
    f.imperfection = imperfection;
    f.value_mm = share_of_throat * w.throat_mm;
    f.line = 2;
    findings.push_back(f);
  }
  files::apply_as_built("measured.csv", findings, job.design);
  return job;
}

}  // namespace

TEST_CASE("no finding on a weld ever makes it better", "[night]") {
  const rating::Job drawn = read(texts_of(demo_folder));
  const rating::Rating before = quickly(drawn);
  std::size_t tried = 0;
  for (const std::string& imperfection : known_findings()) {
    for (double share : {0.6}) {
      INFO(imperfection << " of " << share << " throats");
      const rating::Rating after = quickly(as_built(drawn, imperfection, share));
      const auto now = by_id(after);
      for (const rating::WeldRating& w : before.welds) {
        INFO(w.id);
        CHECK(no_better(comfort_of(w), comfort_of(*now.at(w.id))));
      }
      CHECK(after.verdict >= before.verdict);
      ++tried;
    }
  }
  CHECK(tried > 25);
}
