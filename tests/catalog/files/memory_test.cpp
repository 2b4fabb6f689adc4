// SPDX-License-Identifier: GPL-3.0-or-later
// Readers over texts in memory say what they say over a folder.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <map>

#include "catalog/files/job_reader.h"
#include "catalog/files/measured_reader.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/published/published_data.h"
#include "engine/rating/job.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;

namespace {

// The demonstration's files under the paths that they have on this machine.
files::FilesInMemory demonstration(const std::string& changed = {}, const std::string& text = {}) {
  std::map<std::string, std::string> texts;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(demo))
    if (entry.path().extension() == ".toml")
      texts[entry.path().string()] = files::read_text(entry.path().string());
  if (!changed.empty()) texts[demo + "/" + changed] = text;
  return files::FilesInMemory(std::move(texts));
}

template <typename Work>
Message fault_in(Work&& work) {
  try {
    work();
  } catch (const Fault& f) {
    return f.message;
  }
  return {};
}

bool same(const Message& a, const Message& b) {
  if (a.id != b.id || a.arguments.size() != b.arguments.size()) return false;
  for (std::size_t i = 0; i < a.arguments.size(); ++i)
    if (a.arguments[i].name != b.arguments[i].name || a.arguments[i].value != b.arguments[i].value)
      return false;
  return true;
}

}  // namespace

TEST_CASE("a job, its procedures and certificates are read from memory as from their folder") {
  const files::FilesInMemory memory = demonstration();
  const rating::Job a = files::read_job(demo, "", published::catalog()),
                    b = files::read_job({memory, demo}, "", published::catalog());
  CHECK(a.design.identity.sha256 == b.design.identity.sha256);
  CHECK(a.duty_identity.sha256 == b.duty_identity.sha256);
  REQUIRE(a.design.welds.size() == b.design.welds.size());
  for (std::size_t i = 0; i < a.design.welds.size(); ++i)
    CHECK(a.design.welds[i].throat_mm == b.design.welds[i].throat_mm);
  const qualification::Date day = *qualification::read_date("2026-11-30");
  const auto procedures = files::read_procedures({memory, demo + "/procedures"}, day);
  REQUIRE(procedures.size() == files::read_procedures(demo + "/procedures", day).size());
  CHECK(procedures.size() > 1);
  for (std::size_t i = 1; i < procedures.size(); ++i) CHECK(procedures[i - 1].path < procedures[i].path);
  CHECK(files::read_certificates({memory, demo + "/certificates.toml"}, day).all.size() ==
        files::read_certificates(demo + "/certificates.toml", day).all.size());
  CHECK(files::read_procedures({memory, demo + "/none"}, day).empty());
}

TEST_CASE("a root is proven by a procedure that stands in memory beside its design") {
  const std::string head = "[[weld]]\nid = \"W41\"\n", sheet = demo + "/procedures/tig-branch.toml",
                    design = demo + "/design.toml";
  const std::string claimed = with("design.toml", head, head + "root_proof = \"MACRO-TIG-1\"\n");
  const auto proven = [&](const std::string& procedure) {
    const files::FilesInMemory memory(
        std::map<std::string, std::string>{{design, claimed}, {sheet, procedure}});
    const auto read = files::read_design({memory, design}, published::catalog());
    return std::any_of(read.welds.begin(), read.welds.end(),
                       [](const joints::Weld& w) { return w.root_proven && w.id == "W41"; });
  };
  const std::string not_fused = files::read_text(sheet);
  std::string fused = not_fused;
  for (std::size_t at = 0; (at = fused.find("not-fused")) != std::string::npos;)
    fused.replace(at, 9, "fused");
  CHECK(proven(fused));
  const Message refused = fault_in([&] { proven(not_fused); });
  CHECK(refused.id == "file.unknown-id");
}

TEST_CASE("a fault in memory names file, line and key as the same fault in a folder") {
  const Folder folder;
  const std::string rows = "weld,imperfection,value_mm\nW1,5011,0.1\nW2,5011,much\n";
  const std::string procedure = "format = \"seamwright.procedure/1\"\nid = \"P\"\nrevison = \"A\"\n";
  const std::string table = folder.write("m.csv", rows), sheet = folder.write("p.toml", procedure),
                    empty = folder.write("e.toml", "");
  const files::FilesInMemory memory(
      std::map<std::string, std::string>{{table, rows}, {sheet, procedure}, {empty, ""}});
  const qualification::Date day = *qualification::read_date("2026-11-30");
  const auto both = [&](const auto& read, const std::string& name) {
    INFO(name);
    const Message here = fault_in([&] { read(files::SourceFile(name)); });
    CHECK_FALSE(here.id.empty());
    CHECK(same(here, fault_in([&] { read(files::SourceFile(memory, name)); })));
  };
  const auto read_sheet = [&](const files::SourceFile& f) { files::read_procedure(f, day); };
  const auto read_table = [](const files::SourceFile& f) { files::read_measured(f); };
  both(read_table, table);
  both(read_sheet, sheet);
  both(read_sheet, empty);
  both(read_sheet, folder.path.string());
  both(read_sheet, folder.path.string() + "/none.toml");
  both(read_table, folder.path.string() + "/none.csv");
}
