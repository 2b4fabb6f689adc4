// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/files/improved_job.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The design, the answers, what each change of each buys, what stays as it is, and how far the search went. `written`: as many as were written, in
/// the order of the answers.
Document improve_document(const study::Improvement& found, const std::vector<files::WrittenAnswer>& written);

}  // namespace seamwright::reports
