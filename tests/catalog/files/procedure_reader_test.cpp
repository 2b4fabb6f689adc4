// SPDX-License-Identifier: GPL-3.0-or-later
// Procedures and certificates as files: what is refused, what is found, and how far a macro section proves.
#include "catalog/files/procedure_reader.h"

#include <algorithm>

#include "catalog/files/job_reader.h"
#include "catalog/files/measured_reader.h"
#include "catalog/files/small_table.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"
#include "engine/design/weld_geometry.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;
using namespace seamwright::qualification;

namespace {

const Date on = read_date("2026-11-20").value();
const std::string tig = "procedures/tig-branch.toml";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  for (; at != std::string::npos; at = text.find(from, at + to.size())) text.replace(at, from.size(), to);
  return text;
}

files::ProcedureFile procedure(const std::string& text) {
  const Folder folder;
  return files::read_procedure(folder.write("p.toml", text), on);
}

Message procedure_refusal(const std::string& text) {
  try {
    procedure(text);
  } catch (const Fault& fault) {
    return fault.message;
  }
  return {};
}

std::string argument(const Message& m, const std::string& name) {
  for (const Argument& a : m.arguments)
    if (a.name == name && std::holds_alternative<std::string>(a.value)) return std::get<std::string>(a.value);
  return {};
}

// Judges as `procedure check` does without a weld: what is not stated cannot be decided, and neither can a
// file without a record.
Answer judged(const std::string& text) {
  const files::ProcedureFile file = procedure(text);
  const Answer answer = verdict(files::qualified(file, files::numbers_of(file)));
  return file.record && missing_items(file.sheet).empty() ? answer : worse_of(answer, Answer::cannot_decide);
}

std::vector<std::string> without_one_line(const std::string& text) {
  std::vector<std::string> all;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t to = text.find('\n', from) + 1;
    all.push_back(text.substr(0, from) + text.substr(to));
    from = to;
  }
  return all;
}

// The demonstration's job with its proof on one weld, and its procedure changed.
struct Proven {
  Folder folder;
  design::Design read(const std::string& weld, const std::string& sheet) const {
    std::filesystem::create_directories(folder.path / "procedures");
    folder.write("procedures/p.toml", sheet);
    const std::string head = "[[weld]]\nid = \"" + weld + "\"\n";
    return files::read_design(
        folder.write("design.toml", with("design.toml", head, head + "root_proof = \"MACRO-TIG-1\"\n")),
        published::catalog());
  }
  const joints::Weld& weld(const design::Design& d, const std::string& id) const {
    const auto at = std::find_if(d.welds.begin(), d.welds.end(), [&](const auto& w) { return w.id == id; });
    REQUIRE(at != d.welds.end());
    return *at;
  }
};

}  // namespace

TEST_CASE("the demonstration's branch procedure is qualified, and each bad change of its papers is noticed") {
  const std::string good = files::read_text(demo + "/" + tig);
  CHECK(judged(good) == Answer::yes);
  const std::pair<const char*, const char*> worse[] = {
      {"hardness_hv10 = [248, 331, 352, 344, 236, 339, 357, 328, 251]", "hardness_tested = true"},
      {"hardness_hv10 = [248, 331,", "hardness_hv10 = [248, 530,"},
      {"[chemistry]\nC = 0.255\nSi = 0.25\nMn = 0.75\nCr = 1.05\nMo = 0.225\n", ""},
      {"C = 0.255", "C = 0.42"},
      {"amperes = [52, 65]", "amperes = [300, 600]"},
      {"preheat_c = 20", "preheat_c = 160"},
      {"gas = \"I1\"", "gas = \"M21\""},
      {"date = \"2025-02-18\"", "date = \"1990-02-18\""},
      {"place = \"saddle\"", "# "},
      {"form = \"branch\"\nrun_type = \"single\"\nsides = \"one\"\nbacking = \"none\"\nwall_mm = 2\n",
       "form = \"butt\"\nrun_type = \"single\"\nsides = \"one\"\nbacking = \"none\"\nwall_mm = 2\n"},
  };
  for (const auto& [from, to] : worse) {
    INFO(to);
    const std::string bad = replaced(good, from, to);
    CHECK(judged(bad) != Answer::yes);
    // Nor does leaving out any line make it good again: refused, or still not "yes".
    std::size_t read = 0;
    for (const std::string& shorter : without_one_line(bad)) try {
        const Answer answer = judged(shorter);
        CHECK(answer != Answer::yes);
        ++read;
      } catch (const Fault&) {
        continue;
      }
    CHECK(read > 30);
  }
}

