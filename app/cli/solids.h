// SPDX-License-Identifier: GPL-3.0-or-later
// Solids for the commands: the worker behind the user's cache.
#pragma once

#include <initializer_list>

#include "catalog/models/cache.h"
#include "catalog/models/worker_client.h"
#include "reports/content/frame_drawing.h"

namespace seamwright::design {
struct Design;
}

namespace seamwright::cli {

struct SolidBuilder {
  models::WorkerClient worker{models::worker_program()};
  models::Cache modeller{models::cache_folder(), worker};
};

/// The frame's views without hidden lines; none where there is no worker: then double lines take their place.
reports::DrawnViews drawn_views(const design::Design& design, std::initializer_list<const char*> names);

}  // namespace seamwright::cli
