// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/transitions.h"

#include <algorithm>
#include <array>
#include <chrono>

#include "catalog/book/records/names.h"
#include "catalog/published/nearest.h"
#include "engine/qualification/calendar.h"

namespace seamwright::book {

namespace {

struct Step {
  const Entry& entry;
  const std::string& role;
  Content content;                            // what it says in the end
  std::optional<Record> old;                  // what it corrects or makes void
  std::optional<qualification::Date> latest;  // day that has begun somewhere on earth when it was signed
  const RuleFacts& facts;

  std::string text_of(const char* key) const { return word_at(*content.payload, key); }
};
using BrokenRule = std::optional<Message>;

Argument seq_of(std::int64_t seq) { return number("seq", static_cast<double>(seq), ""); }

// The latest local day anywhere: clocks run up to 14 hours ahead of UTC.
std::optional<qualification::Date> latest_day(const std::string& time) {
  constexpr int ahead_h = 14;
  const auto day = qualification::read_date(time.substr(0, 10));
  const bool timed =
      time.size() == 20 && time[10] == 'T' && time[13] == ':' && time[16] == ':' && time[19] == 'Z';
  if (!day || !timed || time.find_first_not_of("0123456789-T:Z") != std::string::npos) return std::nullopt;
  const int hour = (time[11] - '0') * 10 + time[12] - '0';
  if (hour < 0 || hour > 23) return std::nullopt;
  return hour + ahead_h >= 24 ? qualification::Date(std::chrono::sys_days(*day) + std::chrono::days(1))
                              : *day;
}

// A welder's word yields to an inspector's, theirs to an engineer's, all to the owner's.
int rank(const std::string& role) {
  constexpr std::array order{"auditor", "welder", "inspector", "engineer", "owner"};
  const auto found = std::find(order.begin(), order.end(), role);
  return found == order.end() ? -1 : static_cast<int>(found - order.begin());
}

BrokenRule time_is_none(const Step& s) {
  if (s.latest) return std::nullopt;
  return Message{"rule.bad-time", {text("found", s.entry.time.substr(0, 40))}};
}

// Done, delivered, tested, seen: none of it lies ahead. How long a calibration holds does.
BrokenRule day_ahead(const Step& s) {
  const Kind* kind = kind_of(s.content.kind);
  if (!kind || !s.latest) return std::nullopt;
  for (const Field& f : kind->fields) {
    if (f.type != Type::day || f.ahead) continue;
    const auto day = qualification::read_date(s.text_of(f.name));
    if (day && *day > *s.latest)
      return Message{"rule.day-ahead",
                     {text("key", f.name), text("day", s.text_of(f.name)), text("time", s.entry.time)}};
  }
  return std::nullopt;
}

// No hand of a gauge stands there: typed wrong, or in another unit.
BrokenRule number_outside(const Step& s) {
  const Kind* kind = kind_of(s.content.kind);
  if (!kind) return std::nullopt;
  for (const Field& f : kind->fields) {
    const auto named = f.type == Type::number ? s.content.payload->find(f.name) : s.content.payload->end();
    if (named == s.content.payload->end() || !named->is_number()) continue;
    const double value = named->get<double>();
    if (value < f.least || value > f.most)
      return Message{"rule.number-outside",
                     {text("key", f.name), number("value", value, f.unit), number("least", f.least, f.unit),
                      number("most", f.most, f.unit)}};
  }
  return std::nullopt;
}

// The welder signs for it themself, and stays the welder in what others correct.
BrokenRule not_the_welder(const Step& s) {
  const std::string named = s.text_of(field::welder),
                    before = s.old ? s.old->text_of(field::welder) : std::string();
  if (named == before || (named == s.entry.author && before.empty())) return std::nullopt;
  return Message{"rule.other-welder",
                 {text("welder", named.empty() ? before : named), text("person", s.entry.author)}};
}

// Otherwise a serial typed wrong hides a weld where nobody looks for it.
BrokenRule frame_unknown(const Step& s) {
  const std::string frame = s.text_of(field::frame);
  if (!s.text_of(field::reason).empty() || s.facts.has_frame(frame)) return std::nullopt;
  return Message{"rule.no-frame", {text("frame", frame.substr(0, 80))}};
}

BrokenRule weld_not_drawn(const Step& s) {
  const std::string weld = s.text_of(field::weld), frame = s.text_of(field::frame);
  const DesignSubjects* drawn = weld.empty() ? nullptr : s.facts.subjects_of(frame);
  if (!drawn) return std::nullopt;
  const bool welded = s.content.kind == kind::weld || s.content.kind == kind::repair;
  const std::set<std::string>& there = welded ? drawn->welds : drawn->subjects;
  if (there.contains(weld)) return std::nullopt;
  return Message{"rule.weld-not-drawn",
                 {text("weld", weld.substr(0, 80)), text("frame", frame.substr(0, 80)),
                  text("nearest", published::nearest_or_some(weld.substr(0, 80), {there.begin(), there.end()}))}};
}

bool welded_by(const Step& s, const std::string& frame, const std::string& weld, const std::string& person) {
  const auto made = s.facts.weld_entries(frame, weld);
  return std::any_of(made.begin(), made.end(),
                     [&](const WeldEntry& m) { return m.current && m.person == person; });
}

// The weld that an entry is about; an exception names it in the key of its gap, "gap.rejected:W12:VT". "" = the whole frame.
std::string weld_judged(const Step& s) {
  const std::string gap = s.text_of(field::gap);
  if (gap.empty()) return s.text_of(field::weld);
  const std::size_t from = gap.find(':');
  if (from == std::string::npos) return {};
  const std::string named = gap.substr(from + 1, gap.find(':', from + 1) - from - 1);
  const DesignSubjects* drawn = s.facts.subjects_of(s.text_of(field::frame));
  return !drawn || drawn->welds.contains(named) ? named : std::string();
}

// Nobody judges their own weld, unless there is nobody else.
BrokenRule own_judgement(const Step& s) {
  for (const Separation& row : separations()) {
    if (s.content.kind != row.act) continue;
    const std::string weld = weld_judged(s);
    if (weld.empty() && std::string_view(row.about) == "weld") continue;
    if (!welded_by(s, s.text_of(field::frame), weld, s.entry.author) || s.facts.is_shop_of_one()) continue;
    return Message{row.refusal, {text("person", s.entry.author), text("weld", weld.substr(0, 80)), text("frame", s.text_of(field::frame).substr(0, 80))}};
  }
  return std::nullopt;
}

// Looking needs no certificate, only the appointment as inspector; every other method of ISO 9712 does, and the result is evaluated by level 2
// or 3: level 1 carries out tests under their supervision [from memory].
BrokenRule method_not_held(const Step& s) {
  const std::string method = s.text_of(field::method), day = s.text_of(field::on);
  if (method == "VT") return std::nullopt;
  bool held_at_all = false;
  for (const HeldMethod& held : s.facts.methods_of(s.entry.author)) {
    if (held.method != method || held.from > day || day > held.until) continue;
    if (held.level >= 2) return std::nullopt;
    held_at_all = true;
  }
  return Message{held_at_all ? MessageId("rule.level-one") : "rule.method-not-held",
                 {text("person", s.entry.author), text("method", method.substr(0, 80)), text("day", day.substr(0, 80))}};
}

// The welder of a test piece does not say whether its root is fused.
BrokenRule own_piece(const Step& s) {
  if (s.text_of(field::welder) != s.entry.author || s.facts.is_shop_of_one()) return std::nullopt;
  return Message{"rule.own-piece", {text("person", s.entry.author)}};
}

// An open root that was signed for does not go away by who signed it: another engineer or owner looks again.
BrokenRule open_section_withdrawn(const Step& s) {
  if (!s.old || s.old->kind != kind::production_test) return std::nullopt;
  const auto open_in = [](const Json& content) {
    const auto found = content.find(field::open_sections);
    return found != content.end() && found->is_number() ? found->get<double>() : 0;
  };
  const bool stays = s.content.kind == kind::production_test && open_in(*s.content.payload) >= open_in(s.old->content) &&
                     s.text_of(field::procedure) == s.old->text_of(field::procedure);
  if (open_in(s.old->content) <= 0 || stays || s.facts.is_shop_of_one()) return std::nullopt;
  if (s.old->entry.author != s.entry.author && rank(s.role) >= rank("engineer")) return std::nullopt;
  return Message{"rule.open-section-withdrawn", {text("person", s.entry.author), seq_of(s.old->entry.seq)}};
}

// An action on a finding, and its closing, names one that is there; who raised it closes it.
BrokenRule finding_not_there(const Step& s) {
  const std::string finding = s.text_of(field::finding), raised = s.facts.auditor_of(finding);
  if (raised.empty()) return Message{"rule.no-finding", {text("finding", finding.substr(0, 80))}};
  if (s.content.kind != kind::audit_closing || raised == s.entry.author) return std::nullopt;
  return Message{"rule.finding-not-closed", {text("person", s.entry.author), text("finding", finding.substr(0, 80))}};
}

// Nothing leaves that was not released as it now is.
BrokenRule shipped_unreleased(const Step& s) {
  const auto frames = s.content.payload->find(field::frames);
  if (frames == s.content.payload->end() || !frames->is_array()) return std::nullopt;
  for (const Json& frame : *frames)
    if (frame.is_string() && !s.facts.is_released(frame.get<std::string>()))
      return Message{"rule.not-released", {text("frame", frame.get<std::string>().substr(0, 80))}};
  return std::nullopt;
}

// Methods of ISO 9712:2021 by their letters [from memory].
BrokenRule method_unknown(const Step& s) {
  static const std::vector<std::string> known{"AT", "ET", "LT", "MT", "PT", "RT", "ST", "TT", "UT", "VT"};
  const std::string method = s.text_of(field::method);
  if (std::find(known.begin(), known.end(), method) != known.end()) return std::nullopt;
  return Message{"rule.unknown-method",
                 {text("method", method.substr(0, 80)),
                  text("nearest", published::nearest_or_some(method.substr(0, 80), known))}};
}

// An entry is taken back by its author, or by who outranks them; what an inspector saw nobody else takes
// back, and nobody takes back what was found on a weld of their own.
BrokenRule not_theirs(const Step& s) {
  if (!s.old || s.old->entry.author == s.entry.author) return std::nullopt;
  const std::string& by = s.old->entry.author;
  if (s.old->kind == kind::nonconformity &&
      welded_by(s, s.old->text_of(field::frame), s.old->text_of(field::weld), s.entry.author))
    return Message{"rule.own-finding", {text("person", s.entry.author), seq_of(s.old->entry.seq)}};
  if (s.old->kind != kind::inspection && rank(s.role) > rank(s.facts.role_of(by))) return std::nullopt;
  return Message{"rule.not-theirs",
                 {text("person", s.entry.author), seq_of(s.old->entry.seq), text("author", by)}};
}

std::string day_said(const Record& r) {
  return r.text_of(field::on).empty() ? r.entry.time.substr(0, 10) : r.text_of(field::on);
}

// Otherwise a weld, or a look at it, moves to where a certificate or a calibration still held. Also by making
// the old entry void and another one.
BrokenRule day_moved(const Step& s) {
  const std::string own = s.entry.time.substr(0, 10);
  const std::string day = s.text_of(field::on).empty() ? own : s.text_of(field::on);
  std::string before;
  if (s.old) {
    before = day_said(*s.old);
    const auto moved = qualification::read_date(day), latest = latest_day(s.old->entry.time);
    if (moved && latest && *moved > *latest)  // it had been done when it was first signed
      return Message{"rule.day-beyond-entry", {text("day", day), seq_of(s.old->entry.seq)}};
  } else if (day != own) {
    for (const WeldEntry& m : s.facts.weld_entries(s.text_of(field::frame), s.text_of(field::weld)))
      if (!m.current && m.kind == s.content.kind && m.day != day && s.content.kind != kind::inspection)
        before = m.day;
  }
  if (before.empty() || before == day) return std::nullopt;
  const std::string welder = s.text_of(field::welder).empty() ? s.old ? s.old->entry.author : s.entry.author
                                                              : s.text_of(field::welder);
  if (rank(s.role) >= rank("engineer") && welder != s.entry.author) return std::nullopt;
  return Message{"rule.day-moved", {text("day", day), text("before", before)}};
}

BrokenRule frame_twice(const Step& s) {
  if (s.old || !s.facts.has_frame(s.text_of(field::serial))) return std::nullopt;
  return Message{"rule.frame-twice", {text("serial", s.text_of(field::serial).substr(0, 80))}};
}

BrokenRule not_released(const Step& s) { return s.facts.release_fault(*s.content.payload, s.entry); }

// Kinds by what the entry says in the end, so that a correction is judged as what it corrects; none = every
// kind.
struct Rule {
  std::vector<std::string> kinds;
  BrokenRule (*broken)(const Step&);
};
const std::vector<Rule>& rules() {
  static const std::vector<Rule> all{
      {{}, time_is_none},
      {{}, day_ahead},
      {{}, number_outside},
      {{}, not_theirs},
      {{kind::frame}, frame_twice},
      {{kind::weld, kind::repair}, not_the_welder},
      {{kind::weld, kind::repair}, frame_unknown},
      {{kind::weld, kind::repair, kind::inspection, kind::nonconformity}, weld_not_drawn},
      {{kind::weld, kind::repair, kind::inspection}, day_moved},
      {{kind::inspection, kind::exception, kind::disposition}, own_judgement},
      {{kind::inspection}, method_unknown},
      {{kind::inspection}, method_not_held},
      {{kind::production_test}, own_piece},
      {{}, open_section_withdrawn},
      {{kind::release}, not_released},
      {{kind::shipment}, shipped_unreleased},
      {{kind::corrective_action, kind::audit_closing}, finding_not_there},
  };
  return all;
}

}  // namespace

std::span<const Separation> separations() {
  static constexpr std::array<Separation, 3> all{{{kind::inspection, "weld", "rule.own-weld"},
                                                  {kind::exception, "frame", "rule.own-exception"},
                                                  {kind::disposition, "frame", "rule.own-disposition"}}};
  return all;
}

std::vector<Message> broken_rules(const Entry& entry, const std::string& role, const RuleFacts& facts) {
  Step s{entry, role, content_of(entry.kind, entry.payload), std::nullopt, latest_day(entry.time), facts};
  if (s.content.replaces > 0) s.old = facts.entry(s.content.replaces);
  std::vector<Message> all;
  for (const Rule& rule : rules()) {
    const bool asked = rule.kinds.empty() ||
                       std::find(rule.kinds.begin(), rule.kinds.end(), s.content.kind) != rule.kinds.end();
    if (!asked) continue;
    if (BrokenRule broken = rule.broken(s)) all.push_back(std::move(*broken));
  }
  return all;
}

}  // namespace seamwright::book
