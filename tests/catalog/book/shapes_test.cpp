// SPDX-License-Identifier: GPL-3.0-or-later
// Payloads that are no records, signed or not: bounded, named, and never an exception of another kind.
#include <fstream>

#include "catalog/book/bulk.h"
#include "catalog/book/copies.h"
#include "catalog/book/demo_book.h"
#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

std::string nested(std::size_t levels) { return std::string(levels, '[') + std::string(levels, ']'); }

bool gap_starts(const Book& b, const std::string& serial, const std::string& start) {
  const auto all = gaps(b, serial, today);
  return std::any_of(all.begin(), all.end(), [&](const Gap& g) { return g.key.starts_with(start); });
}

}  // namespace

TEST_CASE("JSON that is nested without end is read by nobody") {
  CHECK(read_json(nested(100000)).is_discarded());
  CHECK(read_json(nested(deepest + 1)).is_discarded());
  CHECK(read_json(nested(deepest)).is_array());
  CHECK(read_json("{\"a\":\"" + std::string(1000, '[') + "\\\"[\"}")
            .is_object());  // of texts no bracket counts
  Json deep = Json::array();
  for (int i = 0; i < deepest; ++i) deep = Json::array({deep});
  CHECK(refusal([&] { canonical(deep); }) == "book.too-deep");
  CHECK(canonical(deep[0]).size() == 2 * deepest);
  const Folder f;
  Shop s = open_shop(f.book());
  CHECK(refusal([&] { s.book.append("W", *s.welder, "note", {{"text", deep}}, noon); }) == "book.too-deep");
  CHECK(refusal([&] { s.book.keep_draft("W", {"note", {{"text", deep}}}, noon); }) == "book.too-deep");
}

TEST_CASE("a signed payload of 100000 brackets is found, and nothing falls over it") {
  const Folder f;
  Shop s = open_shop(f.book());
  s.book.append("E", *s.engineer, "frame", {{"serial", "F1"}, {"design", "D"}, {"revision", "1"}}, noon);
  const std::int64_t seq =
      force(f.book(), "W", *s.welder, "note", "{\"frame\":\"F1\",\"text\":" + nested(100000) + "}");
  tamper(f.book(), "INSERT INTO mark VALUES('frame', 'F1', " + std::to_string(seq) + ")");
  tamper(f.book(), "INSERT INTO draft VALUES(1, 'W', '', 'note', '" + nested(100000) + "')");
  const Book b = Book::open_read(f.book());
  const Verification v = verify(b);
  CHECK(std::any_of(v.problems.begin(), v.problems.end(),
                    [&](const Problem& p) { return p.seq == seq && p.what == "book.wrong-shape"; }));
  // Nobody could have signed it as it stands: nothing is shown that rests on it.
  CHECK(refusal([&] { (void)trace(b, "F1"); }) == "book.not-intact");
  CHECK(refusal([&] { (void)gaps(b, "F1", today); }) == "book.not-intact");
  CHECK(b.drafts("W").size() == 1);
  CHECK(refusal([&] { write_proof(b, "F1", f.path + "/proof"); }) == "book.not-intact");
  s.book.append("W", *s.welder, "note", {{"text", "after it"}}, noon);
}

