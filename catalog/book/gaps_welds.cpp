// SPDX-License-Identifier: GPL-3.0-or-later
// The gaps of a frame's welds.
#include <algorithm>
#include <cmath>
#include <set>

#include "catalog/book/gaps_inside.h"
#include "catalog/book/records/names.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/qualification/calendar.h"
#include "engine/rating/job.h"

namespace seamwright::book {

using qualification::Answer;

void FrameReview::add(const std::string& weld, MessageId id, std::vector<Argument> with,
                      const std::string& detail, std::int64_t since) {
  std::string key = id.text();
  if (!weld.empty()) key.append(":").append(weld);
  if (!detail.empty()) key.append(":").append(detail);
  const auto there = std::find_if(found.begin(), found.end(), [&](const Gap& g) { return g.key == key; });
  if (there != found.end()) {
    there->since = std::max(there->since, since);
    return;
  }
  // Kept from every exception: what hides other gaps, a crack, and scrap.
  static const std::set<std::string> never{"gap.no-frame",  "gap.design-not-frozen", "gap.design-unreadable",
                                           "gap.malformed", "gap.crack-reported",    "gap.scrapped"};
  found.push_back({weld, {id, std::move(with)}, key, !never.contains(id.text()), since, "", ""});
}

bool day_of(const Record& r, const char* key, qualification::Date& day) {
  const auto read = qualification::read_date(r.word(key));
  if (read) day = *read;
  return read.has_value();
}

const files::ProcedureFile* procedure_at(FrameReview& l, const std::string& id, const std::string& revision) {
  const std::string key = id + " " + revision;
  auto known = l.procedures.find(key);
  if (known != l.procedures.end()) return known->second ? &*known->second : nullptr;
  std::optional<files::ProcedureFile> file;
  for (const Record& r : l.current({mark::procedure, id}, kind::procedure)) {
    const auto at = std::find(l.beside.begin(), l.beside.end(), file_of(r));
    if (r.word(field::revision) != revision || at == l.beside.end()) continue;
    const std::string frozen = *at + qualification::text_of(l.today);
    auto read = l.frozen.procedures.find(frozen);
    if (read == l.frozen.procedures.end()) {
      read = l.frozen.procedures.emplace(frozen, std::nullopt).first;
      const std::string name = procedure_name(static_cast<std::size_t>(at - l.beside.begin()));
      try {
        read->second = files::read_procedure({*l.files, name}, l.today);
      } catch (const Fault&) {  // told as not frozen: what is there cannot be read
      }
    }
    if (read->second) file = read->second;
  }
  known = l.procedures.emplace(key, std::move(file)).first;
  return known->second ? &*known->second : nullptr;
}

const design::Design& design_at(FrameReview& l, const Record& design) {
  std::string key = file_of(design);
  for (const std::string& sha : l.beside) key.append(" ").append(sha);
  const auto [known, fresh] = l.frozen.designs.try_emplace(key);
  Frozen::Read& read = known->second;
  if (fresh) {
    try {
      read.design = files::read_recorded_design({*l.files, "design.toml"}, published::catalog());
    } catch (const Fault& fault) {
      read.fault = fault.message;
    }
  }
  if (!read.design) throw Fault{read.fault};
  return *read.design;
}

namespace {

const std::vector<qualification::Certificate>& certificates_of(FrameReview& l, const std::string& welder) {
  auto known = l.certificates.find(welder);
  if (known != l.certificates.end()) return known->second;
  std::vector<qualification::Certificate> all;
  for (const Record& r : l.current({mark::welder, welder}, kind::certificate)) {
    qualification::Certificate c;
    c.id = r.word(field::id);
    c.welder = welder;
    c.employer = r.word(field::employer);
    try {
      c.designation = qualification::read_designation(r.word(field::designation));
    } catch (const Fault&) {
      continue;  // covers nothing that can be told
    }
    c.supplementary_fillet.welded = r.content.value(field::supplementary_fillet, false);
    c.supplementary_fillet.wall_mm =
        r.content.value(field::supplementary_fillet_mm, c.supplementary_fillet.wall_mm);
    if (!day_of(r, field::tested, c.tested)) continue;
    if (!r.word(field::route).empty()) c.route = r.word(field::route)[0];
    for (const Record& s : l.current({mark::certificate, c.id}, kind::confirmation)) {
      qualification::Date day{};
      c.revoked = c.revoked || s.malformed;  // it may have withdrawn it
      if (!day_of(s, field::on, day)) continue;
      (s.content.value(field::prolongs, false) ? c.prolonged : c.confirmed).push_back(day);
      c.revoked = c.revoked || s.content.value(field::withdraws, false);
    }
    std::sort(c.confirmed.begin(), c.confirmed.end());
    std::sort(c.prolonged.begin(), c.prolonged.end());
    all.push_back(std::move(c));
  }
  return l.certificates.emplace(welder, std::move(all)).first->second;
}

// The day on which a weld was first signed for, whatever was corrected since.
qualification::Date signed_on(const FrameReview& l, const Record& weld) {
  const Record* w = &weld;
  while (w->replaces > 0) {
    const Record* before = l.record(w->replaces);
    if (!before || before->entry.seq >= w->entry.seq) break;
    w = before;
  }
  return qualification::read_date(w->entry.time.substr(0, 10)).value_or(qualification::Date{});
}

// Qualified on the day it was welded; and on the day it was signed for, or the day said would be worth more
// than the certificate.
void check_welder(FrameReview& l, const Record& w, const std::string& weld, const files::ProcedureFile& p,
                  const qualification::JointSizes& sizes, qualification::Date day) {
  const std::string welder = w.word(field::welder);
  if (welder.empty()) return l.add(weld, "gap.no-welder");
  const qualification::Date entered = signed_on(l, w);
  bool then = false, when_signed = !entered.ok();
  qualification::Check best;  // of those that do not cover
  for (const qualification::Certificate& c : certificates_of(l, welder)) {
    const auto covers = [&](qualification::Date on) {
      return qualification::welder_covers(c, p.sheet, sizes, on, on, c.employer);
    };
    qualification::Check check = covers(day);
    if (verdict(check) == Answer::yes) {
      then = true;
      when_signed = when_signed || entered == day || verdict(covers(entered)) == Answer::yes;
    } else if (best.empty() || (verdict(check) == Answer::cannot_decide && verdict(best) == Answer::no)) {
      best = std::move(check);
    }
  }
  if (then && when_signed) return;
  if (then)
    return l.add(weld, "gap.signed-unqualified",
                 {text("welder", welder), text("day", w.word(field::on)),
                  text("signed", qualification::text_of(entered))},
                 welder);
  const qualification::Item* reason = first_reason(best);
  if (!reason) return l.add(weld, "gap.no-certificate", {text("welder", welder)});
  l.add(weld, "gap.not-qualified",
        {text("welder", welder), text("day", w.word(field::on)), text("item", reason->item),
         text("found", reason->found), text("covered", reason->covered)},
        welder);
}

void check_value(FrameReview& l, const Record& w, const std::string& weld, const char* key, double least,
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

void check_parameters(FrameReview& l, const Record& w, const std::string& weld,
                      const qualification::Sheet& sheet) {
  const double number_of_run = w.content.contains(field::run) ? w.content[field::run].get<double>() : 1;
  const auto run = std::find_if(sheet.runs.begin(), sheet.runs.end(),
                                [&](const qualification::Run& r) { return r.number == number_of_run; });
  if (run == sheet.runs.end())
    l.add(weld, "gap.unknown-run", {number("run", number_of_run, "")}, number_text(number_of_run));
  else
    for (const auto& [key, span] :
         {std::pair{field::amperes, run->amperes}, std::pair{field::volts, run->volts},
          std::pair{field::speed_mm_s, run->speed_mm_s}, std::pair{field::power_w, run->power_w}})
      if (span.stated()) check_value(l, w, weld, key, span.least, span.most);
  constexpr double room_c = 20;  // no preheat is asked for up to here
  if (sheet.preheat_c > room_c || w.content.contains(field::preheat_c))
    check_value(l, w, weld, field::preheat_c, sheet.preheat_c, 1e4);
  if (sheet.interpass_c > 0 && w.content.contains(field::interpass_c))
    check_value(l, w, weld, field::interpass_c, -100, sheet.interpass_c);
  const std::string position = w.word(field::position);
  if (!position.empty() &&
      std::find(sheet.positions.begin(), sheet.positions.end(), position) == sheet.positions.end())
    l.add(weld, "gap.position", {text("position", position.substr(0, 80))});
}

// A batch of filler or gas: known, and of the designation that the procedure asks for.
void check_batch(FrameReview& l, const Record& w, const std::string& weld, const char* kind,
                 const std::string& asked) {
  const std::string id = w.word(kind);
  if (id.empty()) {
    if (!asked.empty()) l.add(weld, "gap.no-batch", {word("kind", composed_id("book.kind-", kind))}, kind);
    return;
  }
  const auto& batch = l.current({kind, id}, kind);
  if (batch.empty()) return l.add(weld, "gap.unknown-batch", {text("id", id)}, id);
  if (!asked.empty() && batch.back().word(field::designation) != asked)
    l.add(weld, "gap.other-batch",
          {text("id", id), text("found", batch.back().word(field::designation)), text("asked", asked)}, id);
}

// The frozen design asks this of the tube of one part of a weld; 0 = its shape has no such measure.
struct Part {
  std::string tube, steel;
  double outside_mm = 0, wall_mm = 0;
};

std::vector<Part> parts_of(const design::Design& design, const joints::Weld& weld) {
  std::vector<Part> parts;
  for (const std::string& member : {weld.member, weld.chord}) {
    if (member.empty()) continue;
    const frame::Tube& tube = design::tube_of(design.frame, design::member_of(design.frame, member));
    Part p{tube.id, tube.material};
    if (const auto* round = std::get_if<frame::RoundTube>(&tube.section)) {
      p.outside_mm = round->diameter_mm;
      p.wall_mm = round->wall_mm;
    } else if (const auto* rectangle = std::get_if<frame::RectangularTube>(&tube.section)) {
      p.wall_mm = rectangle->wall_mm;
    } else if (const auto* oval = std::get_if<frame::FlatOvalTube>(&tube.section)) {
      p.wall_mm = oval->wall_mm;
    } else if (const auto* bar = std::get_if<frame::SolidBar>(&tube.section)) {
      p.outside_mm = bar->diameter_mm;
    }
    parts.push_back(std::move(p));
  }
  return parts;
}

// "25CrMo4+N 25 x 1.5", what is not stated left out.
std::string stock_of(const std::string& steel, double outside_mm, double wall_mm) {
  std::string out = steel;
  if (outside_mm > 0) out.append(" ").append(number_text(outside_mm));
  if (wall_mm > 0) out.append(" x ").append(number_text(wall_mm));
  return out;
}

double measure_of(const Record& lot, const char* key) {
  const auto found = lot.content.find(key);
  return found != lot.content.end() && found->is_number() ? found->get<double>() : 0;
}

// Nominal sizes as ordered, so equal or another tube.
bool is_stock_of(const Record& lot, const Part& part) {
  const auto same = [](double asked_mm, double found_mm) {
    return asked_mm <= 0 || std::abs(asked_mm - found_mm) < 1e-6;
  };
  return lot.word(field::steel) == part.steel && same(part.outside_mm, measure_of(lot, field::outside_mm)) &&
         same(part.wall_mm, measure_of(lot, field::wall_mm));
}

void check_lot(FrameReview& l, const Record& lot, const std::string& weld, const std::vector<Part>& parts) {
  const std::string id = lot.word(field::id), type = lot.word(field::certificate_type);
  const std::int64_t since = lot.entry.seq;
  if (!lot.content.contains(field::file) || type.empty())
    l.add("", "gap.lot-without-certificate", {text("lot", id)}, id, since);
  else if (type.starts_with("2"))  // EN 10204: 3.1 and 3.2 alone tell of tests of the lot itself
    l.add("", "gap.lot-certificate-type", {text("lot", id), text("found", type)}, id, since);
  if (std::any_of(parts.begin(), parts.end(), [&](const Part& p) { return is_stock_of(lot, p); })) return;
  std::string asked;
  for (const Part& p : parts)
    asked.append(asked.empty() ? "" : ", ").append(stock_of(p.steel, p.outside_mm, p.wall_mm));
  const std::string found =
      stock_of(lot.word(field::steel), measure_of(lot, field::outside_mm), measure_of(lot, field::wall_mm));
  l.add(weld, "gap.lot-other",
        {text("lot", id), text("found", found.empty() ? "–" : found), text("asked", asked)}, id, since);
}

// Every lot is one of the weld's tubes as drawn, and every tube has its lot.
void check_lots(FrameReview& l, const Record& w, const joints::Weld& weld, const design::Design& design) {
  if (!w.content.contains(field::lots) || w.content[field::lots].empty()) return l.add(weld.id, "gap.no-lot");
  const std::vector<Part> parts = parts_of(design, weld);
  std::vector<Record> all;
  for (const Json& id : w.content[field::lots]) {
    const std::string lot = id.get<std::string>();
    const auto& known = l.current({mark::lot, lot}, kind::lot);
    if (known.empty()) l.add(weld.id, "gap.unknown-lot", {text("lot", lot)}, lot);
    for (const Record& r : known) check_lot(l, r, weld.id, parts);  // one of that name may be the other steel
    all.insert(all.end(), known.begin(), known.end());
  }
  for (const Part& p : parts)
    if (p.wall_mm > 0 &&
        std::none_of(all.begin(), all.end(), [&](const Record& r) { return is_stock_of(r, p); }))
      l.add(weld.id, "gap.tube-without-lot",
            {text("tube", p.tube), text("asked", stock_of(p.steel, p.outside_mm, p.wall_mm))}, p.tube);
}

// Calibrated on the day it was used.
void check_calibration(FrameReview& l, const std::string& weld, const std::string& id, const char* kind,
                       qualification::Date day) {
  if (l.current({kind, id}, kind).empty()) return l.add(weld, "gap.unknown-device", {text("id", id)}, id);
  for (const Record& c : l.current({mark::calibrated, id}, kind::calibration)) {
    qualification::Date from{}, until{};
    if (day_of(c, field::on, from) && day_of(c, field::until, until) && from <= day && day <= until) return;
  }
  l.add(weld, "gap.not-calibrated", {text("id", id), text("day", qualification::text_of(day))},
        id + " " + qualification::text_of(day));
}

// Qualified as `procedure check` decides: by a record that covers it, hardness, and what can be.
void check_procedure(FrameReview& l, const files::ProcedureFile& p) {
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

void check_record(FrameReview& l, const Record& w, const joints::Weld& weld, const design::Design& design) {
  qualification::Date day{};
  if (!day_of(w, field::on, day)) l.add(weld.id, "gap.no-day");
  if (day.ok() && day > l.today) l.add(weld.id, "gap.day-ahead", {text("day", w.word(field::on))});
  if (w.word(field::procedure).empty()) {
    l.add(weld.id, "gap.no-procedure");
  } else {
    if (!weld.procedure.empty() && w.word(field::procedure) != weld.procedure)
      l.add(weld.id, "gap.other-procedure",
            {text("found", w.word(field::procedure)), text("asked", weld.procedure)});
    const files::ProcedureFile* p = procedure_at(l, w.word(field::procedure), w.word(field::revision));
    if (!p) {
      l.add(weld.id, "gap.procedure-not-frozen",
            {text("procedure", w.word(field::procedure)), text("revision", w.word(field::revision))});
    } else {
      const qualification::JointSizes sizes = files::sizes_of(design, weld);
      const qualification::Check fits = qualification::sheet_covers(p->sheet, sizes);
      if (const auto* reason = first_reason(fits); reason && verdict(fits) != Answer::yes)
        l.add(weld.id, "gap.procedure-does-not-fit",
              {text("item", reason->item), text("found", reason->found), text("covered", reason->covered)});
      check_parameters(l, w, weld.id, p->sheet);
      check_batch(l, w, weld.id, kind::filler, p->sheet.filler);
      check_batch(l, w, weld.id, kind::gas, p->sheet.gas);
      check_procedure(l, *p);
      if (day.ok()) check_welder(l, w, weld.id, *p, sizes, day);
    }
  }
  if (!weld.root_proof.empty() &&
      l.current({mark::qualification, weld.root_proof}, kind::qualification).empty())
    l.add(weld.id, "gap.root-proof", {text("proof", weld.root_proof)});
  check_lots(l, w, weld, design);
  if (w.word(field::machine).empty())
    l.add(weld.id, "gap.no-machine");
  else if (day.ok())
    check_calibration(l, weld.id, w.word(field::machine), kind::machine, day);
}

// A weld must be seen, after it was welded for the last time, by every method that the procedure asks for,
// and accepted.
void check_inspection(FrameReview& l, const std::string& weld, const std::vector<Record>& inspections,
                      std::int64_t welded, const qualification::Sheet* sheet) {
  std::vector<std::string> methods{"VT"};
  if (sheet) methods.insert(methods.end(), sheet->testing.begin(), sheet->testing.end());
  for (const std::string& method : methods) {
    const Record* last = nullptr;
    for (const Record& r : inspections)
      if (r.word(field::weld) == weld && r.word(field::method) == method && r.entry.seq > welded) last = &r;
    if (!last) {
      l.add(weld, "gap.not-inspected", {text("method", method)}, method);
      continue;
    }
    if (last->word(field::result) != "accept") l.add(weld, "gap.rejected", {text("method", method)}, method);
    qualification::Date day{};
    if (!last->word(field::tool).empty() && day_of(*last, field::on, day))
      check_calibration(l, weld, last->word(field::tool), kind::tool, day);
  }
}

void check_nonconformities(FrameReview& l, const std::vector<Record>& repairs) {
  for (const Record& n : l.of_frame(kind::nonconformity)) {
    const std::string id = n.word(field::id);
    const auto& decided = l.current({mark::nonconformity, id}, kind::disposition);
    if (decided.empty()) {
      l.add(n.word(field::weld), "gap.open-nonconformity", {text("id", id)}, id);
      continue;
    }
    const std::string decision = decided.back().word(field::decision);
    if (decision.empty()) l.add(n.word(field::weld), "gap.open-nonconformity", {text("id", id)}, id);
    if (decision == "scrap") l.add(n.word(field::weld), "gap.scrapped", {text("id", id)}, id);
    if (decision == "repair" && std::none_of(repairs.begin(), repairs.end(), [&](const Record& r) {
          return r.word(field::nonconformity) == id;
        }))
      l.add(n.word(field::weld), "gap.not-repaired", {text("id", id)}, id);
  }
}

}  // namespace

void check_welds(FrameReview& l, const design::Design& design) {
  gather_proofs(l, design);
  std::vector<Record> welds = l.of_frame(kind::weld);
  const std::vector<Record>&repairs = l.of_frame(kind::repair), &inspections = l.of_frame(kind::inspection);
  welds.insert(welds.end(), repairs.begin(), repairs.end());
  std::set<std::string> drawn;
  for (const joints::Weld& weld : design.welds) {
    drawn.insert(weld.id);
    std::int64_t last = 0;
    const qualification::Sheet* sheet = nullptr;
    for (const Record& w : welds) {
      if (w.word(field::weld) != weld.id) continue;
      check_record(l, w, weld, design);
      last = std::max(last, w.entry.seq);
      if (const auto* p = procedure_at(l, w.word(field::procedure), w.word(field::revision)))
        sheet = &p->sheet;
    }
    if (last == 0)
      l.add(weld.id, "gap.weld-missing");
    else
      check_inspection(l, weld.id, inspections, last, sheet);
  }
  for (const Record& w : welds)
    if (!drawn.contains(w.word(field::weld))) l.add(w.word(field::weld), "gap.weld-not-drawn");
  check_nonconformities(l, repairs);
}

void check_cracks(FrameReview& l) {
  const std::vector<Record>& repairs = l.of_frame(kind::repair);
  for (const Record& r : l.of_frame(kind::field_report)) {
    if (!r.content.value(field::cracked, false)) continue;
    const std::string weld = r.word(field::weld);
    const bool repaired =
        !weld.empty() && std::any_of(repairs.begin(), repairs.end(), [&](const Record& again) {
          return again.word(field::weld) == weld && again.entry.seq > r.entry.seq;
        });
    if (!repaired)
      l.add(weld, "gap.crack-reported", {text("day", r.word(field::on))}, std::to_string(r.entry.seq),
            r.entry.seq);
  }
}

}  // namespace seamwright::book
