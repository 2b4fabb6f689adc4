// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/worker_client.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <system_error>
#include <thread>

#include "catalog/models/wire.h"
#include "engine/evidence/evidence.h"
#include "engine/rating/progress.h"

extern char** environ;

namespace seamwright::models {

namespace {

using Clock = std::chrono::steady_clock;

// A running worker and the pipes to it; ends it when it goes out of scope.
class Worker {
 public:
  explicit Worker(const std::string& program) {
    int in[2], out[2];
    if (pipe2(in, O_CLOEXEC) != 0) throw std::system_error(errno, std::generic_category());
    if (pipe2(out, O_CLOEXEC) != 0) {
      const int error = errno;
      close(in[0]);
      close(in[1]);
      throw std::system_error(error, std::generic_category());
    }
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, in[0], STDIN_FILENO);
    posix_spawn_file_actions_adddup2(&actions, out[1], STDOUT_FILENO);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    char* arguments[] = {const_cast<char*>(program.c_str()), nullptr};
    const int error = posix_spawn(&process_, program.c_str(), &actions, nullptr, arguments, environ);
    posix_spawn_file_actions_destroy(&actions);
    close(in[0]);
    close(out[1]);
    to_ = in[1];
    from_ = out[0];
    if (error != 0) {
      process_ = -1;
      close(to_);
      close(from_);
      throw std::system_error(error, std::generic_category());
    }
    fcntl(to_, F_SETFL, O_NONBLOCK);
  }
  ~Worker() {
    if (process_ < 0) return;
    close(to_);
    close(from_);
    kill(process_, SIGKILL);
    waitpid(process_, nullptr, 0);
  }
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// Sends a task and waits for its answer; throws std::runtime_error with the reason when there is none.
  Answer ask(const std::string& task, std::chrono::milliseconds limit, const std::stop_token& stop) {
    const Clock::time_point end = Clock::now() + limit;
    std::string left = framed(task);
    for (;;) {
      if (const auto frame = next_frame(buffer_)) return answer_of(*frame);
      if (stop.stop_requested()) throw rating::RatingStopped();
      if (Clock::now() > end) throw std::runtime_error("no answer within " + std::to_string(limit.count()) + " ms");
      std::array<pollfd, 2> ends{{{from_, POLLIN, 0}, {left.empty() ? -1 : to_, POLLOUT, 0}}};
      if (poll(ends.data(), ends.size(), 50) < 0 && errno != EINTR)
        throw std::system_error(errno, std::generic_category());
      if (ends[1].revents) send(left);
      if (ends[0].revents) receive();
    }
  }

 private:
  void send(std::string& left) {
    const ssize_t n = write(to_, left.data(), left.size());
    if (n > 0) left.erase(0, static_cast<std::size_t>(n));
    if (n < 0 && errno != EAGAIN && errno != EINTR) left.clear();  // what it says, or that it ended, is read
  }
  void receive() {
    std::array<char, 1 << 16> block;
    const ssize_t n = read(from_, block.data(), block.size());
    if (n > 0) buffer_.append(block.data(), static_cast<std::size_t>(n));
    if (n < 0 && errno != EAGAIN && errno != EINTR) throw std::system_error(errno, std::generic_category());
    if (n == 0) throw std::runtime_error(how_it_ended());
  }
  std::string how_it_ended() {
    int status = 0;
    if (waitpid(process_, &status, 0) != process_) return "ended";
    process_ = -1;
    close(to_);
    close(from_);
    if (WIFSIGNALED(status)) return std::string("ended by signal ") + strsignal(WTERMSIG(status));
    return "ended with " + std::to_string(WEXITSTATUS(status));
  }

  pid_t process_ = -1;
  int to_ = -1, from_ = -1;
  std::string buffer_;
};

// Tasks still to do, shared by the threads that each feed one worker.
struct Desk {
  const std::vector<Task>& tasks;
  std::vector<Answer>& answers;
  const rating::Progress& progress;
  const Modeller::Told& told;
  std::mutex lock{};
  std::size_t next = 0, done = 0;

  std::optional<std::size_t> take_next() {
    const std::lock_guard guard(lock);
    if (next >= tasks.size() || progress.stop.stop_requested()) return {};
    return next++;
  }
  void lay_down(std::size_t task, Answer answer) {
    const std::lock_guard guard(lock);
    answers[task] = std::move(answer);
    if (told) told(task, answers[task]);
    ++done;
    if (progress.report) progress.report(static_cast<double>(done) / static_cast<double>(tasks.size()));
  }
};

bool fits(const Task& task, const Answer& answer) {
  if (std::holds_alternative<Failed>(answer)) return true;
  static constexpr std::array<std::size_t, 6> kinds{1, 1, 2, 3, 4, 5};  // of an answer, for each kind of task
  return answer.index() == kinds[task.index()];
}

void feed(Desk& desk, const std::string& program, const WorkerLimits& limits) {
  std::unique_ptr<Worker> worker;
  while (const auto task = desk.take_next()) {
    try {
      if (!worker) worker = std::make_unique<Worker>(program);
      Answer answer = worker->ask(bytes_of(desk.tasks[*task]), limits.a_task, desk.progress.stop);
      if (!fits(desk.tasks[*task], answer)) throw std::runtime_error("an answer to another task");
      desk.lay_down(*task, std::move(answer));
    } catch (const rating::RatingStopped&) {
      return;
    } catch (const std::exception& e) {
      worker.reset();
      desk.lay_down(*task, Failed{e.what()});
    }
  }
}

}  // namespace

std::size_t workers_by_memory(double megabytes) {
  const double has = static_cast<double>(sysconf(_SC_PHYS_PAGES)) * static_cast<double>(sysconf(_SC_PAGESIZE)) / 1e6;
  const std::size_t processors = std::max(1U, std::thread::hardware_concurrency());
  return std::clamp<std::size_t>(static_cast<std::size_t>(has / megabytes), 1, processors);
}

WorkerClient::WorkerClient(std::string program, WorkerLimits limits) : program_(std::move(program)), limits_(limits) {
  signal(SIGPIPE, SIG_IGN);  // a worker that ends while it is written to is an answer, not an end
}

std::vector<Answer> WorkerClient::work(const std::vector<Task>& tasks, const rating::Progress& progress, const Told& told) {
  std::vector<Answer> answers(tasks.size());
  if (tasks.empty()) return answers;
  if (access(program_.c_str(), X_OK) != 0)
    throw Fault{Message{"shape.no-worker", {text("path", program_)}}, Category::machine};
  Desk desk{tasks, answers, progress, told};
  const std::size_t processors = std::max(1U, std::thread::hardware_concurrency());
  const std::size_t count =
      std::min(tasks.size(), limits_.workers ? limits_.workers : std::min<std::size_t>(4, processors));
  {
    std::vector<std::jthread> feeders;
    for (std::size_t i = 0; i < count; ++i)
      feeders.emplace_back([&] { feed(desk, program_, limits_); });
  }
  if (progress.stop.stop_requested()) throw rating::RatingStopped();
  return answers;
}

std::string worker_program() {
  if (const char* named = std::getenv("SEAMWRIGHT_WORKER")) return named;
  std::error_code ignored;
  const std::filesystem::path folder = std::filesystem::read_symlink("/proc/self/exe", ignored).parent_path();
  for (const char* place : {"../lib/seamwright/seamwright-worker", "../worker/seamwright-worker",
                            "../app/worker/seamwright-worker", "seamwright-worker"})
    if (std::filesystem::exists(folder / place, ignored)) return (folder / place).lexically_normal().string();
  return (folder / "seamwright-worker").string();
}

}  // namespace seamwright::models
