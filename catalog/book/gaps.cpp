// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/gaps.h"

#include <algorithm>
#include <map>
#include <set>

#include "catalog/book/job_folder.h"
#include "catalog/book/records.h"
#include "catalog/files/job.h"
#include "catalog/files/procedure.h"
#include "catalog/published/nearest.h"
#include "catalog/published/published.h"
#include "engine/qualification/calendar.h"

namespace seamwright::book {

namespace {

using qualification::Answer;

struct Looking {
  const Book& book;
  std::string serial;
  qualification::Date today;
  std::vector<Gap> found{};
  std::map<std::string, std::optional<files::ProcedureFile>> procedures{};        // by "id revision"
  std::map<std::string, std::vector<qualification::Certificate>> certificates{};  // by welder
  JobFolder folder{};

  void add(const std::string& weld, const char* id, std::vector<Argument> with = {},
           const std::string& detail = {}) {
    std::string key = id;
    if (!weld.empty()) key.append(":").append(weld);
    if (!detail.empty()) key.append(":").append(detail);
    if (std::any_of(found.begin(), found.end(), [&](const Gap& g) { return g.key == key; })) return;
    // Kept from every exception: what hides other gaps, and scrap.
    const std::string what = id;
    const bool exceptable = what != "gap.no-frame" && what != "gap.design-not-frozen" &&
                            what != "gap.design-unreadable" && what != "gap.scrapped";
    found.push_back({weld, {id, std::move(with)}, key, exceptable, 0, "", ""});
  }
  std::vector<Record> of_frame(const char* kind) const { return book.current({"frame", serial}, kind); }
};

std::string bytes_of(const Book& book, const Record& r) {
  if (!r.content.contains("file")) return {};
  return book.attachment(r.content["file"]["sha256"].get<std::string>()).value_or("");
}

bool day_of(const Record& r, const char* key, qualification::Date& day) {
  const auto read = qualification::read_date(r.word(key));
  if (read) day = *read;
  return read.has_value();
}

// The frozen procedure; nothing where it is not in the book or cannot be read.
const files::ProcedureFile* procedure_at(Looking& l, const std::string& id, const std::string& revision) {
  const std::string key = id + " " + revision;
  auto known = l.procedures.find(key);
  if (known != l.procedures.end()) return known->second ? &*known->second : nullptr;
  std::optional<files::ProcedureFile> file;
  for (const Record& r : l.book.current({"procedure", id}, "procedure"))
    if (r.word("revision") == revision) {
      const std::string name = "procedures/" + std::to_string(l.procedures.size()) + ".toml";
      try {
        file = files::read_procedure(l.folder.put(name, bytes_of(l.book, r)), l.today);
      } catch (const Fault&) {  // told as not frozen: what is there cannot be read
      }
    }
  known = l.procedures.emplace(key, std::move(file)).first;
  return known->second ? &*known->second : nullptr;
}

const std::vector<qualification::Certificate>& certificates_of(Looking& l, const std::string& welder) {
  auto known = l.certificates.find(welder);
  if (known != l.certificates.end()) return known->second;
  std::vector<qualification::Certificate> all;
  for (const Record& r : l.book.current({"welder", welder}, "certificate")) {
    qualification::Certificate c;
    c.id = r.word("id");
    c.welder = welder;
    c.employer = r.word("employer");
    try {
      c.designation = qualification::read_designation(r.word("designation"));
    } catch (const Fault&) {
      continue;  // covers nothing that can be told
    }
    c.supplementary_fillet.welded = r.content.value("supplementary_fillet", false);
    c.supplementary_fillet.wall_mm =
        r.content.value("supplementary_fillet_mm", c.supplementary_fillet.wall_mm);
    if (!day_of(r, "tested", c.tested)) continue;
    if (!r.word("route").empty()) c.route = r.word("route")[0];
    for (const Record& s : l.book.current({"certificate", c.id}, "confirmation")) {
      qualification::Date day{};
      if (!day_of(s, "on", day)) continue;
      (s.content.value("prolongs", false) ? c.prolonged : c.confirmed).push_back(day);
      c.revoked = c.revoked || s.content.value("withdraws", false);
    }
    std::sort(c.confirmed.begin(), c.confirmed.end());
    std::sort(c.prolonged.begin(), c.prolonged.end());
    all.push_back(std::move(c));
  }
  return l.certificates.emplace(welder, std::move(all)).first->second;
}

void check_welder(Looking& l, const Record& w, const std::string& weld, const files::ProcedureFile& p,
                  const qualification::JointSizes& sizes, qualification::Date day) {
  const std::string welder = w.word("welder");
  if (welder.empty()) return l.add(weld, "gap.no-welder");
  qualification::Check best;  // of those that do not cover
  for (const qualification::Certificate& c : certificates_of(l, welder)) {
    qualification::Check check = qualification::welder_covers(c, p.sheet, sizes, day, day, c.employer);
    if (verdict(check) == Answer::yes) return;
    if (best.empty() || (verdict(check) == Answer::cannot_decide && verdict(best) == Answer::no))
      best = std::move(check);
  }
  const qualification::Item* reason = first_reason(best);
  if (!reason) return l.add(weld, "gap.no-certificate", {text("welder", welder)});
  l.add(weld, "gap.not-qualified",
        {text("welder", welder), text("day", w.word("on")), text("item", reason->item),
         text("found", reason->found), text("covered", reason->covered)},
        welder);
}

void check_value(Looking& l, const Record& w, const std::string& weld, const char* key, double least,
                 double most) {
  const auto found = w.content.find(key);
  if (found == w.content.end() || !found->is_number())
    return l.add(weld, "gap.parameter-missing", {text("key", key)}, key);
  const double value = found->get<double>();
  if (value < least || value > most)
    l.add(
        weld, "gap.parameter-outside",
        {text("key", key), number("value", value, ""), number("least", least, ""), number("most", most, "")},
        key);
}

void check_parameters(Looking& l, const Record& w, const std::string& weld,
                      const qualification::Sheet& sheet) {
  const double number_of_run = w.content.contains("run") ? w.content["run"].get<double>() : 1;
  const auto run = std::find_if(sheet.runs.begin(), sheet.runs.end(),
                                [&](const qualification::Run& r) { return r.number == number_of_run; });
  if (run == sheet.runs.end())
    l.add(weld, "gap.unknown-run", {number("run", number_of_run, "")}, number_text(number_of_run));
  else
    for (const auto& [key, span] :
         {std::pair{"amperes", run->amperes}, std::pair{"volts", run->volts},
          std::pair{"speed_mm_s", run->speed_mm_s}, std::pair{"power_w", run->power_w}})
      if (span.stated()) check_value(l, w, weld, key, span.least, span.most);
  constexpr double room_c = 20;  // no preheat is asked for up to here
  if (sheet.preheat_c > room_c || w.content.contains("preheat_c"))
    check_value(l, w, weld, "preheat_c", sheet.preheat_c, 1e4);
  if (sheet.interpass_c > 0 && w.content.contains("interpass_c"))
    check_value(l, w, weld, "interpass_c", -100, sheet.interpass_c);
  const std::string position = w.word("position");
  if (!position.empty() &&
      std::find(sheet.positions.begin(), sheet.positions.end(), position) == sheet.positions.end())
    l.add(weld, "gap.position", {text("position", position.substr(0, 80))});
}

// A batch of filler or gas: known, and of the designation that the procedure asks for.
void check_batch(Looking& l, const Record& w, const std::string& weld, const char* kind,
                 const std::string& asked) {
  const std::string id = w.word(kind);
  if (id.empty()) {
    if (!asked.empty())
      l.add(weld, "gap.no-batch", {word("kind", std::string("book.kind-").append(kind))}, kind);
    return;
  }
  const auto batch = l.book.current({kind, id}, kind);
  if (batch.empty()) return l.add(weld, "gap.unknown-batch", {text("id", id)}, id);
  if (!asked.empty() && batch.back().word("designation") != asked)
    l.add(weld, "gap.other-batch",
          {text("id", id), text("found", batch.back().word("designation")), text("asked", asked)}, id);
}

void check_lots(Looking& l, const Record& w, const std::string& weld) {
  if (!w.content.contains("lots") || w.content["lots"].empty()) return l.add(weld, "gap.no-lot");
  for (const Json& id : w.content["lots"]) {
    const std::string lot = id.get<std::string>();
    const auto known = l.book.current({"lot", lot}, "lot");
    if (known.empty())
      l.add(weld, "gap.unknown-lot", {text("lot", lot)}, lot);
    else if (!known.back().content.contains("file") || known.back().word("certificate_type").empty())
      l.add("", "gap.lot-without-certificate", {text("lot", lot)}, lot);
  }
}

// Calibrated on the day it was used.
void check_calibration(Looking& l, const std::string& weld, const std::string& id, const char* kind,
                       qualification::Date day) {
  if (l.book.current({kind, id}, kind).empty())
    return l.add(weld, "gap.unknown-device", {text("id", id)}, id);
  for (const Record& c : l.book.current({"calibrated", id}, "calibration")) {
    qualification::Date from{}, until{};
    if (day_of(c, "on", from) && day_of(c, "until", until) && from <= day && day <= until) return;
  }
  l.add(weld, "gap.not-calibrated", {text("id", id), text("day", qualification::text_of(day))},
        id + " " + qualification::text_of(day));
}

// Qualified as `procedure check` decides: by a record that covers it, hardness, and what can be.
void check_procedure(Looking& l, const files::ProcedureFile& p) {
  if (!p.record) return l.add("", "gap.procedure-not-qualified", {text("procedure", p.sheet.id)}, p.sheet.id);
  const files::ProcedureNumbers n = files::numbers_of(p);
  const qualification::Check covered = files::qualified(p, n);
  if (verdict(covered) == Answer::yes) return;
  const qualification::Item* reason = first_reason(covered);
  l.add("", "gap.procedure-beyond-record",
        {text("procedure", p.sheet.id), text("item", reason->item), text("found", reason->found),
         text("covered", reason->covered)},
        p.sheet.id);
}

void check_record(Looking& l, const Record& w, const joints::Weld& weld, const rating::Design& design) {
  qualification::Date day{};
  if (!day_of(w, "on", day)) l.add(weld.id, "gap.no-day");
  if (day.ok() && day > l.today) l.add(weld.id, "gap.day-ahead", {text("day", w.word("on"))});
  if (w.word("procedure").empty()) {
    l.add(weld.id, "gap.no-procedure");
  } else {
    if (!weld.procedure.empty() && w.word("procedure") != weld.procedure)
      l.add(weld.id, "gap.other-procedure",
            {text("found", w.word("procedure")), text("asked", weld.procedure)});
    const files::ProcedureFile* p = procedure_at(l, w.word("procedure"), w.word("revision"));
    if (!p) {
      l.add(weld.id, "gap.procedure-not-frozen",
            {text("procedure", w.word("procedure")), text("revision", w.word("revision"))});
    } else {
      const qualification::JointSizes sizes = files::sizes_of(design, weld);
      const qualification::Check fits = qualification::sheet_covers(p->sheet, sizes);
      if (const auto* reason = first_reason(fits); reason && verdict(fits) != Answer::yes)
        l.add(weld.id, "gap.procedure-does-not-fit",
              {text("item", reason->item), text("found", reason->found), text("covered", reason->covered)});
      check_parameters(l, w, weld.id, p->sheet);
      check_batch(l, w, weld.id, "filler", p->sheet.filler);
      check_batch(l, w, weld.id, "gas", p->sheet.gas);
      check_procedure(l, *p);
      if (day.ok()) check_welder(l, w, weld.id, *p, sizes, day);
    }
  }
  if (!weld.root_proof.empty() && l.book.current({"qualification", weld.root_proof}, "qualification").empty())
    l.add(weld.id, "gap.root-proof", {text("proof", weld.root_proof)});
  check_lots(l, w, weld.id);
  if (w.word("machine").empty())
    l.add(weld.id, "gap.no-machine");
  else if (day.ok())
    check_calibration(l, weld.id, w.word("machine"), "machine", day);
}

// After it was welded for the last time: seen by every method that the procedure asks for, and accepted.
void check_inspection(Looking& l, const std::string& weld, const std::vector<Record>& inspections,
                      std::int64_t welded, const qualification::Sheet* sheet) {
  std::vector<std::string> methods{"VT"};
  if (sheet) methods.insert(methods.end(), sheet->testing.begin(), sheet->testing.end());
  for (const std::string& method : methods) {
    const Record* last = nullptr;
    for (const Record& r : inspections)
      if (r.word("weld") == weld && r.word("method") == method && r.entry.seq > welded) last = &r;
    if (!last) {
      l.add(weld, "gap.not-inspected", {text("method", method)}, method);
      continue;
    }
    if (last->word("result") != "accept") l.add(weld, "gap.rejected", {text("method", method)}, method);
    qualification::Date day{};
    if (!last->word("tool").empty() && day_of(*last, "on", day))
      check_calibration(l, weld, last->word("tool"), "tool", day);
  }
}

void check_nonconformities(Looking& l, const std::vector<Record>& repairs) {
  for (const Record& n : l.of_frame("nonconformity")) {
    const std::string id = n.word("id");
    const auto decided = l.book.current({"nonconformity", id}, "disposition");
    if (decided.empty()) {
      l.add(n.word("weld"), "gap.open-nonconformity", {text("id", id)}, id);
      continue;
    }
    const std::string decision = decided.back().word("decision");
    if (decision == "scrap") l.add(n.word("weld"), "gap.scrapped", {text("id", id)}, id);
    if (decision == "repair" && std::none_of(repairs.begin(), repairs.end(),
                                             [&](const Record& r) { return r.word("nonconformity") == id; }))
      l.add(n.word("weld"), "gap.not-repaired", {text("id", id)}, id);
  }
}

void check_welds(Looking& l, const rating::Design& design) {
  std::vector<Record> welds = l.of_frame("weld");
  const std::vector<Record> repairs = l.of_frame("repair"), inspections = l.of_frame("inspection");
  welds.insert(welds.end(), repairs.begin(), repairs.end());
  std::set<std::string> drawn;
  for (const joints::Weld& weld : design.welds) {
    drawn.insert(weld.id);
    std::int64_t last = 0;
    const qualification::Sheet* sheet = nullptr;
    for (const Record& w : welds) {
      if (w.word("weld") != weld.id) continue;
      check_record(l, w, weld, design);
      last = std::max(last, w.entry.seq);
      if (const auto* p = procedure_at(l, w.word("procedure"), w.word("revision"))) sheet = &p->sheet;
    }
    if (last == 0)
      l.add(weld.id, "gap.weld-missing");
    else
      check_inspection(l, weld.id, inspections, last, sheet);
  }
  for (const Record& w : welds)
    if (!drawn.contains(w.word("weld"))) l.add(w.word("weld"), "gap.weld-not-drawn");
  check_nonconformities(l, repairs);
}

void check_design(Looking& l, const Record& frame) {
  const auto design = design_of(l.book, frame);
  if (!design) {
    l.add("", "gap.design-not-frozen",
          {text("design", frame.word("design")), text("revision", frame.word("revision"))});
    return;
  }
  const auto rated = rating_of(l.book, frame);
  if (!rated)
    l.add("", "gap.not-rated");
  else if (rated->word("verdict") != "meets")
    l.add("", "gap.rating", {word("verdict", "state." + rated->word("verdict"))});
  // A root's proof stands in the procedures' files: all of the frame's own beside the design.
  for (const Mark& m : l.book.carried(l.serial))
    if (m.name == "procedure")
      for (const Record& p : l.book.current(m, "procedure")) procedure_at(l, m.value, p.word("revision"));
  try {
    check_welds(
        l, files::read_design(l.folder.put("design.toml", bytes_of(l.book, *design)), published::catalog()));
  } catch (const Fault& f) {
    l.add("", "gap.design-unreadable", {text("why", f.message.id)});
  }
}

// What was answered for is the state of that day: a later entry on the weld, or another rating, asks again.
void date_gaps(Looking& l, const Record& frame) {
  std::map<std::string, std::int64_t> last;
  for (const char* kind : {"weld", "repair", "inspection", "nonconformity"})
    for (const Record& r : l.of_frame(kind)) {
      std::int64_t& seq = last[r.word("weld")];
      seq = std::max(seq, r.entry.seq);
    }
  std::int64_t whole = frame.entry.seq;
  if (const auto design = design_of(l.book, frame)) whole = std::max(whole, design->entry.seq);
  if (const auto rated = rating_of(l.book, frame)) whole = std::max(whole, rated->entry.seq);
  for (Gap& g : l.found) g.since = std::max(whole, g.weld.empty() ? 0 : last[g.weld]);
}

}  // namespace

std::vector<Gap> gaps(const Book& book, const std::string& serial, const std::string& today) {
  const auto day = qualification::read_date(today);
  Looking l{book, serial, day.value_or(qualification::Date{})};
  const auto frames = l.of_frame("frame");
  if (frames.empty()) {
    (void)trace(book, serial);  // throws with the nearest where nothing names it
    l.add("", "gap.no-frame");
    return l.found;
  }
  check_design(l, frames.back());
  date_gaps(l, frames.back());
  for (const Record& e : l.of_frame("exception"))
    for (Gap& g : l.found)
      if (g.exceptable && g.key == e.word("gap") && e.entry.seq > g.since) {
        g.excepted_by = e.entry.author;
        g.reason = e.word("reason");
      }
  std::stable_partition(l.found.begin(), l.found.end(), [](const Gap& g) { return g.weld.empty(); });
  return l.found;
}

std::vector<Gap> open_gaps(const std::vector<Gap>& all) {
  std::vector<Gap> open;
  std::copy_if(all.begin(), all.end(), std::back_inserter(open),
               [](const Gap& g) { return g.excepted_by.empty(); });
  return open;
}

Entry except(Book& book, const std::string& serial, const std::string& gap, const std::string& reason,
             const std::string& author, const Signer& key, const std::string& time) {
  const std::vector<Gap> all = gaps(book, serial, time.substr(0, 10));
  const auto found = std::find_if(all.begin(), all.end(), [&](const Gap& g) { return g.key == gap; });
  if (found == all.end()) {
    std::vector<std::string> keys;
    for (const Gap& g : all) keys.push_back(g.key);
    throw Fault{Message{
        "book.no-such-gap",
        {text("gap", gap.substr(0, 200)), text("nearest", published::nearest(gap.substr(0, 200), keys))}}};
  }
  if (!found->exceptable) throw Fault{Message{"book.not-exceptable", {text("gap", gap)}}};
  return book.append(author, key, "exception", {{"frame", serial}, {"gap", gap}, {"reason", reason}}, time);
}

Entry release(Book& book, const std::string& serial, const std::string& author, const Signer& key,
              const std::string& time) {
  const std::string today = time.substr(0, 10);
  const std::vector<Gap> all = gaps(book, serial, today), open = open_gaps(all);
  if (!open.empty())
    throw Fault{Message{"book.gaps",
                        {text("serial", serial), number("count", static_cast<double>(open.size()), "")}}};
  const auto design = design_of(book, book.current({"frame", serial}, "frame").back());
  return book.append(author, key, "release",
                     {{"frame", serial},
                      {"on", today},
                      {"design_sha256", design->content["file"]["sha256"]},
                      {"exceptions", all.size()}},
                     time);
}

}  // namespace seamwright::book
