// SPDX-License-Identifier: GPL-3.0-or-later
// The table of kinds: whole in itself, told by docs/files.md, and followed by the check of payloads, tables
// and the struct of a weld when it gets one more row.
#include <algorithm>
#include <cmath>
#include <fstream>
#include <set>
#include <sstream>

#include "catalog/book/bulk.h"
#include "catalog/published/built_in.h"
#include "tests/catalog/book/one_more_field.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

// A field stands so in docs/files.md: bold where needed, and what its name does not say.
std::string told_in_docs(const Field& f) {
  std::string out = std::string("`") + f.name + "`";
  if (f.needed) out = "**" + out + "**";
  std::string remark = f.remark;
  if (f.type == Type::day) remark = "day";
  if (f.type == Type::flag) remark = "true or false";
  if (f.type == Type::texts) remark = "list";
  if (f.type == Type::file) remark = "attached";
  if (std::isfinite(f.most)) remark = number_text(f.least) + " to " + number_text(f.most);
  for (std::size_t i = 0; i < f.words.size(); ++i)
    remark.append(i == 0 ? "" : i + 1 < f.words.size() ? ", " : " or ").append(f.words[i]);
  return remark.empty() ? out : out + " (" + remark + ")";
}

std::string row_in_docs(const Kind& k) {
  std::string row = std::string("| `") + k.name + "` | ";
  for (const Field& f : k.fields) row.append(&f == k.fields.data() ? "" : ", ").append(told_in_docs(f));
  std::string who;
  for (const char* role : {"welder", "engineer", "inspector", "auditor", "owner"})
    if (may_sign(role, k.name)) who.append(who.empty() ? "" : ", ").append(role);
  return row + " | " + who + " |";
}

Json whole_weld() {
  Json payload = Json::object();
  for (const Field& f : kind_named(kind::weld).fields) {
    if (f.type == Type::text) payload[f.name] = std::string("a ") + f.name;
    if (f.type == Type::texts) payload[f.name] = {"L1", "L2"};
    if (f.type == Type::day) payload[f.name] = today;
    if (f.type == Type::number) payload[f.name] = 1.25;
  }
  return payload;
}

}  // namespace

TEST_CASE("every kind and field of the table is whole") {
  std::set<std::string> names;
  for (const Kind& k : kinds()) {
    INFO(k.name);
    CHECK(names.insert(k.name).second);
    CHECK(kind_of(k.name) == &k);
    CHECK_FALSE(k.label.empty());
    REQUIRE_FALSE(k.fields.empty());
    std::set<std::string> fields;
    for (const Field& f : k.fields) {
      INFO(f.name);
      CHECK(fields.insert(f.name).second);
      CHECK(field_of(k, f.name) == &f);
      CHECK_FALSE(f.label.empty());
      CHECK(f.least < f.most);
      const bool bounded = std::isfinite(f.least) || std::isfinite(f.most);
      CHECK((f.type == Type::number || (!bounded && f.unit[0] == 0)));
      CHECK((f.type == Type::text || f.words.empty()));
      CHECK((f.type == Type::day || !f.ahead));
      if (f.revised) CHECK(field_of(k, field::revision) != nullptr);
      if (!f.control.empty())
        CHECK((f.type != Type::file && f.type != Type::entry && f.type != Type::object));
    }
  }
  CHECK(names.size() > 30);
  CHECK(refusal([] { kind_named("welds"); }) == "book.unknown-kind");
  CHECK(field_of(kind_named(kind::weld), "ampers") == nullptr);
}

TEST_CASE("docs/files.md has the table of kinds as it is") {
  std::ifstream file(std::string(SEAMWRIGHT_SOURCE_DIR).append("/docs/files.md"));
  std::stringstream text;
  text << file.rdbuf();
  const std::size_t begin = text.str().find("## Records of the book"), end = text.str().find("\n## ", begin);
  REQUIRE(end != std::string::npos);
  const std::string section = text.str().substr(begin, end - begin);
  std::size_t rows = 0;
  for (std::size_t at = 0; (at = section.find("\n| `", at)) != std::string::npos; ++at) ++rows;
  CHECK(rows == kinds().size());
  for (const Kind& k : kinds()) {
    const std::string row = row_in_docs(k);
    INFO("docs/files.md lacks the line: " << row);
    CHECK(section.find("\n" + row + "\n") != std::string::npos);
  }
}

