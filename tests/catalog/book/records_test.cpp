// SPDX-License-Identifier: GPL-3.0-or-later
// Entries are recorded, found again, corrected, drafted, attached and erased.
#include "catalog/book/records.h"

#include <cstdlib>
#include <fstream>
#include <random>

#include "catalog/book/bulk.h"
#include "catalog/book/copies.h"
#include "catalog/book/station.h"
#include "catalog/published/sha256.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

Json weld(const std::string& frame, const std::string& id, const std::string& lot) {
  return {{"frame", frame},   {"weld", id},      {"lots", {lot}},     {"welder", "W"},
          {"procedure", "P"}, {"revision", "A"}, {"reason", "a test"}};
}

// Two lots of one heat and one of another, three frames, one of them shipped.
void fill(Shop& s, const std::string& path) {
  s.book.append("I", *s.inspector, "lot", {{"id", "L1"}, {"heat", "H1"}}, noon);
  s.book.append("I", *s.inspector, "lot", {{"id", "L2"}, {"heat", "H1"}}, noon);
  s.book.append("I", *s.inspector, "lot", {{"id", "L3"}, {"heat", "H2"}}, noon);
  s.book.append_all("E", *s.engineer,
                    {{"design", {{"name", "D"}, {"revision", "1"}}, Attachment{"design.toml", "a design"}},
                     {"rating",
                      {{"design", "D"},
                       {"design_sha256", sha256_hex("a design")},
                       {"catalog_sha256", "0"},
                       {"program", "test"},
                       {"rules", "dnv"},
                       {"method", "time"},
                       {"verdict", "meets"},
                       {"life_km", 1000},
                       {"life_years", 10}}}},
                    noon);
  for (const char* serial : {"F1", "F2", "F3"})
    s.book.append("E", *s.engineer, "frame", {{"serial", serial}, {"design", "D"}, {"revision", "1"}}, noon);
  s.book.append_all(
      "W", *s.welder,
      {{"weld", weld("F1", "W1", "L1")}, {"weld", weld("F2", "W1", "L2")}, {"weld", weld("F3", "W1", "L3")}},
      noon);
  // Shipped without a release, as an older program let it pass.
  force(path, "E", *s.engineer, "shipment", Json{{"order", "B1"}, {"frames", {"F1", "F2"}}, {"on", "2026-01-01"}});
  s.book.append("E", *s.engineer, "field-report",
                {{"frame", "F2"}, {"on", "2026-06-01"}, {"what", "seen"}, {"km", 400}}, noon);
}

std::vector<std::string> serials(const std::vector<Carrier>& all) {
  std::vector<std::string> out;
  for (const Carrier& c : all) out.push_back(c.serial);
  return out;
}

}  // namespace

TEST_CASE("a heat leads to every frame that carries it with the most used life first") {
  const Folder f;
  Shop s = open_shop(f.book());
  fill(s, f.book());
  const auto found = recall(s.book, {"heat", "H1"}, "2027-01-01");
  REQUIRE(serials(found) == std::vector<std::string>{"F2", "F1"});
  CHECK(found[0].used == Approx(0.4));  // 400 of 1000 km
  CHECK(found[0].by == "km");
  CHECK(found[1].used == Approx(365 / 365.25 / 10));
  CHECK(found[1].by == "years");
  CHECK(found[1].order == "B1");
  CHECK(serials(recall(s.book, {"welder", "W"}, "2027-01-01")).size() == 3);
  CHECK(serials(recall(s.book, {"procedure", "P A"}, "2027-01-01")).size() == 3);
  CHECK(serials(recall(s.book, {"design", "D"}, "2027-01-01")).size() == 3);
  CHECK(refusal([&] { recall(s.book, {"heat", "H9"}, "2027-01-01"); }) == "book.unknown-mark");
  const Trace t = trace(s.book, "F2");
  CHECK(t.own.size() == 4);  // frame, weld, shipment, report
  CHECK(
      std::any_of(t.behind.begin(), t.behind.end(), [](const Record& r) { return r.text_of("id") == "L2"; }));
  CHECK(std::none_of(t.behind.begin(), t.behind.end(),
                     [](const Record& r) { return r.text_of("id") == "L1"; }));
  CHECK(std::any_of(t.behind.begin(), t.behind.end(), [](const Record& r) { return r.kind == "rating"; }));
  CHECK(refusal([&] { trace(s.book, "F9"); }) == "book.unknown-frame");
  CHECK(refusal([&] { trace(s.book, "H1"); }) == "book.not-a-frame");
  CHECK(verify(s.book).problems.empty());
}

