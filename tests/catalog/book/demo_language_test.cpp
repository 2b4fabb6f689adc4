// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration in another language: other words, the same frame, the same numbers and the same joint models.
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "catalog/book/demo_book.h"
#include "catalog/book/gaps.h"
#include "catalog/files/begin.h"
#include "catalog/files/begin_procedure.h"
#include "catalog/files/demonstration.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/models/joint_library.h"
#include "catalog/published/built_in.h"
#include "catalog/published/published_data.h"
#include "engine/rating/rate.h"
#include "engine/sites/joint_readings.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

namespace fs = std::filesystem;

std::string text_of_file(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<rating::Rating> ratings(const std::string& folder, std::size_t& models) {
  std::vector<rating::Rating> out;
  for (const char* job : {"trike", "trike-b"}) {
    rating::Job read = files::read_job(folder + "/" + job, "", published::catalog());
    const solid::JointLibrary shipped = models::shipped_joints(sites::frame_joints(read.design));
    models += shipped.models.size();
    read.joint_models = std::make_shared<const solid::JointLibrary>(shipped);
    out.push_back(rating::rate(read, published::catalog().data, rating::Method::spectral, {}));
  }
  return out;
}

}  // namespace

TEST_CASE("a German copy of the demonstration is rated as the English one, to the digit") {
  const files::Wording german("de");
  REQUIRE(german.entries().size() > 150);
  CHECK(files::Wording("xx").entries().empty());
  const Folder f;
  const std::string en = f.path + "/en", de = f.path + "/de";
  files::write_demonstration(en);
  files::write_demonstration(de, german);
  std::size_t english_models = 0, german_models = 0;
  const std::vector<rating::Rating> first = ratings(en, english_models), second = ratings(de, german_models);
  CHECK(english_models > 0);
  CHECK(german_models == english_models);
  for (std::size_t job = 0; job < first.size(); ++job) {
    REQUIRE(first[job].welds.size() == second[job].welds.size());
    for (std::size_t w = 0; w < first[job].welds.size(); ++w) {
      const auto &one = first[job].welds[w], &other = second[job].welds[w];
      CHECK(one.id == other.id);
      CHECK(one.verdict == other.verdict);
      REQUIRE(one.sites.size() == other.sites.size());
      for (std::size_t s = 0; s < one.sites.size(); ++s)
        if (!std::isnan(one.sites[s].damage) || !std::isnan(other.sites[s].damage)) CHECK(one.sites[s].damage == other.sites[s].damage);
    }
  }
  for (const auto& entry : fs::recursive_directory_iterator(de))
    if (entry.is_regular_file()) {
      INFO(entry.path());
      CHECK(text_of_file(entry.path()).find("nvented") == std::string::npos);
    }
}

TEST_CASE("a German book of the demonstration holds, and says nothing in English") {
  const Folder f;
  const FixedBytes fixed;
  const auto frames = write_demo(f.book(), "test", files::Wording("de"));
  CHECK(frames.size() == 4);
  Book b = Book::open(f.book());
  CHECK(verify(b).problems.empty());
  std::size_t entries = 0;
  b.for_each_entry([&](const Entry& entry) {
    INFO(entry.payload.dump());
    CHECK(entry.payload.dump().find("nvented") == std::string::npos);
    ++entries;
    return true;
  });
  CHECK(entries > 100);
  CHECK(open_gaps(gaps(b, "OT-0001", "2026-11-26")).empty());
  const std::vector<Record> frame = b.current({"frame", "OT-0001"}, "frame");
  REQUIRE(frame.size() == 1);
  CHECK(frame[0].text_of("design") == "Obsthof-Dreirad");
}

TEST_CASE("a job and a procedure begun in German say so") {
  const Folder f;
  const std::string path = f.path + "/job";
  files::NewJob job;
  job.name = "Orchard trike";  // a name that a person gives stays
  job.wording = files::Wording("de");
  files::begin_job(path, job, published::catalog());
  const std::string design = text_of_file(path + "/design.toml"), duty = text_of_file(path + "/duty.toml");
  CHECK(design.find("name = \"Orchard trike\"") != std::string::npos);
  CHECK(design.find("Aus wenigen Maßen") != std::string::npos);
  CHECK(design.find("# Festigkeiten: eine Tabelle [[steel]]") != std::string::npos);
  CHECK(duty.find("name = \"Orchard trike, Einsatz\"") != std::string::npos);
  files::NewProcedure wanted;
  wanted.id = "OWN";
  wanted.like = "mag-thin";
  wanted.wording = job.wording;
  wanted.welds = {files::read_job(path, "", published::catalog()).design.welds.front().id};
  const std::string procedure = text_of_file(files::begin_procedure(path, wanted));
  CHECK(procedure.find("name = \"dünnes Rohr auf Rohr, MAG\"") != std::string::npos);
  CHECK(procedure.find("backing = \"none\"") != std::string::npos);  // a word of the format
}

TEST_CASE("texts stay where a table lacks them, and formats are never touched") {
  const files::Wording german("de");
  CHECK(german.text("name", "a name of one's own") == "a name of one's own");
  CHECK(german.file("id = \"none\"\nback_purge = \"none\"  # measures\n") == "id = \"none\"\nback_purge = \"ohne\"  # Maße\n");
  CHECK(german.file("by = \"open") == "by = \"open");
  CHECK(german.file("").empty());
  CHECK(german.table("a,invented\n# nothing\n") == "a,erfunden\n# nothing\n");
  CHECK(files::Wording().file("note = \"# no comment\" # measures") == "note = \"# no comment\" # measures");
}
