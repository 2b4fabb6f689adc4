// SPDX-License-Identifier: GPL-3.0-or-later
// A modeller is asked for solids: tasks in, answers out, in the same order. One works them out in another
// program, one keeps what was worked out before.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "engine/shape/part.h"
#include "engine/shape/solid.h"

namespace seamwright::rating {
struct Progress;
}

namespace seamwright::models {

struct CommonTask {
  shape::Body first, second;
};
/// towards: from the eye into the picture.
struct ViewTask {
  std::vector<shape::NamedBody> bodies;
  shape::Vec3 towards, up;
};
struct ExportTask {
  std::string name;
  std::vector<shape::NamedBody> bodies;
  std::size_t fused = 0;  ///< so many bodies, from the first, become one
};
using Task = std::variant<shape::Part, shape::WeldBody, CommonTask, ViewTask, ExportTask>;

using Lines = std::vector<shape::ViewLine>;
/// A part or weld, what two share, a view, the text of an exchange file; or why there is none, in the words of
/// who failed.
struct Failed {
  std::string why;
};
using Answer = std::variant<Failed, shape::Built, shape::Common, Lines, std::string>;

class Modeller {
 public:
  virtual ~Modeller() = default;
  /// One answer for each task, each of its task's kind or Failed. Throws rating::RatingStopped, and Fault
  /// "shape.no-worker" where nothing can be worked out at all.
  virtual std::vector<Answer> work(const std::vector<Task>& tasks, const rating::Progress& progress) = 0;
};

}  // namespace seamwright::models