TEST_CASE("a group, a position or a place that does not exist is refused with line, key, found and nearest") {
  const std::string good = files::read_text(demo + "/" + tig);
  const Message group =
      procedure_refusal(replaced(good, "groups = [\"5.1\", \"5.1\"]", "groups = [\"foo\", \"5.1\"]"));
  CHECK(group.id == "file.unknown-id");
  CHECK(argument(group, "key") == "procedure[TIG-BRANCH].groups");
  CHECK(argument(group, "found") == "foo");
  CHECK(procedure_refusal(replaced(good, "groups = [\"5.1\", \"5.1\"]", "groups = [\"5.1\"]")).id ==
        "file.out-of-range");
  const Message position = procedure_refusal(replaced(good, "\"PH\"]", "\"PX\"]"));
  CHECK(position.id == "file.unknown-id");
  CHECK(argument(position, "found") == "PX");
  CHECK(procedure_refusal(replaced(good, "place = \"crown\"", "place = \"roof\"")).id == "file.out-of-range");
  CHECK(procedure_refusal(replaced(good, "hardness_hv10 = [248,", "hardness_hv10 = [24,")).id ==
        "file.out-of-range");
  const Folder folder;
  const std::string design = with("design.toml", "throat_mm = 1.5", "throat_mm = 1.5\npositions = [\"PX\"]");
  CHECK_THROWS_AS(files::read_design(folder.write("design.toml", design), published::catalog()), Fault);
}

TEST_CASE(
    "a macro section of the procedure test proves the root of welds within its record, and of no other") {
  const std::string fused = replaced(files::read_text(demo + "/" + tig), "not-fused", "fused");
  const Proven shop;
  const auto doubt = [&](const std::string& sheet) {
    const design::Design d = shop.read("W41", sheet);
    const joints::Weld& w = shop.weld(d, "W41");
    CHECK(w.root_proof == "MACRO-TIG-1");
    CHECK(w.root_proven == w.root_doubt.id.empty());
    const bool said = std::any_of(d.assumptions.begin(), d.assumptions.end(),
                                  [](const Message& m) { return m.id == "assumption.root-not-proven"; });
    CHECK(said != w.root_proven);
    return w.root_doubt.id;
  };
  const auto tested = [&](const std::string& from, const std::string& to) {
    std::string sheet = fused;
    const std::size_t at = sheet.find(from, sheet.find("[qualification]"));
    REQUIRE(at != std::string::npos);
    return sheet.replace(at, from.size(), to);
  };
  CHECK(doubt(fused).empty());
  CHECK(doubt(tested("wall_mm = 2", "wall_mm = 5")) == "macro.outside");
  CHECK(doubt(tested("diameter_mm = 38", "diameter_mm = 380")) == "macro.outside");
  CHECK(doubt(tested("process = \"141\"", "process = \"135\"")) == "macro.outside");
  CHECK(doubt(tested("form = \"branch\"", "form = \"butt\"")) == "macro.other-joint");
  CHECK(doubt(tested("signed_by = \"invented examiner\"", "signed_by = \"\"")) == "macro.outside");
  CHECK(doubt(fused.substr(0, fused.find("[qualification]"))) == "macro.no-record");
  CHECK(doubt(replaced(fused, "id = \"TIG-BRANCH\"", "id = \"OTHER\"")) == "macro.no-procedure");
  CHECK(doubt(replaced(fused, "place = \"saddle\"", "place = \"crown\"")) == "macro.not-around");
  CHECK(doubt(fused + "nonsense = 1\n") == "macro.unreadable");
}

