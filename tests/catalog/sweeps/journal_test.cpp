// SPDX-License-Identifier: GPL-3.0-or-later
// The journal of a table of variants: what was done stays, another sweep's too unless it is to go; what was torn does not.
#include "catalog/sweeps/sweep_journal.h"

#include <stdexcept>

#include "engine/evidence/evidence.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;
using namespace seamwright::sweeps;

TEST_CASE("a sweep's journal is gone on with, but for its torn last line") {
  const Folder folder;
  const std::string path = (folder.path / "table.csv.part").string();
  {
    SweepJournal journal(path, "one 1/1");
    CHECK(journal.rows().empty());
    journal.add(0, "1,2.5,meets\n");
    journal.add(16, "17,3,impossible\n");
    CHECK_THROWS_AS(SweepJournal(path, "one 1/1"), std::runtime_error);  // while another run writes it
  }
  std::ofstream(path, std::ios::app | std::ios::binary) << "17\ttorn";
  {
    SweepJournal journal(path, "one 1/1");
    CHECK(journal.rows() ==
          std::map<std::size_t, std::string>{{0, "1,2.5,meets\n"}, {16, "17,3,impossible\n"}});
    journal.add(17, "18,4,meets\n");
  }
  CHECK(SweepJournal(path, "one 1/1").rows().size() == 3);
  CHECK_THROWS_AS(SweepJournal(path, "another 1/1"), Fault);
  CHECK(SweepJournal(path, "one 1/1").rows().size() == 3);  // nothing went
  SweepJournal last(path, "another 1/1", true);
  CHECK(last.rows().empty());  // asked to
  last.remove();
  CHECK(!std::filesystem::exists(path));
}

TEST_CASE("what is no journal is left as it is") {
  const Folder folder;
  for (const char* const content : {"a note\n", "a note without an end", "seamwright.sweep/1 another 1/1\n0\t1,2"}) {
    INFO(content);
    const std::string path = folder.write("table.csv.part", content);
    CHECK_THROWS_AS(SweepJournal(path, "one 1/1"), Fault);
    CHECK(files::read_text(path) == content);
  }
  for (const char* const content : {"", "seamwright.swe", "seamwright.sweep/1 another 1/1\n", "seamwright.sweep/1 anoth"}) {
    INFO(content);
    CHECK(SweepJournal(folder.write("table.csv.part", content), "one 1/1").rows().empty());
  }
}

TEST_CASE("a sweep's journal that cannot be written says so") {
  const Folder folder;
  CHECK_THROWS_AS(SweepJournal((folder.path / "none/table.csv.part").string(), "one 1/1"),
                  std::runtime_error);
}
