// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/demo_book.h"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <map>
#include <set>

#include "catalog/book/gaps.h"
#include "catalog/book/records/rating_record.h"
#include "catalog/book/records/weld_record.h"
#include "catalog/book/store/stores.h"
#include "catalog/book/verify.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/models/joint_library.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/rating/rate.h"
#include "engine/sites/joint_readings.h"

namespace seamwright::book {

namespace {

using qualification::Answer;

// The example as a job.
files::FilesInMemory example_job(const files::Wording& wording) {
  std::map<std::string, std::string> texts;
  for (const published::DataFile& f : published::example_files()) {
    const bool top = f.name == "design.toml" || f.name == "duty.toml" || f.name == "certificates.toml";
    texts[top ? f.name : "procedures/" + f.name] = wording.file(f.text);
  }
  return files::FilesInMemory(std::move(texts));
}

constexpr qualification::Date last_day{std::chrono::year(2026), std::chrono::November, std::chrono::day(30)};

// A tube's size as its lot is named: "25x1.5".
std::string size_of(const frame::RoundTube& t) {
  std::string out = std::to_string(t.diameter_mm), wall = std::to_string(t.wall_mm);
  for (std::string* s : {&out, &wall}) {
    s->erase(s->find_last_not_of('0') + 1);
    if (s->back() == '.') s->pop_back();
  }
  return out + "x" + wall;
}

// The lot of a member's tube, in the size and of the steel that the design asks for; "" = not a round tube.
std::string lot_of(const design::Design& design, const std::string& member) {
  const frame::RoundTube* round = member.empty() ? nullptr : design::round_tube(design.frame, member);
  if (!round) return {};
  const std::string steel = design::tube_of(design.frame, design::member_of(design.frame, member)).material;
  return "T-" + size_of(*round) + (steel == "25CrMo4+N" ? "" : "-" + steel);
}

struct DemoShop {
  Book book;
  rating::Job read;
  std::vector<files::ProcedureFile> procedures;
  files::Certificates certificates;
  std::unique_ptr<OpenKey> owner, engineer, inspector, auditor;
  std::vector<std::pair<std::string, std::unique_ptr<OpenKey>>> welders;
  int minute = 0;
  std::string last_day_said;
  std::map<std::string, std::string> fillers{};  // designation of each batch
  files::Wording wording{};

  std::string worded(const char* english) const { return wording.text("book", english); }
  std::string invented() const { return worded("Invented for demonstration."); }
  std::string text_at(const char* name) const {
    for (const published::DataFile& f : published::example_files())
      if (f.name == name) return wording.file(f.text);
    return {};
  }