TEST_CASE("a correction takes the place of an entry and what the frame carries follows") {
  const Folder f;
  Shop s = open_shop(f.book());
  fill(s, f.book());
  const std::int64_t wrong = s.book.current({"frame", "F1"}, "weld").at(0).entry.seq;
  s.book.append(
      "W", *s.welder, "correction",
      {{"of", wrong}, {"kind", "weld"}, {"reason", "other lot"}, {"payload", weld("F1", "W1", "L3")}}, noon);
  CHECK(serials(recall(s.book, {"heat", "H1"}, "2027-01-01")) == std::vector<std::string>{"F2"});
  CHECK(serials(recall(s.book, {"heat", "H2"}, "2027-01-01")).size() == 2);
  CHECK(s.book.find({"frame", "F1"}).size() == 4);  // the old one stays to be seen
  CHECK(s.book.record(wrong)->replaced_by > wrong);
  const auto again = [&] {
    s.book.append("W", *s.welder, "void", {{"of", wrong}, {"reason", "twice"}}, noon);
  };
  CHECK(refusal(again) == "book.corrected-already");
  CHECK(refusal([&] {
          s.book.append("W", *s.welder, "void", {{"of", 2}, {"reason", "x"}}, noon);
        }) == "book.not-correctable");
  CHECK(refusal([&] {
          s.book.append("W", *s.welder, "void", {{"of", 9999}, {"reason", "x"}}, noon);
        }) == "book.no-such-entry");
  const std::int64_t report = s.book.current({"frame", "F2"}, "field-report").at(0).entry.seq;
  s.book.append("E", *s.engineer, "void", {{"of", report}, {"reason", "another trike"}}, noon);
  CHECK(recall(s.book, {"heat", "H1"}, "2027-01-01").at(0).by == "years");
  CHECK(verify(s.book).problems.empty());
}

TEST_CASE("what is no record is refused with its key and its nearest") {
  const Folder f;
  Shop s = open_shop(f.book());
  const auto weld_with = [&](const Json& payload) {
    return refusal([&] { s.book.append("W", *s.welder, "weld", payload, noon); });
  };
  CHECK(weld_with({{"frame", "F1"}}) == "book.missing-key");
  CHECK(weld_with({{"frame", ""}, {"weld", "W1"}}) == "book.missing-key");
  CHECK(weld_with({{"frame", "F1"}, {"weld", "W1"}, {"ampers", 50}}) == "book.unknown-key");
  CHECK(weld_with({{"frame", "F1"}, {"weld", "W1"}, {"amperes", "50"}}) == "book.wrong-type");
  CHECK(weld_with({{"frame", "F1"}, {"weld", "W1"}, {"lots", "L1"}}) == "book.wrong-type");
  CHECK(weld_with({{"frame", "F1"}, {"weld", "W1"}, {"on", "2026-02-30"}}) == "book.bad-day");
  CHECK(weld_with(Json::array()) == "book.wrong-type");
  CHECK(refusal([&] { s.book.append("W", *s.welder, "welds", {}, noon); }) == "book.unknown-kind");
  CHECK(refusal([&] {
          s.book.append("W", *s.welder, "repair", {{"frame", "F1"}, {"weld", "W1"}}, noon);
        }) == "book.missing-key");
  CHECK(refusal([&] {
          s.book.append("I", *s.inspector, "inspection",
                        {{"frame", "F1"}, {"method", "VT"}, {"result", "fine"}, {"on", "2026-01-01"}}, noon);
        }) == "book.bad-word");
  CHECK(refusal([&] {
          s.book.append(
              "E", *s.engineer, "procedure",
              {{"id", "P"}, {"revision", "A"}, {"file", {{"sha256", std::string(64, 'a')}, {"name", "x"}}}},
              noon);
        }) == "book.attachment-missing");
  CHECK(refusal([&] { s.book.append("O", *s.owner, "revoke", {{"id", "O"}}, noon); }) == "book.last-owner");
  CHECK(refusal([&] {
          s.book.append("O", *s.owner, "exception", {{"frame", "F1"}, {"gap", "g"}, {"reason", "r"}}, noon);
        }) == "book.role");
  CHECK(s.book.last_entry()->seq == 4);
}

