// SPDX-License-Identifier: GPL-3.0-or-later
// A run goes on with the rows of the same sweep, of the same job, alone.
#include "catalog/sweeps/sweep_identity.h"

#include <functional>

#include "tests/catalog/files/folder.h"

using namespace seamwright;
using namespace seamwright::sweeps;

namespace {

void append(const std::filesystem::path& file, const std::string& text) {
  std::ofstream(file, std::ios::app | std::ios::binary) << text;
}

}  // namespace

TEST_CASE("every file that a sweep's job is read from decides its identity") {
  const Folder folder;
  const auto job = folder.path / "job";
  std::filesystem::copy(demo, job, std::filesystem::copy_options::recursive);
  std::filesystem::create_directory(job / "details");
  const auto now = [&] { return identity_of(read_sweep((job / "walls.sweep.toml").string()), job.string()); };
  const std::string first = now();
  CHECK(first.size() == 16);
  CHECK(now() == first);
  append(job / "measured.csv", "\n");  // not read
  CHECK(now() == first);
  std::string before = first;
  const auto changes = [&](const std::filesystem::path& file) {
    append(file, "\n# changed\n");
    const std::string after = now();
    INFO(file);
    CHECK(after != before);
    before = after;
  };
  changes(job / "design.toml");
  changes(job / "duty.toml");
  changes(job / "walls.sweep.toml");
  changes(job / "details" / "own.toml");  // of a job that cannot be read as it stands
  changes(job / "details" / "own.toml");
  changes(job / "duty.toml");
}

TEST_CASE("the profile of a road that a duty names decides a sweep's identity") {
  const Folder folder;
  const auto job = folder.path / "job";
  std::filesystem::copy(demo, job, std::filesystem::copy_options::recursive);
  const std::string from = "id = \"tarmac\"\nclass = \"A\"\n";
  std::string duty = files::read_text((job / "duty.toml").string());
  const std::size_t road = duty.find(from);
  REQUIRE(road != std::string::npos);
  duty.replace(road, from.size(), "id = \"tarmac\"\nprofile = \"lane.csv\"\nprofile_step_m = 0.1\nprofile_left = \"left\"\n");
  std::ofstream(job / "duty.toml") << duty;
  const auto now = [&](double height) {
    std::ofstream lane(job / "lane.csv");
    lane << "left\n";
    for (int i = 0; i < 50; ++i) lane << (i == 40 ? height : 0.001) << "\n";
    lane.close();
    return identity_of(read_sweep((job / "walls.sweep.toml").string()), job.string());
  };
  CHECK(now(0.001) == now(0.001));
  CHECK(now(0.001) != now(0.002));
}
