// SPDX-License-Identifier: GPL-3.0-or-later
// A job begun from a few measures in a folder that is not there yet: new_job FOLDER. Its design is then
// changed in the text, and refused, since tubes of it cannot be where they would be drawn.
#include <cstdio>

#include "catalog/files/begin.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/patch.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"
#include "engine/design/member_ends.h"
#include "engine/shape/clash.h"

using namespace seamwright;

int main(int, char** arguments) {
  const published::Catalog& catalog = published::catalog();
  const std::string folder = arguments[1], path = folder + "/design.toml";
  files::NewJob job;
  job.name = "Market trike";
  job.given = {{files::Ask::wheelbase, 1300}, {files::Ask::payload, 60}};
  files::begin_job(folder, job, catalog);

  const design::Design design = files::read_design(path, catalog);
  std::printf("%s: %zu welds, %zu clashes, %zu open ends\n", design.identity.name.c_str(),
              design.welds.size(), shape::clashes(design.frame, design.welds).size(),
              design::open_ends(design).size());

  const std::string wide = files::patched(path, files::read_text(path), "parameters.half_hub", 350.0);
  try {
    files::read_design_text(path, wide, catalog);
  } catch (const Fault& fault) {
    std::printf("refused: %s\n", fault.what());
  }
}

// The layout has 61 welds; hubs 350 mm from the middle lie inside the bosses' outer ends, 352 mm from it.
// Prints:
// Market trike: 61 welds, 0 clashes, 0 open ends
// refused: shape.doubled-back