TEST_CASE("all records of a batch come in or none") {
  const Folder f;
  Shop s = open_shop(f.book());
  const std::string before = s.book.head();
  CHECK(refusal([&] {
          s.book.append_all("W", *s.welder, {{"weld", weld("F1", "W1", "L1")}, {"weld", {{"frame", "F1"}}}},
                            noon);
        }) == "book.missing-key");
  CHECK(s.book.head() == before);
  CHECK(s.book.find({"frame", "F1"}).empty());
  std::ofstream(f.path + "/a.csv") << "frame,weld,lots,amperes\nF1,W1,L1 L2,55.5\nF1,W2,L1,60\n";
  const auto rows = read_records(f.path + "/a.csv", "weld");
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].payload ==
        Json({{"frame", "F1"}, {"weld", "W1"}, {"lots", {"L1", "L2"}}, {"amperes", 55.5}}));
  std::ofstream(f.path + "/bad.csv") << "frame,weld,on\nF1,W1,2026-02-30\n";
  CHECK(refusal([&] { read_records(f.path + "/bad.csv", "weld"); }) == "book.bad-day");
  std::ofstream(f.path + "/cert.txt") << "3.1";
  std::ofstream(f.path + "/a.toml")
      << "format = \"seamwright.records/1\"\n[[lot]]\nid = \"L1\"\nheat = \"H\"\nfile = \"cert.txt\"\n"
      << "delivered = 2026-01-02\n[[frame]]\nserial = \"F1\"\ndesign = \"D\"\nrevision = \"1\"\n[[lot]]\nid "
         "= \"L2\"\nheat = \"H\"\n";
  const auto mixed = read_records(f.path + "/a.toml", "");
  REQUIRE(mixed.size() == 3);
  CHECK(mixed[1].kind == "frame");  // as they stand in the file
  CHECK(mixed[0].payload["delivered"] == "2026-01-02");
  s.book.append_all("E", *s.engineer, mixed, noon);
  CHECK(s.book.attachment(sha256_hex("3.1")) == "3.1");
  CHECK(verify(s.book).problems.empty());
}

TEST_CASE("drafts wait for their person and are signed together") {
  const Folder f;
  Shop s = open_shop(f.book());
  s.book.keep_draft("W", {"weld", weld("F1", "W1", "L1")}, noon);
  s.book.keep_draft("W", {"weld", weld("F1", "W2", "L1")}, noon);
  CHECK(refusal([&] { s.book.keep_draft("W", {"weld", {{"frame", "F1"}}}, noon); }) == "book.missing-key");
  CHECK(refusal([&] {
          s.book.keep_draft("W", {"release", {{"frame", "F1"}, {"on", "2026-01-01"}, {"design_sha256", "x"}}},
                            noon);
        }) == "book.role");
  CHECK(s.book.find({"frame", "F1"}).empty());
  const std::string seen = digest_of(s.book.drafts("W"));
  const std::int64_t third = s.book.keep_draft("W", {"weld", weld("F1", "W3", "L1")}, noon);
  CHECK(refusal([&] { s.book.sign_drafts("W", *s.welder, seen, noon); }) == "book.drafts-changed");
  CHECK(s.book.drop_draft(third));
  CHECK_FALSE(s.book.drop_draft(third));
  CHECK(s.book.sign_drafts("W", *s.welder, seen, noon).size() == 2);
  CHECK(s.book.drafts("W").empty());
  CHECK(s.book.find({"frame", "F1"}).size() == 2);
  CHECK(verify(s.book).problems.empty());
}

TEST_CASE("personal details leave the file and the chain holds") {
  const Folder f;
  {
    Shop s = open_shop(f.book());
    CHECK((*s.book.details("W"))["name"] == "planted-marker-of-a-name");
    s.book.erase("O", *s.owner, "W", noon);
    const Verification v = verify(s.book);
    CHECK(v.problems.empty());
    REQUIRE(v.erased.size() == 1);
    CHECK(v.erased[0].by == 5);
  }
  for (const char* end : {"", "-wal"}) {
    std::ifstream in(f.book() + end, std::ios::binary);
    const std::string bytes((std::istreambuf_iterator<char>(in)), {});
    CHECK(bytes.find("planted-marker") == std::string::npos);
  }
}

