// SPDX-License-Identifier: GPL-3.0-or-later
// A modeller is asked for solids: tasks in, answers out, in the same order. One works them out in another
// program, one keeps what was worked out before.
#pragma once

#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "engine/shape/part.h"
#include "engine/shape/solid.h"
#include "engine/solid/joint_answer.h"

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
using Task = std::variant<shape::Part, shape::WeldBody, CommonTask, ViewTask, ExportTask, solid::JointTask>;

using Lines = std::vector<shape::ViewLine>;
/// A part or weld, what two share, a view, the text of an exchange file, what a joint answers; or why there is none, in the words of
/// who failed.
struct Failed {
  std::string why;
};
using Answer = std::variant<Failed, shape::Built, shape::Common, Lines, std::string, solid::JointAnswer>;

class Modeller {
 public:
  virtual ~Modeller() = default;
  /// Is told each answer as it comes, one at a time, with its task's number.
  using Told = std::function<void(std::size_t, const Answer&)>;
  /// One answer for each task, each of its task's kind or Failed. Throws rating::RatingStopped, and Fault
  /// "shape.no-worker" where nothing can be worked out at all.
  virtual std::vector<Answer> work(const std::vector<Task>& tasks, const rating::Progress& progress, const Told& told) = 0;
  std::vector<Answer> work(const std::vector<Task>& tasks, const rating::Progress& progress) { return work(tasks, progress, {}); }
};

}  // namespace seamwright::models
