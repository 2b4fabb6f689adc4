// SPDX-License-Identifier: GPL-3.0-or-later
// A job that the program itself began, for tests of what is begun in it.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "catalog/files/begin.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"
#include "tests/catalog/files/folder.h"

namespace own_job {

using namespace seamwright;

inline const qualification::Date on = qualification::read_date("2026-11-20").value();

struct OwnJob {
  Folder folder;
  std::string path = (folder.path / "job").string();
  design::Design design;
  OwnJob() {
    files::NewJob job;
    job.name = "own";
    files::begin_job(path, job, published::catalog());
    design = files::read_design(files::design_path(path), published::catalog());
  }
  // So many welds of one kind of joint.
  std::vector<std::string> welds(qualification::JointForm form, std::size_t most) const {
    std::vector<std::string> ids;
    for (const joints::Weld& w : design.welds)
      if (ids.size() < most && files::sizes_of(design, w).form == form) ids.push_back(w.id);
    return ids;
  }
};

inline std::string fault_of(const std::function<void()>& what) {
  try {
    what();
  } catch (const Fault& fault) {
    return fault.what();
  }
  return {};
}

}  // namespace own_job