TEST_CASE("each derived table and each file is compared with the entries") {
  const Folder f;
  {
    Shop s = open_shop(f.book());
    fill(s, f.book());
  }
  const std::string saved = f.path + "/saved";
  CHECK(copy_verified(f.book(), saved).problems.empty());
  const auto changed = [&](const std::string& sql, MessageId what) {
    std::filesystem::remove(f.book());
    CHECK(copy_verified(saved, f.book()).problems.empty());
    tamper(f.book(), sql);
    CHECK(finds(f.book(), what));
  };
  changed("DELETE FROM mark WHERE name = 'heat'", "book.derived-differs");
  changed("UPDATE mark SET value = 'H2' WHERE name = 'heat' AND value = 'H1'", "book.derived-differs");
  changed("INSERT INTO mark VALUES('heat', 'H3', 5)", "book.derived-differs");
  changed("UPDATE carried SET frame = 'F3' WHERE value = 'L1'", "book.derived-differs");
  changed("DELETE FROM carried WHERE value = 'L1'", "book.derived-differs");
  changed("INSERT INTO carried VALUES('lot', 'L1', 'F9')", "book.derived-differs");
  changed("INSERT INTO replaced VALUES(5, 6)", "book.derived-differs");
  changed("UPDATE person SET role = 'owner' WHERE id = 'W'", "book.derived-differs");
  changed("UPDATE attachment SET bytes = X'00'", "book.attachment-differs");
  changed("DELETE FROM attachment", "book.attachment-lost");
  changed("UPDATE personal SET details = '{\"name\":\"another\"}'", "book.details-differ");
  changed("DELETE FROM personal", "book.details-differ");
  Book b = Book::open(f.book());
  tamper(f.book(), "DELETE FROM mark; DELETE FROM carried; DELETE FROM person WHERE id = 'W'");
  b.rebuild();
  for (const Problem& p : verify(b).problems)
    CHECK(p.what == "book.details-differ");  // what cannot be rebuilt
}

TEST_CASE("tables made anew from random entries are those that grew with them") {
  std::mt19937 random(20261126);
  for (int round = 0; round < 5; ++round) {
    const Folder f;
    Shop s = open_shop(f.book());
    std::vector<std::int64_t> welds;
    for (int i = 0; i < 40; ++i) {
      const auto any = [&](int n) { return std::to_string(random() % static_cast<unsigned>(n)); };
      if (!welds.empty() && random() % 4 == 0) {
        const std::size_t at = random() % welds.size();
        const Json payload{{"of", welds[at]},
                           {"kind", "weld"},
                           {"reason", "r"},
                           {"payload", weld("F" + any(3), "W" + any(9), "L" + any(4))}};
        welds[at] = s.book.append("W", *s.welder, "correction", payload, noon).seq;
      } else if (!welds.empty() && random() % 8 == 0) {
        s.book.append("W", *s.welder, "void", {{"of", welds.back()}, {"reason", "r"}}, noon);
        welds.pop_back();
      } else {
        welds.push_back(
            s.book.append("W", *s.welder, "weld", weld("F" + any(3), "W" + any(9), "L" + any(4)), noon).seq);
      }
    }
    CHECK(verify(s.book).problems.empty());
    const auto before = std::tuple{s.book.carried("F0"), s.book.carried("F1"), s.book.carried("F2")};
    s.book.rebuild();
    CHECK(std::tuple{s.book.carried("F0"), s.book.carried("F1"), s.book.carried("F2")} == before);
    CHECK(verify(s.book).problems.empty());
  }
}

TEST_CASE("a lost passphrase and a changed role hold from their entry on") {
  const Folder f;
  Shop s = open_shop(f.book());
  s.book.append("W", *s.welder, "weld", weld("F1", "W1", "L1"), noon);
  s.book.renew_key("O", *s.owner, "W", "another secret", noon);
  CHECK(refusal([&] { s.book.append("W", *s.welder, "weld", weld("F1", "W2", "L1"), noon); }) ==
        "book.unknown-person");
  const auto fresh = s.book.unlock("W", "another secret");
  s.book.append("W", *fresh, "weld", weld("F1", "W2", "L1"), noon);
  s.book.change_passphrase("W", *fresh, "a third secret");
  CHECK(s.book.unlock("W", "a third secret")->public_hex() == fresh->public_hex());
  s.book.append("O", *s.owner, "role", {{"id", "W"}, {"role", "auditor"}}, noon);
  CHECK(refusal([&] { s.book.append("W", *fresh, "weld", weld("F1", "W3", "L1"), noon); }) == "book.role");
  CHECK(verify(s.book).problems.empty());
}