namespace {

// The tube of the weld that is asked about below, and its own text in the design.
constexpr const char* fused_weld = "[[weld]]\nid = \"W41\"\n";

Message fusion_fault(const Proven& shop, const std::string& sheet, const std::string& keys) {
  std::filesystem::create_directories(shop.folder.path / "procedures");
  shop.folder.write("procedures/p.toml", sheet);
  try {
    files::read_design(shop.folder.write("design.toml", with("design.toml", fused_weld, fused_weld + keys)), published::catalog());
  } catch (const Fault& fault) {
    return fault.message;
  }
  return {};
}

bool says(const design::Design& d, const MessageId& id) {
  return std::any_of(d.assumptions.begin(), d.assumptions.end(), [&](const Message& m) { return m.id == id; });
}

}  // namespace

TEST_CASE("a depth of fusion counts as far as each macro section of the record is as deep, else the root is open") {
  const std::string sheet = files::read_text(demo + "/" + tig),
                    deep = replaced(sheet, "root = \"not-fused\"\n", "root = \"not-fused\"\npenetration_mm = 0.9\n");
  const Proven shop;
  const auto design_with = [&](const std::string& procedure, const std::string& keys) {
    std::filesystem::create_directories(shop.folder.path / "procedures");
    shop.folder.write("procedures/p.toml", procedure);
    return files::read_design(shop.folder.write("design.toml", with("design.toml", fused_weld, fused_weld + keys)), published::catalog());
  };
  const auto counted = [&](const std::string& procedure, const std::string& keys) {
    const design::Design d = design_with(procedure, keys);
    const joints::Weld& w = shop.weld(d, "W41");
    const double mm = joints::counted_fusion_mm(w, design::round_tube(d.frame, w.member)->wall_mm);
    CHECK((mm > 0 || w.root_proven || w.fusion_mm == 0 || says(d, "assumption.fusion-not-proven") || says(d, "assumption.fusion-counted")));
    CHECK_FALSE((w.root_proven && w.fusion_proven));
    return mm;
  };
  const std::string proof = "root_proof = \"MACRO-TIG-1\"\n", fusion = "fusion_mm = 0.8\n";
  CHECK(counted(deep, fusion + proof) == 0.8);
  CHECK(counted(deep, "fusion_mm = 0.9\n" + proof) == 0.9);
  CHECK(counted(deep, "fusion_mm = 0.91\n" + proof) == 0);
  CHECK(counted(deep, fusion) == 0);
  CHECK(counted(deep, "fusion_mm = 0.05\n" + proof) == 0);
  CHECK(counted(deep, "") == 0);
  // One section that is not as deep, is not measured, stands elsewhere or is left out, and a record that does not reach, prove nothing.
  const auto once = [&](const std::string& from, const std::string& to) {
    std::string other = deep;
    const std::size_t at = other.rfind(from);
    REQUIRE(at != std::string::npos);
    return other.replace(at, from.size(), to);
  };
  CHECK(counted(once("penetration_mm = 0.9", "penetration_mm = 0.7"), fusion + proof) == 0);
  CHECK(counted(once("penetration_mm = 0.9\n", ""), fusion + proof) == 0);
  CHECK(counted(once("place = \"saddle\"", "place = \"crown\""), fusion + proof) == 0);
  CHECK(counted(once("wall_mm = 2\n", "wall_mm = 9\n"), fusion + proof) == 0);
  CHECK(counted(once("signed_by = \"invented examiner\"", "signed_by = \"\""), fusion + proof) == 0);
  CHECK(counted(once("form = \"branch\"", "form = \"butt\""), fusion + proof) == 0);
  CHECK(counted(deep.substr(0, deep.find("[qualification]")), fusion + proof) == 0);
  // A section fused through is as deep as any; where all of them are, the whole wall is proven.
  CHECK(counted(once("not-fused", "fused"), fusion + proof) == 0.8);
  const design::Design through = design_with(replaced(sheet, "not-fused", "fused"), fusion + proof);
  CHECK(shop.weld(through, "W41").root_proven);
  CHECK_FALSE(says(through, "assumption.fusion-not-proven"));
}

