// SPDX-License-Identifier: GPL-3.0-or-later
// The gaps of a frame's welds.
#include <algorithm>
#include <array>
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

// A signature covers these alone of a frame that is to be ridden: what is known of the weld and was judged, but lies outside a setting or
// lacks a paper. What is not known is never better than what is known to be wrong. On a test rig all but these last may be covered:
// what hides other gaps, a crack, and scrap.
bool is_exceptable(MessageId id, bool rig_only) {
  static constexpr std::array<MessageId, 11> covered{
      "gap.rejected",       "gap.position",   "gap.parameter-missing", "gap.parameter-outside",    "gap.unknown-run",    "gap.no-machine",
      "gap.unknown-device", "gap.not-calibrated", "gap.other-procedure",   "gap.lot-certificate-type", "gap.weld-not-drawn"};
  static constexpr std::array<MessageId, 6> never{"gap.no-frame",  "gap.design-not-frozen",  "gap.design-unreadable",
                                                  "gap.malformed", "gap.crack-reported",     "gap.scrapped"};
  const auto among = [&](const auto& ids) { return std::find(ids.begin(), ids.end(), id) != ids.end(); };
  return rig_only ? !among(never) : among(covered);
}

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
  found.push_back({weld, {id, std::move(with)}, key, is_exceptable(id, rig_only), since, "", ""});
}

bool day_of(const Record& r, const char* key, qualification::Date& day) {
  const auto read = qualification::read_date(r.text_of(key));
  if (read) day = *read;
  return read.has_value();
}

double measure_of(const Record& r, const char* key) {
  const auto found = r.content.find(key);
  return found != r.content.end() && found->is_number() ? found->get<double>() : 0;
}

const files::ProcedureFile* procedure_at(FrameReview& review, const std::string& id,
                                         const std::string& revision) {
  const std::string key = id + " " + revision;
  auto known = review.procedures.find(key);
  if (known != review.procedures.end()) return known->second ? &*known->second : nullptr;
  std::optional<files::ProcedureFile> file;
  for (const Record& r : review.current({mark::procedure, id}, kind::procedure)) {
    const auto at = std::find(review.beside.begin(), review.beside.end(), file_of(r));
    if (r.text_of(field::revision) != revision || at == review.beside.end()) continue;
    const std::string frozen = *at + qualification::text_of(review.today);
    auto read = review.frozen.procedures.find(frozen);
    if (read == review.frozen.procedures.end()) {
      read = review.frozen.procedures.emplace(frozen, std::nullopt).first;
      const std::string name = procedure_name(static_cast<std::size_t>(at - review.beside.begin()));
      try {
        read->second = files::read_procedure({*review.files, name}, review.today);
      } catch (const Fault&) {  // told as not frozen: what is there cannot be read
      }
    }
    if (read->second) file = read->second;
  }
  known = review.procedures.emplace(key, std::move(file)).first;
  return known->second ? &*known->second : nullptr;
}

const design::Design& design_at(FrameReview& review, const Record& design) {
  std::string key = file_of(design);
  for (const std::string& sha : review.beside) key.append(" ").append(sha);
  const auto [known, fresh] = review.frozen.designs.try_emplace(key);
  FrozenFiles::ReadDesign& read = known->second;
  if (fresh) {
    try {
      read.design = files::read_recorded_design({*review.files, "design.toml"}, published::catalog());
    } catch (const Fault& fault) {
      read.fault = fault.message;
    }
  }
  if (!read.design) throw Fault{read.fault};
  return *read.design;
}

qualification::Date signed_on(const FrameReview& review, const Record& record) {
  const Record* r = &record;
  while (r->replaces > 0) {
    const Record* before = review.record(r->replaces);
    if (!before || before->entry.seq >= r->entry.seq) break;
    r = before;
  }
  return qualification::read_date(r->entry.time.substr(0, 10)).value_or(qualification::Date{});
}

