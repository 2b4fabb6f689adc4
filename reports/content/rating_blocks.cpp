// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/rating_blocks.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "catalog/published/built_in.h"
#include "catalog/published/nearest.h"
#include "engine/sites/faulty_welds.h"
#include "engine/sites/place_kinds.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/prediction_blocks.h"
#include "reports/content/summary_blocks.h"

namespace seamwright::reports {

namespace {

Facts facts_of(const rating::Rating& r) {
  Facts f;
  f.small = true;
  const auto add = [&](MessageId id, Cell cell) { f.facts.push_back({message_of(id), std::move(cell)}); };
  add("rating.design", Verbatim{r.design.name + " " + r.design.revision});
  add("rating.duty", Verbatim{r.duty.name + " " + r.duty.revision});
  add("rating.rules", term_cell("rule-set.", name_of(r.rules.set)));
  add("rating.method", Message{composed_id("rating.method-", r.method), {}});
  add("rating.service", Quantity{r.service_km, "km", 3});
  add("rating.years", Quantity{r.service_years, "years", 3});
  add("rating.design-hash", Verbatim{r.design.sha256.substr(0, 12)});
  return f;
}

// Another site may be the worst by the set's own format.
double format_life_km(const rating::WeldRating& w) {
  double least = w.sites[0].life_km;
  for (const rating::SiteRating& s : w.sites)
    if (!std::isnan(s.life_km)) least = std::isnan(least) ? s.life_km : std::min(least, s.life_km);
  return least;
}

// The set's own factors, which no prediction is multiplied with.
Facts format_of(const rating::Rating& r) {
  Facts f;
  const auto add = [&](MessageId id, Cell cell) { f.facts.push_back({message_of(id), std::move(cell)}); };
  add("rating.rules", term_cell("rule-set.", name_of(r.rules.set)));
  add("rating.load-factor", Quantity{r.rules.load_factor, "", 3});
  if (r.rules.set->design_fatigue_factor) add("rating.dff", Quantity{r.rules.design_fatigue_factor, "", 3});
  if (r.rules.set->partial_factor) add("rating.partial-factor", Quantity{r.rules.partial_factor, "", 3});
  add("rating.damage-limit", Quantity{r.rules.damage_limit, "", 3});
  add("column.format-km", life_cell(format_life_km(r.welds[0]), r.welds[0].at_most));
  return f;
}

Table welds_of(const rating::Rating& r) {
  Table t = table_of({"column.weld", "column.brace", "column.chord", "column.site", "column.curve", "column.predicted-km",
                      "column.cracked", "column.used", "column.format-km", "column.coverage", "column.verdict"});
  t.first_to_go = {9, 8, 4, 6, 3, 7};
  for (const rating::WeldRating& w : r.welds) {
    const rating::SiteRating& s = w.sites[0];
    t.rows.push_back({Verbatim{w.id}, Verbatim{w.member}, Verbatim{w.chord}, site_cell(s.site),
                      curve_cell(s.curve), life_cell(w.predicted.life.median * r.service_km, w.at_most),
                      cracked_cell(w.predicted.cracked), damage_cell(s.used(), s.at_least), life_cell(format_life_km(w), w.at_most),
                      State{name_of(s.coverage)}, State{name_of(w.verdict)}});
  }
  return t;
}

double share_of(const rating::SiteRating& site, const rating::Rating& r, const std::string& leg) {
  double sum = 0;
  for (std::size_t i = 0; i < r.parts.size() && i < site.damage_share.size(); ++i)
    if (r.parts[i].leg == leg) sum += site.damage_share[i];
  return sum;
}

Table legs_of(const rating::Rating& r) {
  Table t;
  for (const MessageId id :
       MessageIds{"column.leg", "column.road", "column.payload", "column.speed", "column.distance",
                  "column.seat", "column.box", "column.lift", "column.share"})
    t.columns.push_back(message_of(id));
  for (const rating::LegReport& l : r.legs)
    t.rows.push_back({Verbatim{l.id}, Verbatim{l.road}, Quantity{l.pose.payload_kg, "kg", 3},
                      Quantity{l.speed_kmh, "km/h", 3}, Quantity{l.distance_km, "km", 3},
                      Quantity{l.levels.seat_acceleration_rms_m_s2, "m/s2", 2},
                      Quantity{l.box_acceleration_rms_m_s2, "m/s2", 2},
                      Quantity{100 * (std::isnan(l.counted_lift_share) ? l.levels.lift_share.maxCoeff()
                                                                       : l.counted_lift_share),
                               "%", 2},
                      Quantity{100 * share_of(r.welds[0].sites[0], r, l.id), "%", 2}});
  return t;
}

// Shares of damage by what causes it, over all legs, for the worst welds.
Table sources_of(const rating::Rating& r) {
  constexpr std::size_t most_welds = 10;
  std::vector<std::string> sources;
  for (const rating::Part& p : r.parts)
    if (std::find(sources.begin(), sources.end(), p.source) == sources.end()) sources.push_back(p.source);
  Table t;
  t.columns = {message_of("column.weld"), message_of("column.site"), message_of("column.elastic")};
  for (const std::string& source : sources) t.columns.push_back({"column.source", {text("source", source)}});
  for (std::size_t w = 0; w < std::min(most_welds, r.welds.size()); ++w) {
    const rating::SiteRating& s = r.welds[w].sites[0];
    t.rows.push_back(
        {Verbatim{r.welds[w].id}, site_cell(s.site), Quantity{s.elastic_over_quasi_static, "", 3}});
    for (const std::string& source : sources) {
      double sum = 0;
      for (std::size_t i = 0; i < r.parts.size(); ++i)
        if (r.parts[i].source == source) sum += s.damage_share[i];
      t.rows.back().emplace_back(Quantity{100 * sum, "%", 2});
    }
  }
  return t;
}

Table states_of(const rating::Rating& r) {
  Table t;
  for (const MessageId id : MessageIds{"column.payload", "column.steering", "column.mass",
                                       "column.wheel-loads", "column.first-mode", "column.residual"})
    t.columns.push_back(message_of(id));
  for (const rating::StateReport& s : r.states) {
    Message loads{"rating.wheel-loads", {}};
    for (Eigen::Index i = 0; i < s.static_wheel_load_n.size(); ++i)
      loads.arguments.push_back(
          number(std::string("w").append(std::to_string(i)), s.static_wheel_load_n(i), "N"));
    t.rows.push_back({Quantity{s.pose.payload_kg, "kg", 3}, Quantity{s.pose.steering_deg, "deg", 3},
                      Quantity{s.total_mass_kg, "kg", 3}, loads,
                      Quantity{s.mode_frequency_hz.empty() ? 0 : s.mode_frequency_hz[0], "Hz", 3},
                      Quantity{s.residual, "", 1}});
  }
  return t;
}

Paragraph confidence_of(const rating::Rating& r) {
  if (r.method == "spectral") return {{"rating.model-of-ranges", {text("model", r.range_model)}}};
  if (r.realisations < 2) return {message_of("rating.one-realisation")};
  return {
      {"rating.confidence",
       {number("count", static_cast<double>(r.realisations), ""), number("spread", 100 * r.confidence, "%")}}};
}

}  // namespace

Cell life_cell(double km, bool at_most) {
  if (!at_most || std::isnan(km)) return Quantity{km, "km", 2};
  return Message{"rating.life-at-most", {number("life", km, "km")}};
}

Cell damage_cell(double damage, bool at_least) {
  if (!at_least || std::isnan(damage)) return Quantity{damage, "", 2};
  return Message{"rating.damage-at-least", {number("damage", damage, "")}};
}

std::vector<Message> as_built_notes(const rating::WeldRating& weld) {
  constexpr auto& faults = sites::notes_of_faults;
  std::vector<Message> notes;
  const auto same = [](const Message& a, const Message& b) {
    return a.id == b.id && std::equal(a.arguments.begin(), a.arguments.end(), b.arguments.begin(),
                                      b.arguments.end(), [](const Argument& x, const Argument& y) {
                                        return x.name == y.name && x.value == y.value;
                                      });
  };
  for (const rating::SiteRating& site : weld.sites)
    for (const Evidence& e : site.evidence.because)
      for (const Message& note : e.notes)
        if (std::find(faults.begin(), faults.end(), note.id) != faults.end() &&
            std::none_of(notes.begin(), notes.end(), [&](const Message& n) { return same(n, note); }))
          notes.push_back(note);
  return notes;
}

namespace {

void append(Document& d, std::vector<Block> blocks) {
  for (Block& block : blocks) d.blocks.push_back(std::move(block));
}

}  // namespace

namespace {

Cell value_cell(const Argument& value) {
  const auto* words = std::get_if<std::string>(&value.value);
  return words ? Cell(Verbatim{*words}) : Cell(Quantity{std::get<double>(value.value), value.unit, 4});
}

// Notes as sentences; the defaults that the files leave as they are in one table.
std::vector<Block> note_blocks(const std::vector<Message>& notes) {
  std::vector<Block> blocks;
  Table defaults = table_of({"column.key", "column.value"});
  for (const Message& note : notes) {
    if (note.id != MessageId("assumption.default"))
      blocks.emplace_back(Paragraph{note});
    else
      defaults.rows.push_back({Verbatim{std::get<std::string>(note.arguments.at(0).value)}, value_cell(note.arguments.at(1))});
  }
  if (defaults.rows.empty()) return blocks;
  blocks.emplace_back(Heading{2, message_of("assumption.title")});
  blocks.emplace_back(std::move(defaults));
  return blocks;
}

}  // namespace

Document rating_document(const rating::Rating& r) {
  Document d;
  d.title = {"rating.title", {text("design", r.design.name)}};
  const rating::WeldRating& worst = r.welds[0];
  d.blocks.push_back(Answer{State{name_of(r.verdict)}, answer_of(r)});
  d.blocks.push_back(cautions());
  if (!r.shape.empty()) d.blocks.push_back(Paragraph{message_of("shape.rated-findings")});
  for (const Message& finding : r.shape) d.blocks.push_back(Paragraph{finding});
  append(d, prediction_blocks(r));
  append(d, summary_blocks(r));
  append(d, load_question_blocks(r));
  d.blocks.push_back(facts_of(r));
  d.blocks.push_back(confidence_of(r));
  d.blocks.push_back(Heading{2, message_of("rating.welds")});
  d.blocks.push_back(welds_of(r));
  append(d, unrated_blocks(r));
  append(d, budget_blocks(r));
  append(d, prediction_notes(r));
  d.blocks.push_back(Heading{2, message_of("rating.format")});
  d.blocks.push_back(Paragraph{message_of("rating.format-why")});
  d.blocks.push_back(format_of(r));
  d.blocks.push_back(Heading{2, {"rating.why", {text("weld", worst.id)}}});
  d.blocks.push_back(Reasons{{reason_of(worst.sites[0].evidence)}});
  d.blocks.push_back(Heading{2, message_of("rating.legs")});
  d.blocks.push_back(legs_of(r));
  d.blocks.push_back(Heading{2, message_of("rating.sources")});
  d.blocks.push_back(Paragraph{message_of("rating.sources-alone")});
  d.blocks.push_back(sources_of(r));
  d.blocks.push_back(Heading{2, message_of("rating.states")});
  d.blocks.push_back(states_of(r));
  d.blocks.push_back(Heading{2, message_of("rating.notes")});
  d.blocks.push_back(Paragraph{message_of("rating.thin-walls")});
  d.blocks.push_back(Paragraph{message_of("assumption.model")});
  append(d, note_blocks(r.notes));
  d.foot = {{"foot.catalog", {text("hash", r.catalog_sha256.substr(0, 12))}}};
  return d;
}

const rating::WeldRating& rated_weld(const rating::Rating& r, const std::string& id) {
  std::vector<std::string> known;
  for (const rating::WeldRating& w : r.welds) {
    if (w.id == id) return w;
    known.push_back(w.id);
  }
  throw Fault{
      Message{"rating.unknown-weld", {text("weld", id), text("nearest", published::nearest_or_some(id, known))}}};
}

Document both_document(const rating::Rating& time, const rating::Rating& spectral) {
  Document d = rating_document(time);
  Table t;
  for (const MessageId id : MessageIds{"column.weld", "column.site", "column.damage-time",
                                       "column.damage-spectral", "column.ratio"})
    t.columns.push_back(message_of(id));
  double least = std::numeric_limits<double>::infinity(), most = 0, apart = 0;
  for (const rating::WeldRating& w : time.welds) {
    const rating::SiteRating& s = w.sites[0];
    const auto& others = rated_weld(spectral, w.id).sites;
    const auto same =
        std::find_if(others.begin(), others.end(), [&](const auto& o) { return o.site == s.site; });
    const double ratio = same->damage / s.damage;
    t.rows.push_back({Verbatim{w.id}, site_cell(s.site), Quantity{s.damage, "", 2},
                      Quantity{same->damage, "", 2}, Quantity{ratio, "", 2}});
    if (!(s.damage > 1e-3)) continue;  // both say that nothing happens
    least = std::min(least, ratio);
    most = std::max(most, ratio);
    if (std::abs(ratio - 1) > 0.15) ++apart;
  }
  d.blocks.emplace_back(Heading{2, message_of("rating.both")});
  if (most > 0)
    d.blocks.emplace_back(
        Paragraph{{"rating.agreement", {number("least", least, ""), number("most", most, "")}}});
  if (apart > 0) d.blocks.emplace_back(Paragraph{{"rating.apart", {number("count", apart, "")}}});
  d.blocks.emplace_back(std::move(t));
  return d;
}

Document both_weld_document(const rating::Rating& time, const rating::Rating& spectral,
                            const std::string& weld) {
  Document d = weld_document(time, weld);
  Table t;
  for (const MessageId id :
       MessageIds{"column.site", "column.damage-time", "column.damage-spectral", "column.ratio"})
    t.columns.push_back(message_of(id));
  const auto& others = rated_weld(spectral, weld).sites;
  for (const rating::SiteRating& s : rated_weld(time, weld).sites)
    for (const rating::SiteRating& o : others)
      if (o.site == s.site)
        t.rows.push_back({site_cell(s.site), Quantity{s.damage, "", 2}, Quantity{o.damage, "", 2},
                          Quantity{o.damage / s.damage, "", 2}});
  d.blocks.emplace_back(Heading{2, message_of("rating.both")});
  d.blocks.emplace_back(std::move(t));
  return d;
}

Document rules_document(const std::vector<rating::Rating>& ratings) {
  Document d;
  d.title = {"rating.rules-title", {text("design", ratings[0].design.name)}};
  d.blocks.push_back(cautions());
  Table formats, lives;
  for (const MessageId id : MessageIds{"rating.rules", "rating.load-factor", "rating.partial-factor",
                                       "rating.dff", "rating.damage-limit", "column.weld", "column.verdict"})
    formats.columns.push_back(message_of(id));
  lives.columns.push_back(message_of("column.weld"));
  for (const rating::Rating& r : ratings) {
    formats.rows.push_back(
        {term_cell("rule-set.", name_of(r.rules.set)), Quantity{r.rules.load_factor, "", 3},
         Quantity{r.rules.partial_factor, "", 3}, Quantity{r.rules.design_fatigue_factor, "", 3},
         Quantity{r.rules.damage_limit, "", 3}, Verbatim{r.governing_weld}, State{name_of(r.verdict)}});
    for (const MessageId id : MessageIds{"column.site-of", "column.life-bare-of", "column.life-of"})
      lives.columns.push_back({id, {term_argument("set", "rule-set.", name_of(r.rules.set))}});
  }
  for (const rating::WeldRating& first : ratings[0].welds) {
    std::vector<Cell> row{Verbatim{first.id}};
    for (const rating::Rating& r : ratings) {
      const rating::SiteRating& s = rated_weld(r, first.id).sites[0];
      row.insert(row.end(),
                 {site_cell(s.site), Quantity{s.life_km_predicted, "km", 2}, Quantity{s.life_km, "km", 2}});
    }
    lives.rows.push_back(std::move(row));
  }
  d.blocks.emplace_back(Heading{2, message_of("rating.formats")});
  d.blocks.emplace_back(std::move(formats));
  d.blocks.emplace_back(Heading{2, message_of("rating.differ")});
  for (const MessageId id : MessageIds{"rating.differ-curves", "rating.differ-safety", "rating.differ-pairs",
                                       "rating.differ-root"})
    d.blocks.emplace_back(Paragraph{message_of(id)});
  d.blocks.emplace_back(Heading{2, message_of("rating.welds")});
  d.blocks.emplace_back(std::move(lives));
  d.foot = {{"foot.catalog", {text("hash", ratings[0].catalog_sha256.substr(0, 12))}}};
  return d;
}

Document joints_document(const rating::Rating& rigid, const rating::Rating& flexible) {
  Document d;
  d.title = {"rating.joints-title", {text("design", rigid.design.name)}};
  const rating::Rating& lower =
      flexible.welds[0].sites[0].life_km < rigid.welds[0].sites[0].life_km || flexible.verdict > rigid.verdict
          ? flexible
          : rigid;
  const rating::WeldRating& worst = lower.welds[0];
  d.blocks.push_back(Answer{
      State{name_of(lower.verdict)},
      {"rating.joints-answer", {text("weld", worst.id), number("life", worst.sites[0].life_km, "km")}}});
  d.blocks.push_back(cautions());
  Table t;
  for (const MessageId id :
       MessageIds{"column.weld", "column.life-rigid", "column.life-flexible", "column.ratio"})
    t.columns.push_back(message_of(id));
  for (const rating::WeldRating& w : rigid.welds) {
    const double stiff = w.sites[0].life_km, soft = rated_weld(flexible, w.id).sites[0].life_km;
    t.rows.push_back(
        {Verbatim{w.id}, Quantity{stiff, "km", 2}, Quantity{soft, "km", 2}, Quantity{soft / stiff, "", 2}});
  }
  d.blocks.push_back(std::move(t));
  d.blocks.push_back(Paragraph{message_of("rating.joints-source")});
  d.foot = {{"foot.catalog", {text("hash", rigid.catalog_sha256.substr(0, 12))}}};
  return d;
}

Table checks_table(const rating::WeldRating& w) {
  Table t;
  for (const MessageId id : MessageIds{"column.check", "column.site", "column.curve", "column.range", "column.life-bare-km"})
    t.columns.push_back(message_of(id));
  for (const rating::SiteRating& s : w.checks) {
    const bool crack = sites::place::slit_crack == s.kind;
    const bool through = sites::place::through_crack == s.kind;
    const Message label{through                            ? MessageId("rating.check-through-crack")
                        : crack                              ? "rating.check-slit-crack"
                        : sites::place::root_leg == s.kind ? MessageId("rating.check-root-leg")
                        : sites::place::open_root == s.kind ? MessageId("rating.check-root-open")
                                                            : "rating.check-root-even",
                        {}};
    t.rows.push_back({label, site_cell(s.site), curve_cell(s.curve), Quantity{s.largest_range_mpa, crack ? "N/mm^1.5" : "MPa", 3},
                      life_cell(s.life_km_unfactored, false)});
  }
  return t;
}

Document weld_document(const rating::Rating& r, const std::string& weld_id) {
  const rating::WeldRating& w = rated_weld(r, weld_id);
  Document d;
  d.title = {w.joint.empty()   ? "rating.notch-title"
             : w.chord.empty() ? MessageId("rating.end-title")
                               : "rating.weld-title",
             {text("weld", w.id), text("member", w.member.empty() ? w.kind : w.member), term_argument("kind", "joint-kind.", w.kind),
              text("chord", w.chord), text("joint", w.joint)}};
  Table t;
  for (const MessageId id :
       MessageIds{"column.site", "column.curve", "column.range", "column.predicted-km", "column.used", "column.life-bare-km",
                  "column.format-km", "column.coverage", "column.verdict"})
    t.columns.push_back(message_of(id));
  for (const rating::SiteRating& s : w.sites)
    t.rows.push_back({site_cell(s.site), curve_cell(s.curve), Quantity{s.largest_range_mpa, "MPa", 3},
                      life_cell(s.life_km_predicted, s.at_least), damage_cell(s.used(), s.at_least),
                      life_cell(s.life_km_unfactored, s.at_least), life_cell(s.life_km, s.at_least), State{name_of(s.coverage)},
                      State{name_of(s.verdict)}});
  d.blocks.emplace_back(cautions());
  d.blocks.emplace_back(std::move(t));
  d.blocks.emplace_back(Paragraph{path_sentence(w.path)});
  if (w.growth.km > 0) d.blocks.emplace_back(Paragraph{growth_sentence(w)});
  if (!w.checks.empty()) {
    d.blocks.emplace_back(Heading{2, message_of("rating.checks")});
    d.blocks.emplace_back(checks_table(w));
  }
  d.foot = {{"foot.catalog", {text("hash", r.catalog_sha256.substr(0, 12))}}};
  if (const std::string drawing(published::drawing_of(w.kind)); !drawing.empty())
    d.blocks.emplace_back(Drawing{drawing, {"drawing.sites", {term_argument("kind", "joint-kind.", w.kind)}}});
  return d;
}

}  // namespace seamwright::reports
