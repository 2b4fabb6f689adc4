// SPDX-License-Identifier: GPL-3.0-or-later
// The proof of a frame stands alone: check.py tells what was changed in it, and what was left out.
#include <sys/wait.h>

#include <cstdlib>
#include <fstream>
#include <functional>

#include "catalog/book/copies.h"
#include "tests/attack/keyed.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

Json read_proof(const std::string& folder) {
  std::ifstream in(folder + "/proof.json");
  return Json::parse(in);
}

int code_of(const std::string& folder) {
  const int status = std::system(("/usr/bin/python3 -B '" + folder + "/check.py' > '" + folder + "/said'").c_str());
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

std::string said(const std::string& folder) {
  std::ifstream in(folder + "/said");
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("a proof from which anything is left out or in which anything is changed does not hold") {
  const Folder f;
  Shop s = open_shop(f.book());
  s.book.append("E", *s.engineer, "frame", {{"serial", "F1"}, {"design", "D"}, {"revision", "1"}}, noon);
  s.book.append("W", *s.welder, "weld", {{"frame", "F1"}, {"weld", "W1"}}, noon);
  s.book.append_all("I", *s.inspector, {{"inspection", {{"frame", "F1"}, {"weld", "W1"}, {"method", "VT"}, {"result", "reject"}, {"on", today}}, Attachment{"photo.txt", "p"}}}, noon);
  s.book.append("W", *s.welder, "note", {{"text", "n"}, {"frame", "F1"}}, noon);
  const std::string folder = f.path + "/proof";
  write_proof(s.book, "F1", folder);
  CHECK(code_of(folder) == 0);
  const Json whole = read_proof(folder);
  const auto attacked = [&](const std::function<void(Json&)>& act) {
    Json proof = whole;
    act(proof);
    std::ofstream(folder + "/proof.json") << proof;
    return code_of(folder);
  };
  const std::size_t count = whole["entries"].size();
  REQUIRE(count == 8);
  // Every entry but the last can be missed; the last, and whole records, show by the head alone.
  for (std::size_t i = 0; i + 1 < count; ++i) {
    INFO("entry " << whole["entries"][i]["seq"]);
    CHECK(attacked([&](Json& proof) { proof["entries"].erase(i); }) == 1);
  }
  CHECK(attacked([&](Json& proof) { proof["entries"][6]["payload"] = R"({"frame":"F1","method":"VT","on":"2026-11-26","result":"accept","weld":"W1"})"; }) == 1);
  CHECK(attacked([&](Json& proof) { proof["entries"][6]["signature"] = proof["entries"][5]["signature"]; }) == 1);
  CHECK(attacked([&](Json& proof) { proof["entries"][7]["links"] = R"({"F1":0})"; }) == 1);
  CHECK(attacked([&](Json& proof) { proof["entries"][3]["payload"] = proof["entries"][1]["payload"]; }) == 1);
  CHECK(attacked([&](Json& proof) { proof["files"] = Json::object(); }) == 1);
  std::ofstream(folder + "/files/" + whole["files"].begin()->get<std::string>()) << "another photo";
  CHECK(attacked([](Json&) {}) == 1);
  CHECK_THAT(said(folder), Catch::Contains("is not the file that was signed"));
}