namespace {

// The book as a program before statements would have written it: entries signed whole.
void write_as_before(const std::string& path, const Shop& s) {
  std::string sql, prev;
  const Book b = Book::open_read(path, Tables::as_they_are);
  b.for_each_entry([&](const Entry& now) {
    Entry e = now;
    e.form = 1;
    e.prev = prev;
    e.hash = entry_hash(b.id(), e, e.written);
    const OpenKey& key = e.author == "O" ? *s.owner : e.author == "E" ? *s.engineer : e.author == "I" ? *s.inspector : *s.welder;
    sql += "UPDATE entry SET prev = '" + e.prev + "', hash = '" + e.hash + "', signature = '" + key.sign(e.hash) + "' WHERE seq = " + std::to_string(e.seq) + ";";
    prev = e.hash;
    return true;
  });
  tamper(path, sql + "DROP TABLE statement; PRAGMA user_version = 2");
}

}  // namespace

TEST_CASE("older files are brought up to date, say where statements begin, and a newer one is only read") {
  const Folder f;
  std::unique_ptr<OpenKey> engineer;
  {
    Shop s = open_shop(f.book());
    fill(s, f.book());
    write_as_before(f.book(), s);
    engineer = std::move(s.engineer);
  }
  const std::string head = Book::open_read(f.book()).head();
  CHECK(verify(Book::open_read(f.book())).problems.empty());
  CHECK(trace(Book::open_read(f.book()), "F1").own.size() == 3);
  tamper(
      f.book(),
      "DROP TABLE replaced; DROP TABLE carried; DROP TABLE mark; DROP TABLE draft; DROP TABLE personal; DROP "
      "TABLE attachment; PRAGMA user_version = 1");
  CHECK(Book::open_read(f.book()).form().schema == 1);
  Book b = Book::open(f.book());
  CHECK(b.form().schema == 3);
  CHECK(b.head() == head);
  CHECK(recall(b, {"heat", "H1"}, "2027-01-01").size() == 2);
  const std::int64_t before = b.last_entry()->seq;
  b.append("E", *engineer, "note", {{"text", "n"}}, noon);
  CHECK(b.last_entry()->seq == before + 2);
  CHECK(b.record(before + 1)->kind == "format");
  CHECK(b.record(before + 2)->entry.form == 2);
  tamper(f.book(), "PRAGMA user_version = 4");
  CHECK(refusal([&] { Book::open(f.book()); }) == "book.newer");
  CHECK(finds(f.book(), "book.newer-schema"));  // whether all of it holds cannot be told
}

TEST_CASE("a head needs its number and 32 figures, since one that agrees in fewer can be made") {
  const Folder f;
  const Shop s = open_shop(f.book());
  const std::string head = s.book.head();
  const std::size_t colon = head.find(':');
  CHECK(verify(s.book, head.substr(0, colon + 33)).problems.empty());
  for (const std::string& bad : {std::string("4"), std::string("4:"), head.substr(0, colon + 32), head.substr(colon), head + "x",
                                 "x" + head.substr(colon)})
    CHECK(refusal([&] { (void)verify(s.book, bad); }) == "book.bad-head");
}

TEST_CASE("copies that part from one another are shown") {
  const Folder f;
  Shop s = open_shop(f.book());
  const std::string other = f.path + "/other";
  copy_verified(f.book(), other);
  CHECK(refusal([&] { copy_verified(f.book(), other); }) == "book.exists");
  s.book.append("W", *s.welder, "note", {{"text", "here"}}, noon);
  CHECK(compare_books(s.book, Book::open_read(other)).only_one == 1);
  CHECK_FALSE(compare_books(s.book, Book::open_read(other)).forked());
  Book::open(other).append("W", *s.welder, "note", {{"text", "there"}}, noon);
  const BookComparison c = compare_books(s.book, Book::open_read(other));
  CHECK(c.forked());
  CHECK(c.common == 4);
}

