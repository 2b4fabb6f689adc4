// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <set>

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

// What a carried thing rests on.
void behind(const Book& book, const Mark& m, std::map<std::int64_t, Record>& into) {
  const auto take = [&](const Mark& mark) {
    for (Record& r : book.find(mark)) into.emplace(r.entry.seq, std::move(r));
  };
  if (m.name == "procedure" || m.name == "design") return;  // by revision, below
  if (m.name == "welder") {
    take({"person", m.value});
    for (const Record& c : book.find({"welder", m.value})) {
      into.emplace(c.entry.seq, c);
      if (c.kind == "certificate") take({"certificate", c.word("id")});
    }
    return;
  }
  take(m);
  if (m.name == "machine" || m.name == "tool") take({"calibrated", m.value});
}

}  // namespace

std::optional<Record> design_of(const Book& book, const Record& frame) {
  for (Record& r : book.current({"design", frame.word("design")}, "design"))
    if (!r.malformed && r.word("revision") == frame.word("revision")) return std::move(r);
  return std::nullopt;
}

std::optional<Record> rating_of(const Book& book, const Record& frame) {
  const auto design = design_of(book, frame);
  if (!design) return std::nullopt;
  std::optional<Record> newest;
  for (Record& r : book.current({"design", frame.word("design")}, "rating"))
    if (r.word("design_sha256") == design->content["file"]["sha256"]) newest = std::move(r);
  return newest;
}

Trace trace(const Book& book, const std::string& serial) {
  Trace t{serial, book.find({"frame", serial}), {}};
  if (t.own.empty()) {
    const std::vector<std::string> names = book.names_of(serial);
    if (!names.empty())
      throw Fault{
          Message{"book.not-a-frame", {text("value", serial.substr(0, 200)), text("name", names[0])}}};
    throw Fault{
        Message{"book.unknown-frame",
                {text("serial", serial.substr(0, 200)),
                 text("nearest", published::nearest(serial.substr(0, 200), book.values_of("frame")))}}};
  }
  std::map<std::int64_t, Record> all;
  const std::vector<Mark> carried = book.carried(serial);
  for (const Mark& m : carried) behind(book, m, all);
  for (const Mark& m : carried)
    if (m.name == "procedure")
      for (Record& r : book.find(m)) all.emplace(r.entry.seq, std::move(r));
  for (const Mark& m : carried) {  // "id revision" says which one; the others did not go into this frame
    if (m.name != "procedure" && m.name != "design") continue;
    for (Record& r : book.find({m.name, m.value})) {
      const std::string id = r.word(m.name == "procedure" ? "id" : "name");
      const bool used = std::find(carried.begin(), carried.end(),
                                  Mark{m.name, id + " " + r.word("revision")}) != carried.end();
      if (r.kind == m.name && !used)
        all.erase(r.entry.seq);
      else if (r.kind != "rating")
        all.emplace(r.entry.seq, std::move(r));
    }
  }
  for (const Record& r : t.own) {
    all.erase(r.entry.seq);
    if (r.kind != "frame" || !r.current()) continue;
    const auto design = design_of(book, r);
    if (!design) continue;
    for (Record& rated : book.find({"design", r.word("design")}))
      if (rated.kind == "rating" && rated.word("design_sha256") == design->content["file"]["sha256"])
        all.emplace(rated.entry.seq, std::move(rated));
  }
  for (auto& [seq, r] : all) t.behind.push_back(std::move(r));
  return t;
}

namespace {

Carrier carrier_of(const Book& book, const std::string& serial, const std::string& today,
                   std::map<std::string, std::optional<Record>>& ratings) {
  Carrier c{serial, "", "", "", "", 0, std::nan(""), "", false};
  const Mark mark{"frame", serial};
  for (const Record& r : book.current(mark, "release")) c.released = r.word("on");
  for (const Record& r : book.current(mark, "shipment")) {
    c.order = r.word("order");
    c.to = r.word("to");
    c.shipped = r.word("on");
  }
  for (const Record& r : book.current(mark, "field-report")) {
    if (const double km = number_at(r, "km"); km > c.km) c.km = km;
    c.cracked = c.cracked || r.content.value("cracked", false);
  }
  const auto frames = book.current(mark, "frame");
  if (frames.empty()) return c;
  const std::string key = frames.back().word("design") + "\n" + frames.back().word("revision");
  if (!ratings.contains(key)) ratings[key] = rating_of(book, frames.back());
  const auto& rated = ratings[key];
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
  std::set<std::string> serials;
  const auto take = [&](const Mark& m) {
    for (std::string& s : book.frames_with({m})) serials.insert(std::move(s));
  };
  bool known = false;
  if (what.name == "heat")
    for (const Record& r : book.find(what)) {
      known = true;
      if (r.kind == "lot" || r.kind == "filler") take({r.kind, r.word("id")});
    }
  else
    take(what);
  if (serials.empty() && !known && book.find(what).empty())
    throw Fault{
        Message{"book.unknown-mark",
                {text("name", what.name), text("value", what.value.substr(0, 200)),
                 text("nearest", published::nearest(what.value.substr(0, 200), book.values_of(what.name)))}}};
  std::vector<Carrier> all;
  std::map<std::string, std::optional<Record>> ratings;
  for (const std::string& serial : serials) all.push_back(carrier_of(book, serial, today, ratings));
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

std::string lower(std::string text) {
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
  const std::string wanted = lower(typed);
  std::vector<std::string> names;
  for (const Kind& k : kinds())
    for (const Key& key : k.keys)
      if (key.mark[0] && std::find(names.begin(), names.end(), key.mark) == names.end())
        names.emplace_back(key.mark);
  for (const std::string& name : names)
    for (const std::string& value : book.values_of(name)) {
      if (found.size() >= most) return found;
      if (value != typed && lower(value).find(wanted) != std::string::npos) found.push_back({name, value});
    }
  return found;
}

std::vector<Record> story(const Book& book, const Mark& what) {
  if (what.name == "frame") {
    Trace t = trace(book, what.value);
    std::move(t.behind.begin(), t.behind.end(), std::back_inserter(t.own));
    std::sort(t.own.begin(), t.own.end(),
              [](const Record& a, const Record& b) { return a.entry.seq < b.entry.seq; });
    return std::move(t.own);
  }
  if (what.name != "day") return book.find(what);
  std::vector<std::int64_t> seqs;
  book.each([&](const Entry& e) {
    if (e.time.starts_with(what.value)) seqs.push_back(e.seq);
    return true;
  });
  std::vector<Record> all;
  for (const std::int64_t seq : seqs)
    if (auto r = book.record(seq)) all.push_back(std::move(*r));
  return all;
}

}  // namespace seamwright::book