  // Every entry a minute after the one before, from that day on.
  std::string noon_of(const std::string& day) {
    minute = day == last_day_said ? minute + 1 : 0;
    last_day_said = day;
    const int hour = 7 + minute / 60;
    const auto two = [](int n) { return std::string(n < 10 ? "0" : "") + std::to_string(n); };
    return day + "T" + two(hour) + ":" + two(minute % 60) + ":00Z";
  }
  const OpenKey& key_of(const std::string& welder) const {
    for (const auto& [id, key] : welders)
      if (id == welder) return *key;
    return *owner;
  }
};

void admit_people(DemoShop& s) {
  const auto person = [&](const char* id, const char* stamp, const char* role) {
    s.book.admit_person("O", *s.owner, id, stamp, role, demo_passphrase, s.noon_of("2026-03-02"),
                        {{field::name, s.invented()}});
    return s.book.unlock(id, demo_passphrase);
  };
  s.engineer = person("E-1", "ENG", "engineer");
  s.inspector = person("I-1", "INS", "inspector");
  for (const char* id : {"W-A", "W-B", "W-C"}) s.welders.emplace_back(id, person(id, id, "welder"));
  s.auditor = person("A-1", "AUD", "auditor");
}

void record_certificates(DemoShop& s) {
  std::vector<NewEntry> all;
  for (const qualification::Certificate& c : s.certificates.all) {
    const std::string source = s.text_at("certificates.toml");
    const std::size_t at = source.find("designation = \"", source.find("id = \"" + c.id + "\"")) + 15;
    all.push_back({kind::certificate,
                   {{field::id, c.id},
                    {field::welder, c.welder},
                    {field::designation, source.substr(at, source.find('"', at) - at)},
                    {field::tested, qualification::text_of(c.tested)},
                    {field::route, std::string(1, c.route)},
                    {field::employer, c.employer}},
                   Attachment{c.id + ".txt", fmt::format(fmt::runtime(s.worded("{invented} Certificate {id}.")), fmt::arg("invented", s.invented()), fmt::arg("id", c.id))}});
    for (const auto& day : c.confirmed)
      all.push_back(
          {kind::confirmation, {{field::certificate, c.id}, {field::on, qualification::text_of(day)}}});
  }
  std::set<std::string> methods;
  for (const files::ProcedureFile& p : s.procedures) methods.insert(p.sheet.testing.begin(), p.sheet.testing.end());
  for (const std::string& method : methods)
    if (method != "VT")
      all.push_back({kind::inspector_certificate,
                     {{field::id, "N-1-" + method},
                      {field::person, "I-1"},
                      {field::method, method},
                      {field::level, 2},
                      {field::tested, "2026-02-10"},
                      {field::until, "2031-02-09"},
                      {field::by, s.worded("invented examiner")}}});
  s.book.append_all("E-1", *s.engineer, all, s.noon_of("2026-11-12"));
}

// A lot of every tube in the frame; one heat is called back later.
void record_stock(DemoShop& s) {
  std::map<std::string, std::string> members;  // one for each lot
  for (const joints::Weld& w : s.read.design.welds)
    for (const std::string& member : {w.member, w.chord})
      if (const std::string lot = lot_of(s.read.design, member); !lot.empty()) members.emplace(lot, member);
  std::vector<NewEntry> all;
  int number = 0;
  for (const auto& [lot, member] : members) {
    const frame::RoundTube& tube = *design::round_tube(s.read.design.frame, member);
    const std::string heat = ++number == 2 ? demo_heat : "H-DEMO-" + std::to_string(number + 10);
    all.push_back(
        {kind::lot,
         {{field::id, lot},
          {field::heat, heat},
          {field::certificate_type, "3.1"},
          {field::mill, s.worded("invented mill")},
          {"steel",
           design::tube_of(s.read.design.frame, design::member_of(s.read.design.frame, member)).material},
          {field::outside_mm, tube.diameter_mm},
          {field::wall_mm, tube.wall_mm},
          {field::delivered, "2026-09-14"}},
         Attachment{lot + ".txt", fmt::format(fmt::runtime(s.worded("{invented} Certificate 3.1 of heat {heat}.")), fmt::arg("invented", s.invented()), fmt::arg("heat", heat))}});
  }
  std::set<std::string> fillers;
  for (const files::ProcedureFile& p : s.procedures)
    if (!p.sheet.filler.empty() && fillers.insert(p.sheet.filler).second)
      all.push_back({kind::filler,
                     {{field::id, "F-" + std::to_string(fillers.size())},
                      {field::designation, p.sheet.filler},
                      {field::certificate_type, "2.2"},
                      {field::delivered, "2026-09-20"}},
                     Attachment{"filler.txt", s.invented()}});
  std::set<std::string> gases;
  for (const files::ProcedureFile& p : s.procedures)
    if (!p.sheet.gas.empty() && gases.insert(p.sheet.gas).second)
      all.push_back({kind::gas,
                     {{field::id, "G-" + p.sheet.gas},
                      {field::designation, p.sheet.gas},
                      {field::delivered, "2026-09-20"}}});
  s.book.append_all("I-1", *s.inspector, all, s.noon_of("2026-10-01"));
  for (const NewEntry& n : all)
    if (n.kind == "filler") s.fillers[n.payload[field::id]] = n.payload[field::designation];
  std::vector<NewEntry> devices;
  for (const char* id : {"M-1", "M-2"}) {
    devices.push_back({kind::machine, {{field::id, id}, {field::name, s.worded("power source (invented)")}}});
    devices.push_back({kind::calibration,
                       {{field::of, id},
                        {field::on, "2026-02-01"},
                        {field::until, "2027-01-31"},
                        {field::by, s.worded("invented laboratory")}}});
  }
  devices.push_back({kind::tool, {{field::id, "G-1"}, {field::name, s.worded("fillet gauge")}}});
  devices.push_back(
      {kind::calibration, {{field::of, "G-1"}, {field::on, "2026-02-01"}, {field::until, "2027-01-31"}}});
  s.book.append_all("E-1", *s.engineer, devices, s.noon_of("2026-10-02"));
}

void freeze(DemoShop& s, const std::string& program) {
  std::vector<NewEntry> all;
  for (const files::ProcedureFile& p : s.procedures) {
    const std::string name = std::filesystem::path(p.path).filename().string();
    all.push_back({kind::procedure,
                   {{field::id, p.sheet.id}, {field::revision, p.sheet.revision}},
                   Attachment{name, s.text_at(name.c_str())}});
    if (p.record)
      all.push_back(
          {kind::qualification,
           {{field::id, p.record->id}, {field::procedure, p.sheet.id}, {field::by, s.worded("invented examiner")}}});
  }
  std::set<std::string> proofs;
  for (const joints::Weld& w : s.read.design.welds)
    if (w.root_proven && proofs.insert(w.root_proof).second)
      all.push_back(
          {kind::qualification,
           {{field::id, w.root_proof}, {field::root, "fused"}, {field::by, s.worded("invented laboratory")}}});
  const design::Identity& d = s.read.design.identity;
  all.push_back({kind::design,
                 {{field::name, d.name}, {field::revision, d.revision}},
                 Attachment{"design.toml", s.text_at("design.toml")}});
  const rating::Rating rated =
      rating::rate(s.read, published::catalog().data, rating::Method::spectral, rating::Progress{});
  all.push_back({kind::rating, rating_payload(rated, program)});
  s.book.append_all("E-1", *s.engineer, all, s.noon_of("2026-10-05"));
}

const files::ProcedureFile* procedure_of(const DemoShop& s, const joints::Weld& w) {
  for (const files::ProcedureFile& p : s.procedures)
    if (p.sheet.id == w.procedure) return &p;
  return nullptr;
}

// The first who is qualified on that day, or the one asked for.
std::string welder_for(const DemoShop& s, const joints::Weld& w, const files::ProcedureFile& p,
                       const std::string& day, const std::string& asked) {
  if (!asked.empty()) return asked;
  const auto on = *qualification::read_date(day);
  for (const qualification::Certificate& c : s.certificates.all)
    if (verdict(qualification::welder_covers(c, p.sheet, files::sizes_of(s.read.design, w), on, on,
                                             c.employer)) == Answer::yes)
      return c.welder;
  return "W-A";
}

Weld weld_made(const DemoShop& s, const std::string& serial, const joints::Weld& w, const std::string& day,
               const std::string& asked) {
  Weld made;
  made.frame = serial;
  made.weld = w.id;
  made.day = day;
  made.machine = "M-1";
  std::vector<std::string> lots;
  for (const std::string& member : {w.member, w.chord})
    if (const std::string lot = lot_of(s.read.design, member);
        !lot.empty() && (lots.empty() || lots[0] != lot))
      lots.push_back(lot);
  made.lots = lots;
  const files::ProcedureFile* p = procedure_of(s, w);
  if (!p) return made;
  made.procedure = p->sheet.id;
  made.revision = p->sheet.revision;
  if (!p->sheet.gas.empty()) made.gas = "G-" + p->sheet.gas;
  made.welder = welder_for(s, w, *p, day, asked);
  for (const auto& [batch, designation] : s.fillers)
    if (designation == p->sheet.filler) made.filler = batch;
  if (!p->sheet.positions.empty()) made.position = p->sheet.positions.front();
  if (p->sheet.runs.empty()) return made;
  const qualification::Run& run = p->sheet.runs.front();
  const auto middle = [](const qualification::Span& span) {
    return span.stated() ? Weld::Number(std::round((span.least + span.most) * 5) / 10) : std::nullopt;
  };
  made.amperes = middle(run.amperes);
  made.volts = middle(run.volts);
  made.speed_mm_s = middle(run.speed_mm_s);
  made.power_w = middle(run.power_w);
  return made;
}

void begin_frame(DemoShop& s, const std::string& serial, const std::string& order, const std::string& day, bool rig_only) {
  const design::Identity& d = s.read.design.identity;
  s.book.append("E-1", *s.engineer, kind::frame,
                {{field::serial, serial},
                 {field::design, d.name},
                 {field::revision, d.revision},
                 {field::order, order},
                 {field::on, day},
                 {field::rig_only, rig_only}},
                s.noon_of(day));
}

// Each welder signs their own. share: of the welds, from the first on.
void weld_frame(DemoShop& s, const std::string& serial, const std::string& day, double share,
                const std::string& asked) {
  std::map<std::string, std::vector<NewEntry>> by;
  const auto& welds = s.read.design.welds;
  const auto count = static_cast<std::size_t>(static_cast<double>(welds.size()) * share);
  for (std::size_t i = 0; i < count; ++i) {
    const Weld made = weld_made(s, serial, welds[i], day, i % 5 == 4 ? asked : "");
    by[made.welder.value_or("W-A")].push_back(weld_record(made));
  }
  for (const auto& [welder, all] : by) s.book.append_all(welder, s.key_of(welder), all, s.noon_of(day));
}

NewEntry inspection_entry(const std::string& serial, const std::string& weld, const std::string& method,
                          const std::string& result, const std::string& day) {
  return {kind::inspection,
          {{field::frame, serial},
           {field::weld, weld},
           {field::method, method},
           {field::result, result},
           {field::tool, "G-1"},
           {field::on, day}}};
}

void inspect_frame(DemoShop& s, const std::string& serial, const std::string& day,
                   const std::string& rejected = {}) {
  std::vector<NewEntry> all;
  for (const joints::Weld& w : s.read.design.welds) {
    all.push_back(inspection_entry(serial, w.id, "VT", w.id == rejected ? "reject" : "accept", day));
    if (const auto* p = procedure_of(s, w))
      for (const std::string& method : p->sheet.testing)
        all.push_back(inspection_entry(serial, w.id, method, "accept", day));
  }
  s.book.append_all("I-1", *s.inspector, all, s.noon_of(day));
}

void repair(DemoShop& s, const std::string& serial, const joints::Weld& w, const std::string& day) {
  const std::string id = "N-" + serial;
  s.book.append("I-1", *s.inspector, kind::nonconformity,
                {{field::id, id},
                 {field::frame, serial},
                 {field::weld, w.id},
                 {field::what, s.worded("undercut at the brace toe (invented)")},
                 {field::on, day}},
                s.noon_of(day));
  s.book.append("E-1", *s.engineer, kind::disposition,
                {{field::nonconformity, id},
                 {field::frame, serial},
                 {field::decision, "repair"},
                 {field::reason, s.worded("dress, weld once more, inspect again")}},
                s.noon_of(day));
  Weld again = weld_made(s, serial, w, day, "");
  again.nonconformity = id;
  const std::string welder = again.welder.value_or("W-A");
  s.book.append(welder, s.key_of(welder), kind::repair, payload_of(again), s.noon_of(day));
  std::vector<NewEntry> all{inspection_entry(serial, w.id, "VT", "accept", day)};
  if (const auto* p = procedure_of(s, w))
    for (const std::string& method : p->sheet.testing)
      all.push_back(inspection_entry(serial, w.id, method, "accept", day));
  s.book.append_all("I-1", *s.inspector, all, s.noon_of(day));
}

// The demonstration's design falls short of its duty: its frames leave for a rig, and an engineer signs why.
void release_for_rig(DemoShop& s, const std::string& serial, const std::string& day) {
  std::vector<NewEntry> all;
  for (const Gap& g : open_gaps(gaps(s.book, serial, day)))
    all.push_back({kind::exception,
                   {{field::frame, serial},
                    {field::gap, g.key},
                    {field::reason, s.worded("For the test rig alone, not to be ridden (invented).")}}});
  s.book.append_all("E-1", *s.engineer, all, s.noon_of(day));
  release(s.book, serial, "E-1", *s.engineer, s.noon_of(day));
}

// Where the shop keeps its quality records, and what an auditor missed.
void answer_auditor(DemoShop& s) {
  std::vector<NewEntry> all;
  const auto state = [&](const char* requirement, const char* kept, const char* place, const char* reason) {
    all.push_back({kind::quality_statement, {{field::requirement, requirement}, {field::part, "3"}, {field::kept, kept}}});
    if (*place) all.back().payload[field::place] = s.worded(place);
    if (*reason) all.back().payload[field::reason] = s.worded(reason);
  };
  for (const char* here : {"welders", "inspectors", "equipment-list", "procedures", "procedure-qualification", "documents", "consumables", "parent-material",
                           "inspection-during", "inspection-after", "nonconformity", "calibration", "traceability"})
    state(here, "here", "", "");
  for (const char* elsewhere : {"requirements-review", "technical-review", "production-plan", "inspection-before"})
    state(elsewhere, "elsewhere", "order folder (invented)", "");
  state("subcontracting", "not-applicable", "", "nothing is welded outside (invented)");
  state("post-weld-treatment", "not-applicable", "", "no procedure asks for it (invented)");
  s.book.append_all("E-1", *s.engineer, all, s.noon_of("2026-11-12"));
  s.book.append("A-1", *s.auditor, kind::audit_finding,
                {{field::id, "AF-1"}, {field::what, s.worded("no plan for the maintenance of the power sources (invented)")}, {field::requirement, "maintenance"}, {field::on, "2026-11-12"}},
                s.noon_of("2026-11-12"));
}

// One shipped, one repaired, one welded under a lapsed certificate, one unfinished.
void build_frames(DemoShop& s) {
  begin_frame(s, "OT-0001", "B-501", "2026-11-13", true);
  weld_frame(s, "OT-0001", "2026-11-13", 1, "");
  inspect_frame(s, "OT-0001", "2026-11-16");
  release_for_rig(s, "OT-0001", "2026-11-17");
  s.book.append("E-1", *s.engineer, kind::shipment,
                {{field::order, "B-501"},
                 {field::frames, {"OT-0001"}},
                 {field::to, s.worded("test rig (invented)")},
                 {field::on, "2026-11-18"}},
                s.noon_of("2026-11-18"));
  s.book.append("E-1", *s.engineer, kind::field_report,
                {{field::frame, "OT-0001"},
                 {field::on, "2026-11-20"},
                 {field::what, s.worded("rig stopped for a look, nothing found (invented)")},
                 {field::km, 6},
                 {field::cracked, false}},
                s.noon_of("2026-11-20"));

  const joints::Weld& bad = s.read.design.welds[s.read.design.welds.size() / 2];
  begin_frame(s, "OT-0002", "B-502", "2026-11-20", true);
  weld_frame(s, "OT-0002", "2026-11-20", 1, "");
  inspect_frame(s, "OT-0002", "2026-11-21", bad.id);
  repair(s, "OT-0002", bad, "2026-11-22");
  release_for_rig(s, "OT-0002", "2026-11-22");

  begin_frame(s, "OT-0003", "B-503", "2026-11-23", false);
  weld_frame(s, "OT-0003", "2026-11-23", 1, "W-B");  // whose certificate has lapsed
  inspect_frame(s, "OT-0003", "2026-11-24");

  begin_frame(s, "OT-0004", "B-504", "2026-11-25", false);
  weld_frame(s, "OT-0004", "2026-11-25", 0.4, "");
  s.book.append("I-1", *s.inspector, kind::note,
                {{field::text, fmt::format(fmt::runtime(s.worded("The mill calls heat {heat} back (invented).")), fmt::arg("heat", demo_heat))}},
                s.noon_of("2026-11-25"));
}

}  // namespace

std::vector<DemoFrame> write_demo(const std::string& where, const std::string& program, const files::Wording& wording) {
  return write_demo([&] { return open_store(where, Access::create); }, program, wording);
}

std::vector<DemoFrame> write_demo(const std::function<std::unique_ptr<Store>()>& make,
                                  const std::string& program, const files::Wording& wording) {
  const files::FilesInMemory job = example_job(wording);
  rating::Job read = files::read_job({job, "design.toml"}, "", published::catalog());
  read.joint_models = std::make_shared<const solid::JointLibrary>(models::shipped_joints(sites::frame_joints(read.design)));
  auto procedures = files::read_procedures({job, "procedures"}, last_day);
  auto certificates = files::read_certificates({job, "certificates.toml"}, last_day);
  Book made = Book::create(make, "O", "OWN", demo_passphrase, "2026-03-02T07:00:00Z");
  auto owner = made.unlock("O", demo_passphrase);
  DemoShop s{std::move(made),
             std::move(read),
             std::move(procedures),
             std::move(certificates),
             std::move(owner),
             nullptr,
             nullptr,
             nullptr,
             {},
             0,
             {},
             {},
             wording};
  admit_people(s);
  record_stock(s);
  freeze(s, program);
  record_certificates(s);
  s.book.append("E-1", *s.engineer, kind::note, {{field::text, s.invented()}}, s.noon_of("2026-11-12"));

  answer_auditor(s);
  build_frames(s);
  s.book.append("E-1", *s.engineer, kind::corrective_action,
                {{field::finding, "AF-1"}, {field::what, s.worded("plan made, first service in December (invented)")}, {field::on, "2026-11-25"}}, s.noon_of("2026-11-25"));
  return {{"OT-0001", "demo.shipped"},
          {"OT-0002", "demo.repaired"},
          {"OT-0003", "demo.lapsed"},
          {"OT-0004", "demo.unfinished"}};
}

}  // namespace seamwright::book
