// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <set>

#include "catalog/book/production.h"
#include "catalog/book/records/names.h"
#include "catalog/published/nearest.h"
#include "engine/evidence/evidence.h"
#include "engine/qualification/calendar.h"

namespace seamwright::book {

namespace {

double number_at(const Record& r, const char* key) {
  const auto found = r.content.find(key);
  return found != r.content.end() && found->is_number() ? found->get<double>() : std::nan("");
}

// Days between two written ones; NaN when either is none.
double days_between(const std::string& from, const std::string& to) {
  const auto a = qualification::read_date(from), b = qualification::read_date(to);
  if (!a || !b) return std::nan("");
  return static_cast<double>((std::chrono::sys_days(*b) - std::chrono::sys_days(*a)).count());
}

}  // namespace

std::optional<Record> design_of(Lookup& records, const Record& frame) {
  for (const Record& r : records.current({mark::design, frame.text_of(field::design)}, kind::design))
    if (!r.malformed && r.text_of(field::revision) == frame.text_of(field::revision)) return r;
  return std::nullopt;
}

std::optional<Record> rating_of(Lookup& records, const Record& frame) {
  const auto design = design_of(records, frame);
  if (!design) return std::nullopt;
  std::optional<Record> newest;
  for (const Record& r : records.current({mark::design, frame.text_of(field::design)}, kind::rating))
    if (r.text_of(field::design_sha256) == design->content[field::file][field::sha256]) newest = r;
  return newest;
}

std::optional<Record> design_of(const Book& book, const Record& frame) {
  Lookup records(book);
  return design_of(records, frame);
}

std::optional<Record> rating_of(const Book& book, const Record& frame) {
  Lookup records(book);
  return rating_of(records, frame);
}

Trace trace(const Book& book, const std::string& serial) {
  Lookup records(book);
  Trace t{serial, records.find({mark::frame, serial}), {}};
  if (t.own.empty()) {
    const std::vector<std::string> names = book.names_of(serial);
    if (!names.empty())
      throw Fault{
          Message{"book.not-a-frame", {text("value", serial.substr(0, 200)), text("name", names[0])}}};
    throw Fault{
        Message{"book.unknown-frame",
                {text("serial", serial.substr(0, 200)),
                 text("nearest", published::nearest_or_some(serial.substr(0, 200), book.values_of(mark::frame)))}}};
  }
  const std::vector<Mark> carried = carried_by_records(t.own);
  std::vector<Mark> asked = marks_behind(carried);
  for (const Record& r : t.own)
    if (r.kind == kind::frame && r.current()) asked.push_back({mark::design, r.text_of(field::design)});
  records.ask(asked);
  const std::vector<Mark> certificates = certificate_marks(records, carried);
  records.ask(certificates);
  std::map<std::int64_t, Record> all;
  const auto add = [&](const Mark& mark) {
    for (const Record& r : records.find(mark)) all.emplace(r.entry.seq, r);
  };
  for (const Mark& m : marks_behind(carried))
    if (m.name != mark::design) add(m);
  for (const Mark& m : certificates) add(m);
  for (const Mark& m : carried) {  // "id revision" says which one; the others did not go into this frame
    if (m.name != mark::procedure && m.name != mark::design) continue;
    for (const Record& r : records.find(m)) {
      const std::string id = r.text_of(m.name == mark::procedure ? "id" : "name");
      const bool used = std::find(carried.begin(), carried.end(),
                                  Mark{m.name, id + " " + r.text_of(field::revision)}) != carried.end();
      if (r.kind == m.name && !used)
        all.erase(r.entry.seq);
      else if (r.kind != kind::rating)
        all.emplace(r.entry.seq, r);
    }
  }
  for (const Record& r : t.own) {
    all.erase(r.entry.seq);
    if (r.kind != kind::frame || !r.current()) continue;
    const auto design = design_of(records, r);
    if (!design) continue;
    for (const Record& rated : records.find({mark::design, r.text_of(field::design)}))
      if (rated.kind == kind::rating &&
          rated.text_of(field::design_sha256) == design->content[field::file][field::sha256])
        all.emplace(rated.entry.seq, rated);
  }
  for (auto& [seq, r] : all) t.behind.push_back(std::move(r));
  return t;
}

namespace {

// of_frame: what stands of it in the book by itself.
Carrier carrier_of(const std::string& serial, const std::vector<Record>& of_frame, const std::string& today,
                   Lookup& records) {
  Carrier c{serial, "", "", "", "", 0, std::nan(""), "", false};
  const Record* frame = nullptr;
  for (const Record& r : of_frame) {
    if (r.kind == kind::frame) frame = &r;
    if (r.kind == kind::release) c.released = r.text_of(field::on);
    if (r.kind == kind::shipment) {
      c.order = r.text_of(field::order);
      c.to = r.text_of(field::to);
      c.shipped = r.text_of(field::on);
    }
    if (r.kind == kind::field_report) {
      if (const double km = number_at(r, "km"); km > c.km) c.km = km;
      c.cracked = c.cracked || r.content.value(field::cracked, false);
    }
  }
  const auto rated = frame ? rating_of(records, *frame) : std::nullopt;
  if (!rated) return c;
  const double life_km = number_at(*rated, "life_km"), life_years = number_at(*rated, "life_years");
  const double days = c.shipped.empty() ? std::nan("") : days_between(c.shipped, today);
  if (c.km > 0 && life_km > 0) {
    c.used = c.km / life_km;
    c.by = "km";
  } else if (days >= 0 && life_years > 0) {
    c.used = days / 365.25 / life_years;
    c.by = "years";
  }
  return c;
}

}  // namespace

std::vector<Carrier> recall(const Book& book, const Mark& what, const std::string& today) {
  Lookup records(book);
  std::vector<Mark> carried;
  const bool in_doubt = what.name == kind::production_test;
  if (in_doubt) {
    carried.push_back({mark::procedure, what.value});
  } else if (what.name == mark::heat) {
    for (const Record& r : records.find(what))
      if (r.kind == kind::lot || r.kind == kind::filler) carried.push_back({r.kind, r.text_of(field::id)});
  } else {
    carried.push_back(what);
  }
  const Mark known = in_doubt ? carried.front() : what;
  std::vector<std::string> serials = book.frames_with(carried);
  if (serials.empty() && records.find(known).empty())
    throw Fault{
        Message{"book.unknown-mark",
                {term_argument("name", "mark.", known.name), text("value", known.value.substr(0, 200)),
                 text("nearest", published::nearest_or_some(known.value.substr(0, 200), book.values_of(known.name)))}}};
  if (in_doubt) serials = frames_in_doubt(book, known.value);
  std::vector<Carrier> all;
  std::vector<Mark> frames, designs;
  for (const std::string& serial : serials) frames.push_back({mark::frame, serial});
  const auto of_frames = book.current_all(frames, {kind::frame, kind::release, kind::shipment, kind::field_report});
  for (const std::vector<Record>& of_frame : of_frames)
    for (const Record& r : of_frame)
      if (r.kind == kind::frame) designs.push_back({mark::design, r.text_of(field::design)});
  records.ask(designs);
  for (std::size_t i = 0; i < serials.size(); ++i)
    all.push_back(carrier_of(serials[i], of_frames[i], today, records));
  std::stable_sort(all.begin(), all.end(), [](const Carrier& a, const Carrier& b) {
    const double x = std::isnan(a.used) ? -1 : a.used, y = std::isnan(b.used) ? -1 : b.used;
    return x > y;
  });
  return all;
}

namespace {

bool is_day(const std::string& text) {
  return text.size() == 10 && text[4] == '-' && text[7] == '-' &&
         std::all_of(text.begin(), text.end(), [](char c) { return c == '-' || (c >= '0' && c <= '9'); });
}

std::string lower_case(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return text;
}

}  // namespace

std::vector<Mark> search(const Book& book, const std::string& typed, std::size_t most) {
  std::vector<Mark> found;
  if (typed.empty()) return found;
  for (const std::string& name : book.names_of(typed)) found.push_back({name, typed});
  if (is_day(typed)) found.push_back({"day", typed});
  const std::string wanted = lower_case(typed);
  for (Mark& m : book.marks()) {
    if (found.size() >= most) return found;
    if (m.value != typed && lower_case(m.value).find(wanted) != std::string::npos)
      found.push_back(std::move(m));
  }
  return found;
}

std::vector<Record> records_behind(const Book& book, const Mark& what) {
  if (what.name == mark::frame) {
    Trace t = trace(book, what.value);
    std::move(t.behind.begin(), t.behind.end(), std::back_inserter(t.own));
    std::sort(t.own.begin(), t.own.end(),
              [](const Record& a, const Record& b) { return a.entry.seq < b.entry.seq; });
    return std::move(t.own);
  }
  if (what.name != "day") return book.find(what);
  std::vector<std::int64_t> seqs;
  book.for_each_entry([&](const Entry& e) {
    if (e.time.starts_with(what.value)) seqs.push_back(e.seq);
    return true;
  });
  return book.records(seqs);
}

}  // namespace seamwright::book