TEST_CASE("a signed entry in the wrong shape is told and counts for nothing") {
  const Folder f;
  copy_demo(f.book());
  Book b = Book::open(f.book());
  const Record weld = b.current({"frame", "OT-0001"}, "weld").at(0);
  const std::string id = weld.text_of("weld"), welder = weld.entry.author;
  const auto key = b.unlock(welder, demo_passphrase), engineer = b.unlock("E-1", demo_passphrase),
             inspector = b.unlock("I-1", demo_passphrase);
  const auto told = [&](const std::string& by, const Signer& with, const std::string& kind,
                        const Json& payload) {
    const std::int64_t seq = force(f.book(), by, with, kind, payload);
    const Verification v = verify(b);
    INFO(kind << " " << payload.dump());
    CHECK(std::any_of(v.problems.begin(), v.problems.end(),
                      [&](const Problem& p) { return p.seq == seq && p.what == "book.wrong-shape"; }));
    CHECK(b.record(seq)->malformed);
    (void)gaps(b, "OT-0001", today);
    (void)trace(b, "OT-0001");
    (void)recall(b, {"design", b.current({"frame", "OT-0001"}, "frame")[0].text_of("design")}, today);
    return seq;
  };
  told(welder, *key, "weld", {{"frame", "OT-0001"}, {"weld", id}, {"run", "two"}});
  told(welder, *key, "weld", {{"frame", "OT-0001"}, {"weld", id}, {"lots", "L"}});
  told(welder, *key, "weld", {{"frame", "OT-0001"}, {"weld", id}, {"lots", {1, 2}}});
  told(welder, *key, "weld", {{"frame", "OT-0001"}});
  told(welder, *key, "field-report",
       {{"frame", "OT-0001"}, {"on", today}, {"what", "x"}, {"cracked", "yes"}, {"km", "many"}});
  told("E-1", *engineer, "correction",
       {{"of", weld.entry.seq}, {"kind", 7}, {"reason", "r"}, {"payload", 3}});
  told("E-1", *engineer, "design", {{"name", "Orchard trike"}, {"revision", "A"}, {"file", "none"}});
  told("E-1", *engineer, "procedure", {{"id", "TIG-BRANCH"}, {"revision", "A"}, {"file", {{"sha256", 5}}}});
  told("E-1", *engineer, "release", Json::array({1}));
  // A rejection that cannot be read may not be passed over.
  const std::int64_t rejected = told("I-1", *inspector, "inspection",
                                     {{"frame", "OT-0001"},
                                      {"weld", id},
                                      {"method", "VT"},
                                      {"result", "reject"},
                                      {"on", today},
                                      {"value_mm", "2"}});
  CHECK(gap_starts(b, "OT-0001", "gap.malformed:" + std::to_string(rejected)));
  CHECK(refusal([&] {
          except_gap(b, "OT-0001", "gap.malformed:" + std::to_string(rejected), "r", "E-1", *engineer, noon);
        }) == "book.not-exceptable");
}

TEST_CASE("every table of a bulk file is read or refused") {
  const Folder f;
  const std::string head = "format = \"seamwright.records/1\"\n";
  const auto of = [&](const std::string& text) {
    std::ofstream(f.path + "/a.toml") << head << text;
    return read_records(f.path + "/a.toml", "");
  };
  const auto notes = of("note = \"about this file\"\n[[lot]]\nid = \"L\"\nheat = \"H\"\n");
  REQUIRE(notes.size() == 1);
  const auto records = of("[[note]]\ntext = \"kept\"\n[[note]]\ntext = \"kept too\"\n");
  REQUIRE(records.size() == 2);
  CHECK(records[1].payload["text"] == "kept too");
  CHECK(refusal([&] { of("[note]\ntext = \"one\"\n"); }) == "book.no-table");
  CHECK(refusal([&] { of("[lots]\nid = \"L\"\n"); }) == "book.unknown-kind");
  CHECK(refusal([&] { of("[[welds]]\nweld = \"W1\"\n"); }) == "book.unknown-kind");
  CHECK(refusal([&] { of("remark = 3\n"); }) == "book.unknown-kind");
}