TEST_CASE("a weld is what its payload says and its payload what the weld says") {
  const Json payload = whole_weld();
  const Weld weld = weld_of(payload);
  CHECK(weld.others.empty());  // a member for each row
  CHECK(weld.amperes == 1.25);
  CHECK(weld.day == today);
  CHECK(weld.lots == std::vector<std::string>{"L1", "L2"});
  CHECK(canonical(payload_of(weld)) == canonical(payload));
  CHECK(payload_of(Weld{}) == Json::object());
  const Json empty{{field::frame, "F"}, {field::weld, "W"}, {field::lots, Json::array()}, {field::note, ""}};
  CHECK(canonical(payload_of(weld_of(empty))) == canonical(empty));  // nothing told is lost or added
  for (const auto& [name, value] : payload.items()) {
    Json one{{name, value}};
    CHECK(payload_of(weld_of(one)) == one);
  }
}

TEST_CASE("one more row of the table is checked, read from tables and kept") {
  const Kind& longer = weld_with_one_more();
  const auto refused = [&](const Json& told) {
    Json payload{{field::frame, "F1"}, {field::weld, "W1"}};
    payload[one_more.name] = told;
    return refusal([&] { check_payload(longer, payload); });
  };
  CHECK(refused(15).empty());
  CHECK(refused("15") == "book.wrong-type");
  CHECK(refusal([&] {
          check_payload(kind::weld, {{field::frame, "F1"}, {field::weld, "W1"}, {one_more.name, 15}});
        }) == "book.unknown-key");
  const Folder f;
  std::ofstream(f.path + "/a.csv") << "frame,weld,torch_deg\nF1,W1,15.5\nF1,W2,\n";
  const auto rows = read_table(f.path + "/a.csv", longer);
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].payload[one_more.name] == 15.5);
  CHECK_FALSE(rows[1].payload.contains(one_more.name));
  CHECK(std::get<double>(weld_of(rows[0].payload).others.at(one_more.name)) == 15.5);
  std::ofstream(f.path + "/bad.csv") << "frame,weld,torch_deg\nF1,W1,steep\n";
  CHECK(refusal([&] { read_table(f.path + "/bad.csv", longer); }) == "file.bad-cell");
  CHECK(refusal([&] { read_table(f.path + "/a.csv", kind_named(kind::weld)); }) == "file.unknown-column");
  Weld weld;
  enter(weld, {{field::volts, 10.5}, {one_more.name, 20.0}});
  CHECK(weld.volts == 10.5);
  CHECK(payload_of(weld) == Json({{field::volts, 10.5}, {one_more.name, 20}}));
}

TEST_CASE("the check without this program knows who may sign each kind") {
  const std::string script(published::book_files()[0].text);
  const std::size_t from = script.find("SIGNERS = {"), to = script.find("}", from);
  REQUIRE(to != std::string::npos);
  const std::string table = script.substr(from, to - from);
  for (const Kind& k : kinds()) CHECK_THAT(table, Catch::Contains(std::string("\"") + k.name + "\": \"" + k.signers + "\""));
  CHECK(static_cast<std::size_t>(std::count(table.begin(), table.end(), ':')) == kinds().size());
}

TEST_CASE("a record from outside is made by the kind that it is") {
  const Json payload = whole_weld();
  CHECK(canonical(record_from(kind_named(kind::weld), payload).payload) == canonical(payload));
  CHECK(refusal([&] { record_from(kind_named(kind::weld), {{field::frame, "F1"}}); }) == "book.missing-key");
  const NewEntry lot = record_from(kind_named(kind::lot), {{field::id, "L"}, {field::heat, "H"}},
                                   Attachment{"cert.txt", "3.1"});
  CHECK(lot.kind == kind::lot);
  CHECK(lot.file->name == "cert.txt");
  CHECK_FALSE(lot.payload.contains(field::file));  // the book puts it in, with its hash
  CHECK(refusal([&] {
          record_from(kind_named(kind::weld), payload, Attachment{"a", "b"});
        }) == "book.unknown-key");
}