TEST_CASE("a depth of fusion that is none, or needs more wall than there is, is refused") {
  const std::string sheet = files::read_text(demo + "/" + tig),
                    deep = replaced(sheet, "root = \"not-fused\"\n", "root = \"not-fused\"\npenetration_mm = 0.9\n");
  const Proven shop;
  const std::string proof = "root_proof = \"MACRO-TIG-1\"\n";
  for (const char* value : {"-0.5", "nan", "inf", "\"deep\"", "[1]", "true", "1.5", "2.0", "50"}) {
    INFO(value);
    const Message m = fusion_fault(shop, deep, "fusion_mm = " + std::string(value) + "\n" + proof);
    CHECK_FALSE(m.id.empty());
    CHECK(argument(m, "key") == "design.weld[W41].fusion_mm");
  }
  // The proof that is named must show a root fused through, or measure how deep it is.
  CHECK(argument(fusion_fault(shop, sheet, "fusion_mm = 0.8\n" + proof), "key") == "design.weld[W41].root_proof");
  CHECK(argument(fusion_fault(shop, deep, proof), "key") == "design.weld[W41].root_proof");
  CHECK(fusion_fault(shop, replaced(sheet, "not-fused", "fused"), "fusion_mm = 1.5\n" + proof).id.empty());
  for (const char* value : {"-1", "0", "nan", "\"x\""})
    CHECK_FALSE(procedure_refusal(replaced(deep, "penetration_mm = 0.9", "penetration_mm = " + std::string(value))).id.empty());
}

TEST_CASE("certificates: the supplementary piece has its wall, an older text is read and told") {
  const Folder folder;
  const std::string head =
      "format = \"seamwright.certificates/1\"\nemployer = \"e\"\n[[certificate]]\nid = \"A\"\n"
      "welder = \"w\"\ntested = \"2026-10-01\"\nroute = \"a\"\n";
  const auto read = [&](const std::string& more) {
    return files::read_certificates(folder.write("certificates.toml", head + more), on).all.at(0);
  };
  const Certificate c = read(
      "designation = \"ISO 9606-1 141 T BW FM1 S s1.5 D28.6 PF ss nb\"\n"
      "supplementary_fillet = true\nsupplementary_fillet_mm = 1.5\n");
  CHECK(c.supplementary_fillet.welded);
  CHECK(c.supplementary_fillet.wall_mm == 1.5);
  CHECK(read("designation = \"EN 287-1 141 T BW 1.2 S t1.5 D28.6 H-L045 ss nb\"\n").designation.older_text);
  CHECK_THROWS_AS(read("designation = \"nonsense\"\n"), Fault);
}

TEST_CASE("tables: either decimal sign between semicolons, a point between commas, and no shifted rows") {
  const Folder folder;
  const auto value = [&](const std::string& text) {
    return files::read_measured(folder.write("m.csv", text)).at(0).value_mm;
  };
  CHECK(value("weld;imperfection;value_mm\nW1;throat;1,6\n") == 1.6);
  CHECK(value("weld;imperfection;value_mm\nW1;throat;1.6\n") == 1.6);
  CHECK(value("weld,imperfection,value_mm\nW1,throat,1.6\n") == 1.6);
  const auto fault = [&](const std::string& text) {
    try {
      value(text);
    } catch (const Fault& f) {
      return std::string(f.what());
    }
    return std::string();
  };
  CHECK(fault("weld;imperfection;value_mm\nW1;throat;1.234,5\n") == "file.bad-cell");
  CHECK(fault("weld,imperfection,value_mm\nW1,throat,1,6\n") == "file.cell-count");
  CHECK(fault("weld,imperfection,value_mm,method,inspector\nW1,throat,1,6\n") == "file.cell-count");
}