TEST_CASE("a table takes no file from outside its folder") {
  const Folder f;
  std::filesystem::create_directories(f.path + "/table/below");
  std::ofstream(f.path + "/secret") << "not for the book";
  std::ofstream(f.path + "/table/cert.txt") << "3.1";
  std::ofstream(f.path + "/table/below/cert.txt") << "3.1 below";
  std::filesystem::create_symlink("../secret", f.path + "/table/link.txt");
  std::filesystem::create_symlink("..", f.path + "/table/up");
  std::filesystem::create_symlink("cert.txt", f.path + "/table/inside.txt");
  const auto csv = [&](const std::string& file) {
    std::ofstream(f.path + "/table/a.csv") << "id,heat,file\nL1,H1," << file << "\n";
    return read_records(f.path + "/table/a.csv", "lot").at(0).file->bytes;
  };
  const auto toml = [&](const std::string& file) {
    std::ofstream(f.path + "/table/a.toml")
        << "format = \"seamwright.records/1\"\n[[lot]]\nid = \"L\"\nheat = "
        << "\"H\"\nfile = \"" << file << "\"\n";
    return read_records(f.path + "/table/a.toml", "").at(0).file->bytes;
  };
  for (const std::string& outside :
       {f.path + "/secret", std::string("../secret"), std::string("below/../../secret"),
        std::string("link.txt"), std::string("up/secret"), std::string("/etc/passwd")}) {
    INFO(outside);
    CHECK(refusal([&] { csv(outside); }) == "book.file-outside");
    CHECK(refusal([&] { toml(outside); }) == "book.file-outside");
  }
  CHECK(csv("cert.txt") == "3.1");
  CHECK(csv("below/cert.txt") == "3.1 below");
  CHECK(toml("inside.txt") == "3.1");
  std::ofstream(f.path + "/table/b.csv")
      << "id,heats,file\nL1,H1,cert.txt\n";  // a file does not hide a wrong key
  CHECK_FALSE(refusal([&] { read_records(f.path + "/table/b.csv", "lot"); }).empty());
}

TEST_CASE("a lot that became another tube is not the one that was drawn") {
  const Folder f;
  copy_demo(f.book());
  Book b = Book::open(f.book());
  const auto inspector = b.unlock("I-1", demo_passphrase), engineer = b.unlock("E-1", demo_passphrase);
  const Record weld = b.current({"frame", "OT-0001"}, "weld").at(0);
  const std::string lot = weld.content["lots"][0].get<std::string>(), at = weld.text_of("weld") + ":" + lot;
  const Json as_was = b.current({"lot", lot}, "lot").at(0).content;
  const auto with = [&](const char* key, const Json& value) {
    Json content = as_was;
    if (value.is_null())
      content.erase(key);
    else
      content[key] = value;
    b.append("I-1", *inspector, "correction",
             {{"of", b.current({"lot", lot}, "lot").at(0).entry.seq},
              {"kind", "lot"},
              {"reason", "test"},
              {"payload", content}},
             noon);
  };
  CHECK_FALSE(gap_starts(b, "OT-0001", "gap.lot-other"));
  CHECK_FALSE(gap_starts(b, "OT-0001", "gap.tube-without-lot"));
  for (const auto& [key, value] : {std::pair<const char*, Json>{"steel", "S235JRH"},
                                   {"steel", nullptr},
                                   {"outside_mm", 8},
                                   {"wall_mm", as_was["wall_mm"].get<double>() - 0.5},
                                   {"wall_mm", nullptr}}) {
    INFO(key << " " << value.dump());
    with(key, value);
    CHECK(gap_starts(b, "OT-0001", "gap.lot-other:" + at));
    CHECK(gap_starts(b, "OT-0001", "gap.tube-without-lot:" + weld.text_of("weld")));
  }
  // Answered for as it was; another change asks again.
  except_gap(b, "OT-0001", "gap.lot-other:" + at, "measured", "E-1", *engineer, noon);
  const auto is_open = [&] {
    const auto open = open_gaps(gaps(b, "OT-0001", today));
    return std::any_of(open.begin(), open.end(),
                       [&](const Gap& g) { return g.key == "gap.lot-other:" + at; });
  };
  CHECK_FALSE(is_open());
  with("steel", "E235");
  CHECK(is_open());
  with("certificate_type", "2.2");
  CHECK(gap_starts(b, "OT-0001", "gap.lot-certificate-type:" + lot));
  with("note", nullptr);
  CHECK_FALSE(gap_starts(b, "OT-0001", "gap.lot"));
  // A second lot of the same name does not stand in for the first.
  Json twin = as_was;
  twin["steel"] = "S235JRH";
  b.append("I-1", *inspector, "lot", twin, noon);
  CHECK(gap_starts(b, "OT-0001", "gap.lot-other:" + at));
}