namespace {

qualification::Prolongation prolongation_of(const Record& signature, qualification::Date on) {
  qualification::Prolongation p{on, {}, !file_of(signature).empty()};
  for (const auto& [day_key, method_key] : {std::pair{field::first_on, field::first_method}, std::pair{field::second_on, field::second_method}}) {
    qualification::Date day{};
    if (day_of(signature, day_key, day)) p.tested.push_back({day, signature.text_of(method_key)});
  }
  return p;
}

const std::vector<qualification::Certificate>& certificates_of(FrameReview& review,
                                                               const std::string& welder) {
  auto known = review.certificates.find(welder);
  if (known != review.certificates.end()) return known->second;
  std::vector<qualification::Certificate> all;
  for (const Record& r : review.current({mark::welder, welder}, kind::certificate)) {
    qualification::Certificate c;
    c.id = r.text_of(field::id);
    c.welder = welder;
    c.employer = r.text_of(field::employer);
    try {
      c.designation = qualification::read_designation(r.text_of(field::designation));
    } catch (const Fault&) {
      continue;  // covers nothing that can be told
    }
    c.supplementary_fillet.welded = r.content.value(field::supplementary_fillet, false);
    c.supplementary_fillet.wall_mm =
        r.content.value(field::supplementary_fillet_mm, c.supplementary_fillet.wall_mm);
    if (!day_of(r, field::tested, c.tested)) continue;
    if (!r.text_of(field::route).empty()) c.route = r.text_of(field::route)[0];
    c.job_knowledge = r.text_of(field::job_knowledge);
    c.examiner = r.text_of(field::examiner);
    c.quality_programme = r.text_of(field::quality_programme);
    c.quality_record = r.text_of(field::quality_record);
    c.evidence_asked = !review.as_then;
    for (const Record& s : review.current({mark::certificate, c.id}, kind::confirmation)) {
      qualification::Date day{};
      c.revoked = c.revoked || s.malformed;  // it may have withdrawn it
      if (!day_of(s, field::on, day)) continue;
      if (s.content.value(field::prolongs, false))
        c.prolonged.push_back(prolongation_of(s, day));
      else
        c.confirmed.push_back(day);
      c.revoked = c.revoked || s.content.value(field::withdraws, false);
    }
    std::sort(c.confirmed.begin(), c.confirmed.end());
    all.push_back(std::move(c));
  }
  return review.certificates.emplace(welder, std::move(all)).first->second;
}

// Qualified on the day it was welded; and on the day it was signed for, or the day said would be worth more
// than the certificate.
void check_welder(FrameReview& review, const Record& w, const std::string& weld,
                  const files::ProcedureFile& p, const qualification::JointSizes& sizes,
                  qualification::Date day) {
  const std::string welder = w.text_of(field::welder);
  if (welder.empty()) return review.add(weld, "gap.no-welder");
  const qualification::Date entered = signed_on(review, w);
  bool then = false, when_signed = !entered.ok();
  qualification::Check best;  // of those that do not cover
  for (const qualification::Certificate& c : certificates_of(review, welder)) {
    const auto covers = [&](qualification::Date on) {
      return qualification::welder_covers(c, p.sheet, sizes, on, on, c.employer);
    };
    qualification::Check check = covers(day);
    if (verdict(check) == Answer::yes) {
      then = true;
      when_signed = when_signed || entered == day || verdict(covers(entered)) == Answer::yes;
      if (when_signed) review.covered_by.try_emplace(weld, c.id);
    } else if (best.empty() || (verdict(check) == Answer::cannot_decide && verdict(best) == Answer::no)) {
      best = std::move(check);
    }
  }
  if (then && when_signed) return;
  if (then)
    return review.add(weld, "gap.signed-unqualified",
                      {text("welder", welder), text("day", w.text_of(field::on)),
                       text("signed", qualification::text_of(entered))},
                      welder);
  const qualification::Item* reason = first_reason(best);
  if (!reason) return review.add(weld, "gap.no-certificate", {text("welder", welder)});
  review.add(weld, "gap.not-qualified",
             {text("welder", welder), text("day", w.text_of(field::on)), term_argument("item", "item.", reason->item),
              term_argument("found", "found.", reason->found), term_argument("covered", "found.", reason->covered)},
             welder);
}

void check_value(FrameReview& review, const Record& w, const std::string& weld, const char* key, double least,
                 double most) {
  const auto found = w.content.find(key);
  if (found == w.content.end() || !found->is_number())
    return review.add(weld, "gap.parameter-missing", {text("key", key)}, key);
  const double value = found->get<double>();
  if (value < least || value > most)
    review.add(
        weld, "gap.parameter-outside",
        {text("key", key), number("value", value, ""), number("least", least, ""), number("most", most, "")},
        key);
}

void check_parameters(FrameReview& review, const Record& w, const std::string& weld,
                      const qualification::Sheet& sheet) {
  const double number_of_run = w.content.contains(field::run) ? w.content[field::run].get<double>() : 1;
  const auto run = std::find_if(sheet.runs.begin(), sheet.runs.end(),
                                [&](const qualification::Run& r) { return r.number == number_of_run; });
  if (run == sheet.runs.end())
    review.add(weld, "gap.unknown-run", {number("run", number_of_run, "")}, number_text(number_of_run));
  else
    for (const auto& [key, span] :
         {std::pair{field::amperes, run->amperes}, std::pair{field::volts, run->volts},
          std::pair{field::speed_mm_s, run->speed_mm_s}, std::pair{field::power_w, run->power_w}})
      if (span.stated()) check_value(review, w, weld, key, span.least, span.most);
  constexpr double room_c = 20;  // no preheat is asked for up to here
  if (sheet.preheat_c > room_c || w.content.contains(field::preheat_c))
    check_value(review, w, weld, field::preheat_c, sheet.preheat_c, 1e4);
  if (sheet.interpass_c > 0 && w.content.contains(field::interpass_c))
    check_value(review, w, weld, field::interpass_c, -100, sheet.interpass_c);
  const std::string position = w.text_of(field::position);
  if (!position.empty() &&
      std::find(sheet.positions.begin(), sheet.positions.end(), position) == sheet.positions.end())
    review.add(weld, "gap.position", {text("position", position.substr(0, 80))});
}

// A batch of filler or gas: known, and of the designation that the procedure asks for.
void check_batch(FrameReview& review, const Record& w, const std::string& weld, const char* kind,
                 const std::string& asked) {
  const std::string id = w.text_of(kind);
  if (id.empty()) {
    if (!asked.empty())
      review.add(weld, "gap.no-batch", {sentence_argument("kind", composed_id("book.kind-", kind))}, kind);
    return;
  }
  const auto& batch = review.current({kind, id}, kind);
  if (batch.empty()) return review.add(weld, "gap.unknown-batch", {text("id", id)}, id);
  if (!asked.empty() && batch.back().text_of(field::designation) != asked)
    review.add(
        weld, "gap.other-batch",
        {text("id", id), text("found", batch.back().text_of(field::designation)), text("asked", asked)}, id);
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

// Nominal sizes as ordered, so equal or another tube.
bool is_stock_of(const Record& lot, const Part& part) {
  const auto same = [](double asked_mm, double found_mm) {
    return asked_mm <= 0 || std::abs(asked_mm - found_mm) < 1e-6;
  };
  return lot.text_of(field::steel) == part.steel &&
         same(part.outside_mm, measure_of(lot, field::outside_mm)) &&
         same(part.wall_mm, measure_of(lot, field::wall_mm));
}

void check_lot(FrameReview& review, const Record& lot, const std::string& weld,
               const std::vector<Part>& parts) {
  const std::string id = lot.text_of(field::id), type = lot.text_of(field::certificate_type);
  const std::int64_t since = lot.entry.seq;
  if (!lot.content.contains(field::file) || type.empty())
    review.add("", "gap.lot-without-certificate", {text("lot", id)}, id, since);
  else if (type.starts_with("2"))  // EN 10204: 3.1 and 3.2 alone tell of tests of the lot itself
    review.add("", "gap.lot-certificate-type", {text("lot", id), text("found", type)}, id, since);
  if (std::any_of(parts.begin(), parts.end(), [&](const Part& p) { return is_stock_of(lot, p); })) return;
  std::string asked;
  for (const Part& p : parts)
    asked.append(asked.empty() ? "" : ", ").append(stock_of(p.steel, p.outside_mm, p.wall_mm));
  const std::string found = stock_of(lot.text_of(field::steel), measure_of(lot, field::outside_mm),
                                     measure_of(lot, field::wall_mm));
  review.add(weld, "gap.lot-other",
             {text("lot", id), text("found", found.empty() ? "–" : found), text("asked", asked)}, id, since);
}

// Every lot is one of the weld's tubes as drawn, and every tube has its lot.
void check_lots(FrameReview& review, const Record& w, const joints::Weld& weld,
                const design::Design& design) {
  if (!w.content.contains(field::lots) || w.content[field::lots].empty())
    return review.add(weld.id, "gap.no-lot");
  const std::vector<Part> parts = parts_of(design, weld);
  std::vector<Record> all;
  for (const Json& id : w.content[field::lots]) {
    const std::string lot = id.get<std::string>();
    const auto& known = review.current({mark::lot, lot}, kind::lot);
    if (known.empty()) review.add(weld.id, "gap.unknown-lot", {text("lot", lot)}, lot);
    for (const Record& r : known)
      check_lot(review, r, weld.id, parts);  // one of that name may be the other steel
    all.insert(all.end(), known.begin(), known.end());
  }
  for (const Part& p : parts)
    if (p.wall_mm > 0 &&
        std::none_of(all.begin(), all.end(), [&](const Record& r) { return is_stock_of(r, p); }))
      review.add(weld.id, "gap.tube-without-lot",
                 {text("tube", p.tube), text("asked", stock_of(p.steel, p.outside_mm, p.wall_mm))}, p.tube);
}

// Calibrated on the day it was used.
void check_calibration(FrameReview& review, const std::string& weld, const std::string& id, const char* kind,
                       qualification::Date day) {
  if (review.current({kind, id}, kind).empty())
    return review.add(weld, "gap.unknown-device", {text("id", id)}, id);
  for (const Record& c : review.current({mark::calibrated, id}, kind::calibration)) {
    qualification::Date from{}, until{};
    if (day_of(c, field::on, from) && day_of(c, field::until, until) && from <= day && day <= until) return;
  }
  review.add(weld, "gap.not-calibrated", {text("id", id), text("day", qualification::text_of(day))},
             id + " " + qualification::text_of(day));
}

// Qualified as `procedure check` decides: by a record that covers it, hardness, and what can be.
void check_procedure(FrameReview& review, const files::ProcedureFile& p) {
  if (!p.record)
    return review.add("", "gap.procedure-not-qualified", {text("procedure", p.sheet.id)}, p.sheet.id);
  const files::ProcedureNumbers n = files::numbers_of(p);
  const qualification::Check covered = files::qualified(p, n);
  if (verdict(covered) == Answer::yes) return;
  const qualification::Item* reason = first_reason(covered);
  review.add("", "gap.procedure-beyond-record",
             {text("procedure", p.sheet.id), term_argument("item", "item.", reason->item), term_argument("found", "found.", reason->found),
              term_argument("covered", "found.", reason->covered)},
             p.sheet.id);
}

void check_record(FrameReview& review, const Record& w, const joints::Weld& weld,
                  const design::Design& design) {
  qualification::Date day{};
  if (!day_of(w, field::on, day)) review.add(weld.id, "gap.no-day");
  if (day.ok() && day > review.today)
    review.add(weld.id, "gap.day-ahead", {text("day", w.text_of(field::on))});
  if (w.text_of(field::procedure).empty()) {
    review.add(weld.id, "gap.no-procedure");
  } else {
    if (!weld.procedure.empty() && w.text_of(field::procedure) != weld.procedure)
      review.add(weld.id, "gap.other-procedure",
                 {text("found", w.text_of(field::procedure)), text("asked", weld.procedure)});
    const files::ProcedureFile* p =
        procedure_at(review, w.text_of(field::procedure), w.text_of(field::revision));
    if (!p) {
      review.add(
          weld.id, "gap.procedure-not-frozen",
          {text("procedure", w.text_of(field::procedure)), text("revision", w.text_of(field::revision))});
    } else {
      const qualification::JointSizes sizes = files::sizes_of(design, weld);
      const qualification::Check fits = qualification::sheet_covers(p->sheet, sizes);
      if (const auto* reason = first_reason(fits); reason && verdict(fits) != Answer::yes)
        review.add(
            weld.id, "gap.procedure-does-not-fit",
            {term_argument("item", "item.", reason->item), term_argument("found", "found.", reason->found), term_argument("covered", "found.", reason->covered)});
      check_parameters(review, w, weld.id, p->sheet);
      check_batch(review, w, weld.id, kind::filler, p->sheet.filler);
      check_batch(review, w, weld.id, kind::gas, p->sheet.gas);
      check_procedure(review, *p);
      if (day.ok()) check_welder(review, w, weld.id, *p, sizes, day);
    }
  }
  if (!weld.root_proof.empty() &&
      review.current({mark::qualification, weld.root_proof}, kind::qualification).empty())
    review.add(weld.id, "gap.root-proof", {text("proof", weld.root_proof)});
  check_lots(review, w, weld, design);
  if (w.text_of(field::machine).empty())
    review.add(weld.id, "gap.no-machine");
  else if (day.ok())
    check_calibration(review, weld.id, w.text_of(field::machine), kind::machine, day);
}

// A weld must be seen, after it was welded for the last time, by every method that the procedure asks for,
// and accepted.
void check_inspection(FrameReview& review, const std::string& weld, const std::vector<Record>& inspections,
                      std::int64_t welded, const qualification::Sheet* sheet) {
  std::vector<std::string> methods{"VT"};
  if (sheet) methods.insert(methods.end(), sheet->testing.begin(), sheet->testing.end());
  for (const std::string& method : methods) {
    const Record* last = nullptr;
    for (const Record& r : inspections)
      if (r.text_of(field::weld) == weld && r.text_of(field::method) == method && r.entry.seq > welded)
        last = &r;
    if (!last) {
      review.add(weld, "gap.not-inspected", {text("method", method)}, method);
      continue;
    }
    if (last->text_of(field::result) != "accept") {
      // A rejection that does not say of what may be of a crack.
      const std::string flaw = last->text_of(field::imperfection);
      if (flaw.empty() || published::is_planar(published::catalog(), flaw))
        review.add(weld, "gap.planar-flaw", {text("method", method), text("imperfection", flaw.substr(0, 80))}, method);
      else
        review.add(weld, "gap.rejected", {text("method", method)}, method);
    }
    qualification::Date day{};
    if (!last->text_of(field::tool).empty() && day_of(*last, field::on, day))
      check_calibration(review, weld, last->text_of(field::tool), kind::tool, day);
  }
}

}  // namespace

void check_welds(FrameReview& review, const design::Design& design) {
  gather_proofs(review, design);
  std::vector<Record> welds = review.of_frame(kind::weld);
  const std::vector<Record>&repairs = review.of_frame(kind::repair),
        &inspections = review.of_frame(kind::inspection);
  welds.insert(welds.end(), repairs.begin(), repairs.end());
  std::set<std::string> drawn;
  for (const joints::Weld& weld : design.welds) {
    drawn.insert(weld.id);
    std::int64_t last = 0;
    const Record* made = nullptr;  // as it is now: the last of its welds and repairs
    const qualification::Sheet* sheet = nullptr;
    for (const Record& w : welds) {
      if (w.text_of(field::weld) != weld.id) continue;
      check_record(review, w, weld, design);
      if (w.entry.seq > last) made = &w;
      last = std::max(last, w.entry.seq);
      if (const auto* p = procedure_at(review, w.text_of(field::procedure), w.text_of(field::revision)))
        sheet = &p->sheet;
    }
    if (last == 0)
      review.add(weld.id, "gap.weld-missing");
    else
      check_inspection(review, weld.id, inspections, last, sheet);
    if (made && !weld.root_proof.empty()) check_production_tests(review, *made, weld.id);
  }
  for (const Record& w : welds)
    if (!drawn.contains(w.text_of(field::weld))) review.add(w.text_of(field::weld), "gap.weld-not-drawn");
  check_nonconformities(review, repairs);
}

}  // namespace seamwright::book