TEST_CASE("a station signs for who was unlocked until it is locked") {
  const Folder f;
  ::setenv("XDG_RUNTIME_DIR", f.path.c_str(), 1);
  std::string id, sealed;
  {
    Shop s = open_shop(f.book());
    id = s.book.id();
    sealed = s.book.sealed_key("W");
  }
  CHECK(station_of(id) == nullptr);
  CHECK(refusal([&] { unlock_station(id, "W", sealed, "a wrong one", 60); }) == "book.wrong-passphrase");
  unlock_station(id, "W", sealed, "one for all of them", 60);
  const auto station = station_of(id);
  REQUIRE(station);
  CHECK(station->person() == "W");
  Book b = Book::open(f.book());
  b.append("W", *station, "note", {{"text", "by the station"}}, noon);
  CHECK(verify(b).problems.empty());
  CHECK(refusal([&] { (void)station->sign("no hash"); }) == "book.locked");
  CHECK(lock_station(id));
  CHECK(refusal([&] { b.append("W", *station, "note", {{"text", "late"}}, noon); }) == "book.locked");
  unlock_station(id, "W", sealed, "one for all of them", 1);
  ::sleep(2);
  CHECK(station_of(id) == nullptr);  // idle
}

TEST_CASE("a replacement that its author could not make is found although it is signed") {
  const Folder f;
  Shop s = open_shop(f.book());
  fill(s, f.book());
  const std::int64_t seen =
      s.book
          .append(
              "I", *s.inspector, "inspection",
              {{"frame", "F1"}, {"weld", "W1"}, {"method", "VT"}, {"result", "reject"}, {"on", "2026-01-01"}},
              noon)
          .seq;
  const std::string saved = f.path + "/saved";
  copy_verified(f.book(), saved);
  const auto forced = [&](const std::string& kind, const Json& payload, MessageId what) {
    const std::string path = f.path + "/forced";
    copy_verified(saved, path);
    force(path, "W", *s.welder, kind, payload);
    CHECK(finds(path, what));
    CHECK(verify(Book::open_read(path)).problems.size() == 1);
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path + end);
  };
  forced("void", {{"of", seen}, {"reason", "r"}}, "book.no-role");
  forced("correction", {{"of", seen}, {"kind", "weld"}, {"reason", "r"}, {"payload", weld("F1", "W1", "L1")}},
         "book.bad-replacement");
  forced("void", {{"of", 2}, {"reason", "r"}}, "book.bad-replacement");
  forced("correction",
         {{"of", seen},
          {"kind", "inspection"},
          {"reason", "r"},
          {"payload",
           {{"frame", "F1"}, {"weld", "W1"}, {"method", "VT"}, {"result", "accept"}, {"on", "2026-01-01"}}}},
         "book.no-role");

  const std::int64_t mine = s.book.current({"frame", "F1"}, "weld").at(0).entry.seq;
  const Json again{{"of", mine}, {"kind", "weld"}, {"reason", "r"}, {"payload", weld("F1", "W1", "L2")}};
  s.book.append("W", *s.welder, "correction", again, noon);
  s.book.copy_to(f.path + "/twice");
  force(f.path + "/twice", "W", *s.welder, "correction", again);
  CHECK(finds(f.path + "/twice", "book.bad-replacement"));

  s.book.append("O", *s.owner, "revoke", {{"id", "W"}}, noon);
  s.book.copy_to(f.path + "/revoked");
  force(f.path + "/revoked", "W", *s.welder, "note", {{"text", "still here"}});
  CHECK(finds(f.path + "/revoked", "book.revoked-author"));
}

TEST_CASE("a copy of a book that does not hold is taken away again") {
  const Folder f;
  { Shop s = open_shop(f.book()); }
  tamper(f.book(), "UPDATE entry SET time = '2020-01-01T00:00:00Z' WHERE seq = 2");
  CHECK(refusal([&] { copy_verified(f.book(), f.path + "/copy"); }) == "book.copy-fails");
  CHECK_FALSE(std::filesystem::exists(f.path + "/copy"));
}

TEST_CASE("details that a reader keeps in the log are told") {
  if (!std::getenv("SEAMWRIGHT_NIGHT")) return;  // waits ten seconds for the reader
  const Folder f;
  Shop s = open_shop(f.book());
  const Book reader = Book::open_read(f.book());
  std::string said;
  reader.for_each_entry([&](const Entry&) {
    said = refusal([&] { s.book.erase("O", *s.owner, "W", noon); });
    return false;
  });
  CHECK(said == "book.log-in-use");
  CHECK_FALSE(s.book.details("W"));
  s.book.erase("O", *s.owner, "W", noon);
  CHECK(verify(s.book).problems.empty());
}
