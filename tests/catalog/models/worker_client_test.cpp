// SPDX-License-Identifier: GPL-3.0-or-later
// Workers that crash, hang, talk nonsense or are not there: a task fails, the program goes on.
#include "catalog/models/worker_client.h"

#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <thread>

#include "catalog/models/wire.h"
#include "engine/evidence/evidence.h"
#include "tests/catalog/models/answers.h"

namespace seamwright::models {

namespace {

// A worker as a shell script in a folder of its own.
struct Script {
  std::filesystem::path folder, path;
  explicit Script(const std::string& body) {
    static int number = 0;
    folder = std::filesystem::temp_directory_path() /
             ("seamwright-worker-" + std::to_string(getpid()) + "-" + std::to_string(++number));
    std::filesystem::create_directories(folder);
    path = folder / "worker";
    std::ofstream(path) << "#!/bin/sh\n" << body << '\n';
    chmod(path.c_str(), 0700);
  }
  ~Script() {
    std::error_code ignored;
    std::filesystem::remove_all(folder, ignored);
  }
  void keep(const char* name, const std::string& bytes) const {
    std::ofstream(folder / name, std::ios::binary) << bytes;
  }
  std::string in(const char* name) const { return "'" + (folder / name).string() + "'"; }
};

std::vector<Answer> ask(const Script& script, std::size_t count = 1,
                        std::chrono::milliseconds limit = std::chrono::milliseconds(20000)) {
  WorkerClient client(script.path.string(), {limit, 1});
  return client.work(std::vector<Task>(count, tube("t")), {});
}

std::string why(const Answer& answer) {
  const auto* failed = std::get_if<Failed>(&answer);
  return failed ? failed->why : "";
}

}  // namespace

TEST_CASE("a worker that ends without an answer costs the task, and the next has a worker of its own") {
  const Script ends("exit 3");
  const std::vector<Answer> answers = ask(ends, 3);
  for (const Answer& a : answers) CHECK(why(a) == "ended with 3");
  const Script crashes("kill -SEGV $$");
  CHECK(why(ask(crashes)[0]).find("signal") != std::string::npos);
}

TEST_CASE("a worker that hangs is ended at its limit") {
  const Script hangs("exec sleep 600");
  const auto began = std::chrono::steady_clock::now();
  CHECK(why(ask(hangs, 1, std::chrono::milliseconds(300))[0]).find("within 300 ms") != std::string::npos);
  CHECK(std::chrono::steady_clock::now() - began < std::chrono::seconds(10));
}

TEST_CASE("nonsense is a failure, a huge length too, and so is the answer to another task") {
  Script nonsense("cat >/dev/null & cat \"$(dirname \"$0\")/answer\"; exec sleep 600");
  nonsense.keep("answer", framed("nonsense"));
  CHECK_FALSE(why(ask(nonsense)[0]).empty());
  nonsense.keep("answer", std::string(8, '\x7f'));
  CHECK_FALSE(why(ask(nonsense)[0]).empty());
  nonsense.keep("answer", framed(bytes_of(Answer(shape::Common{1, 1, {0, 0, 0}}))));
  CHECK(why(ask(nonsense)[0]) == "an answer to another task");
  nonsense.keep("answer", framed(bytes_of(Answer(built("t", 5)))));
  CHECK(std::get<shape::Built>(ask(nonsense)[0]).solid.quantities.volume_mm3 == 5);
}

TEST_CASE("a worker that is not there is named, and one that is no program fails its task") {
  WorkerClient client("/nowhere/seamwright-worker");
  try {
    client.work({tube("t")}, {});
    FAIL("not refused");
  } catch (const Fault& fault) {
    CHECK(std::string(fault.what()) == "shape.no-worker");
  }
  CHECK(client.work({}, {}).empty());
}

TEST_CASE("work that is stopped ends soon") {
  const Script hangs("exec sleep 600");
  WorkerClient client(hangs.path.string(), {std::chrono::milliseconds(60000), 1});
  std::stop_source stop;
  const auto began = std::chrono::steady_clock::now();
  std::jthread later([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    stop.request_stop();
  });
  CHECK_THROWS_AS(client.work({tube("t"), tube("u")}, {{}, stop.get_token()}), rating::RatingStopped);
  CHECK(std::chrono::steady_clock::now() - began < std::chrono::seconds(10));
}

}  // namespace seamwright::models
