// SPDX-License-Identifier: GPL-3.0-or-later
// seamwright-worker: works out solids and joints. Tasks come on standard input, each in a frame, and answers go out the same
// way; it ends with its input. It is not for people.
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <exception>

#include "catalog/models/wire.h"
#include "engine/shape/kernel/kernel.h"
#include "engine/solid/mesher/mesher.h"

namespace {

using namespace seamwright;
using models::Answer;

struct Work {
  Answer operator()(const shape::Part& part) const { return shape::kernel::build(part); }
  Answer operator()(const shape::WeldBody& weld) const { return shape::kernel::build(weld); }
  Answer operator()(const models::CommonTask& t) const { return shape::kernel::common(t.first, t.second); }
  Answer operator()(const models::ViewTask& t) const {
    return shape::kernel::view(t.bodies, t.towards, t.up);
  }
  Answer operator()(const models::ExportTask& t) const {
    return shape::kernel::step_file(t.name, t.bodies, t.fused);
  }
  Answer operator()(const solid::JointTask& t) const {
    return solid::joint_answer(t, solid::mesher::mesh_of(t), solid::mesher::solve);
  }
};

Answer answer_to(const std::string& task) {
  Answer answer;
  const std::string why =
      shape::kernel::failure_of([&] { answer = std::visit(Work{}, models::task_of(task)); });
  return why.empty() ? answer : Answer(models::Failed{why});
}

bool write_all(int file, const std::string& bytes) {
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t n = write(file, bytes.data() + done, bytes.size() - done);
    if (n < 0 && errno != EINTR) return false;
    if (n > 0) done += static_cast<std::size_t>(n);
  }
  return true;
}

}  // namespace

int main() {
  // Answers keep the real standard output; what the kernel prints goes where errors go.
  const int answers = dup(STDOUT_FILENO);
  dup2(STDERR_FILENO, STDOUT_FILENO);
  prctl(PR_SET_PDEATHSIG, SIGKILL);  // nobody waits for the answer of an orphan
  const rlimit memory{std::uint64_t{5} << 30, std::uint64_t{5} << 30}, core{0, 0};
  setrlimit(RLIMIT_AS, &memory);
  setrlimit(RLIMIT_CORE, &core);
  std::string buffer;
  std::array<char, 1 << 16> block;
  for (;;) {
    try {
      while (const auto frame = models::next_frame(buffer))
        if (!write_all(answers, models::framed(models::bytes_of(answer_to(*frame))))) return 1;
    } catch (const std::exception&) {
      return 2;
    }
    const ssize_t n = read(STDIN_FILENO, block.data(), block.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return n == 0 ? 0 : 1;
    buffer.append(block.data(), static_cast<std::size_t>(n));
  }
}
