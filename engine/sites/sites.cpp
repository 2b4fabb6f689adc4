// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/sites/sites.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string_view>

#include "engine/sites/faulty_welds.h"
#include "engine/sites/site_maker.h"

namespace seamwright::sites {

namespace {

std::string origin_of(const Site& site, const rules::Detail& detail) {
  if (!site.kind.stress_from.empty()) return std::string(site.kind.stress_from);
  if (site.kind.part == JointPart::root && detail.stress == fatigue::StressKind::throat) return "throat";
  return detail.stress == fatigue::StressKind::hot_spot ? "scf" : "nominal";
}

const design::OwnDetail* find_own(const design::Design& design, const std::string& kind,
                                  const SiteMaker::Place& place) {
  for (const design::OwnDetail& d : design.own_details)
    if (place.kind == d.place && std::find(d.kinds.begin(), d.kinds.end(), kind) != d.kinds.end() &&
        place.thickness_mm >= d.min_wall_mm * (1 - 1e-9) && place.thickness_mm <= d.max_wall_mm * (1 + 1e-9))
      return &d;
  return nullptr;
}

// Tested: inside, whatever the published sources say of such walls.
void take_own(const design::OwnDetail& own, joints::Layout layout, Site& site) {
  const bool toe = site.kind.part == JointPart::toe;
  const fatigue::StressKind given = site.kind == place::root ? fatigue::StressKind::throat
                                    : toe && layout == joints::Layout::tube_on_tube
                                        ? fatigue::StressKind::hot_spot
                                        : fatigue::StressKind::nominal;
  if (own.stress != given) {
    site.evidence.notes.push_back(
        {"rating.own-wrong-stress",
         {text("detail", own.id), text("tested", name_of(own.stress)), text("given", name_of(given))}});
    return;
  }
  site.curve = &own.curve;
  site.at_least = false;
  site.evidence.coverage = Coverage::inside;
  site.evidence.notes.push_back({"rating.own-detail", {text("detail", own.id), text("by", own.by)}});
}

// The detail's curve in the environment of the place, if the stress may go with it.
void find_curve(const rules::Published& published, const rules::Rules& rules, const rules::Detail& detail,
                std::string_view stress_from, Site& site) {
  const std::string set = name_of(detail.set),
                    environment = name_of(site.kind.part == JointPart::root ? rules.environment_inside
                                                                            : rules.environment_outside);
  const std::string from = stress_from.empty() ? origin_of(site, detail) : std::string(stress_from);
  const rules::Pairing pairing = rules::pairing_of(published, *detail.set, from, detail.stress);
  if (pairing == rules::Pairing::refused) {
    site.evidence.notes.push_back({"rating.pair-refused", {term_argument("set", "rule-set.", set), term_argument("stress", "stress-kind.", from)}});
    return;
  }
  site.curve = rules::curve_of(published, *detail.set, detail.curve, environment);
  if (!site.curve && !detail.curve.empty())
    site.evidence.notes.push_back(
        {"rating.no-environment",
         {term_argument("set", "rule-set.", set), term_argument("curve", "curve-name.", detail.curve), term_argument("environment", "environment.", environment)}});
  if (site.curve && pairing == rules::Pairing::engineering) {
    site.evidence.coverage = worse_coverage(site.evidence.coverage, Coverage::extended);
    site.evidence.notes.push_back({"rating.pair-engineering", {term_argument("set", "rule-set.", set)}});
  }
}

// A fault of the finished weld that no published rule takes: the number of the faultless weld stays as a
// bound, and the place is not covered until it is repaired. At the toes and in the wall beside them: undercut
// of more than 0.05 of the wall, the least of IIW 2008 for the best fillet class [from memory]; at the toes a
// cap of more than a tenth of its width (EN 1993-1-9, Table 8.6 rows 3 and 4 [from memory]). Everywhere: an
// offset, but for a splice, which has a rule; what no size of the weld stands for.
void bound_when_faulty(const joints::Weld& weld, const SiteMaker::Place& place, Site& site) {
  const auto leave = [&](WeldFault fault, std::vector<Argument> with) {
    site.at_least = true;
    site.evidence.coverage = Coverage::none;
    site.evidence.notes.push_back({notes_of_faults[static_cast<std::size_t>(fault)], std::move(with)});
  };
  const bool toe = site.kind.part == JointPart::toe, beside = toe || site.kind.part == JointPart::wall_beside;
  if (beside && weld.undercut_mm > 0.05 * place.thickness_mm * (1 + 1e-9))
    leave(WeldFault::undercut,
          {number("undercut", weld.undercut_mm, "mm"), number("most", 0.05 * place.thickness_mm, "mm")});
  if (toe && weld.cap_mm > 0 && !(weld.cap_width_mm > 0))
    leave(WeldFault::cap_without_width, {number("cap", weld.cap_mm, "mm")});
  else if (toe && weld.cap_mm > 0.1 * weld.cap_width_mm * (1 + 1e-9))
    leave(WeldFault::cap, {number("cap", weld.cap_mm, "mm"), number("most", 0.1 * weld.cap_width_mm, "mm")});
  if (weld.offset_mm > 0 && weld.kind != "tube-splice")
    leave(WeldFault::offset, {number("offset", weld.offset_mm, "mm")});
  for (const joints::Flaw& flaw : weld.flaws)
    leave(flaw.rejects ? WeldFault::rejected : WeldFault::not_rated,
          {text("imperfection", flaw.imperfection), number("value", flaw.mm, "mm")});
}

// The set's own rule for thickness or diameter, as a factor on stress; thinner gains nothing.
double size_factor(const rules::Detail& detail, double thickness_mm) {
  if (!(detail.size_reference_mm > 0 && thickness_mm > detail.size_reference_mm)) return 1;
  return std::pow(thickness_mm / detail.size_reference_mm, detail.size_exponent);
}

// Only where the job asks for it and the set allows it: no weld, or one relieved by heat; direct stress.
rules::EffectiveRange mean_stress_rule(const design::Design& design, const rules::Rules& rules,
                                       const Site& site) {
  const bool relieved = site.weld < design.welds.size() && design.welds[site.weld].stress_relieved;
  if (!rules.mean_stress_credit || site.kind.shear || !(relieved || site.kind.part == JointPart::notch))
    return nullptr;
  return rules.set->effective_range;
}

}  // namespace

Site& SiteMaker::push(const Place& place, const Row& row, const Evidence& rests_on) {
  Site site;
  site.weld = place.weld;
  site.kind = place.kind;
  site.angle_deg = place.angle_deg;
  site.row = row;
  site.shear = Row(size);
  site.thickness_mm = place.thickness_mm;
  site.at_least = place.bound;
  site.evidence = rests_on;
  if (const design::OwnDetail* own = find_own(design, design::subject_of(design, place.weld).kind, place)) {
    take_own(*own,
             place.weld < design.welds.size() ? design.welds[place.weld].layout : joints::Layout::unwelded,
             site);
  } else if (const rules::Detail* detail =
                 rules::detail_of(published, *rules.set, design::subject_of(design, place.weld).kind,
                                  std::string(place.kind.name), place.attachment_mm)) {
    site.evidence.from_memory = site.evidence.from_memory || detail->from_memory;
    find_curve(published, rules, *detail, place.stress_from, site);
    site.size_factor = size_factor(*detail, place.thickness_mm);
    if (site.size_factor > 1) site.evidence.inputs.push_back({"size_factor", site.size_factor, ""});
  }
  site.mean = mean_stress_rule(design, rules, site);
  if (site.mean)
    site.evidence.notes.push_back({"rating.mean-stress-credit", {term_argument("set", "rule-set.", name_of(rules.set))}});
  if (site.at_least) site.evidence.notes.push_back({"rating.at-least", {}});
  if (!site.curve) {
    site.evidence.coverage = Coverage::none;
    site.evidence.notes.push_back(
        {"rating.no-detail", {term_argument("set", "rule-set.", name_of(rules.set)), site_argument("place", std::string(place.kind.name))}});
  }
  if (place.weld < design.welds.size()) bound_when_faulty(design.welds[place.weld], place, site);
  sites.push_back(std::move(site));
  return sites.back();
}

void SiteMaker::push_not_covered(std::size_t weld, MessageId why) {
  push_not_covered(weld, Message{why, {text("weld", design::subject_of(design, weld).id)}});
}

void SiteMaker::push_not_covered(std::size_t weld, const Message& why) {
  const bool welded = weld < design.welds.size();
  Site site;
  site.weld = weld;
  site.kind = welded ? place::weld : place::notch;
  site.row = site.shear = Row(size);
  site.thickness_mm = 1;
  site.evidence.coverage = Coverage::none;
  site.evidence.notes.push_back(why);
  if (welded) bound_when_faulty(design.welds[weld], {weld, place::weld, 0, 1}, site);
  sites.push_back(std::move(site));
}

bool SiteMaker::has_detail(std::size_t weld, const PlaceKind& kind) const {
  const rules::Detail* d = rules::detail_of(published, *rules.set, design::subject_of(design, weld).kind,
                                            std::string(kind.name), 0);
  return d && !d->curve.empty();
}

std::pair<Station, Station> sides_of(const SiteMaker& maker, const joints::Weld& weld) {
  const frame::Member& chord = maker.index.member_of(weld.chord);
  const auto at = static_cast<std::size_t>(std::find(chord.nodes.begin(), chord.nodes.end(), weld.node) -
                                           chord.nodes.begin());
  std::pair<Station, Station> sides;
  if (at > 0) sides.first = station(maker.assembly, chord, at - 1, false);
  if (at + 1 < chord.nodes.size()) sides.second = station(maker.assembly, chord, at, true);
  return sides;
}

Evidence nominal_evidence() {
  Evidence e;
  e.figure = "nominal-stress";
  e.value = std::numeric_limits<double>::quiet_NaN();  // a way to a stress, not one stress
  e.unit = "MPa";
  e.source = {"seamwright", "beam theory"};
  return e;
}

namespace {

// The set takes both parts into one stress, with a share of the square along the throat.
void push_joined_root(SiteMaker& maker, const SiteMaker::Place& place, const Row& across,
                      const Row& across_too, const Row& along, const Evidence& evidence) {
  const Row part = std::sqrt(maker.rules.set->throat.along) * along;
  maker.push(place, across, evidence).shear = across_too + part;
  if (across_too.nonZeros() == 0) return;
  SiteMaker::Place other = place;  // the other sign of the part along, five degrees on
  other.angle_deg += 5;
  maker.push(other, across, evidence).shear = across_too - part;
}

// The set rates the part along the throat on a shear class and joins the two.
void push_root_with_shear(SiteMaker& maker, const SiteMaker::Place& place, const Row& across,
                          const Row& across_too, const Row& along, const Evidence& evidence) {
  maker.push(place, across, evidence).shear = across_too;
  const std::size_t root = maker.sites.size() - 1;
  SiteMaker::Place shear = place;
  shear.kind = place::root_shear;
  maker.push(shear, along, evidence);
  maker.sites[root].beside = maker.sites.size() - 1;
}

}  // namespace

Evidence throat_evidence(const SiteMaker& maker, double throat_mm, double wall_mm) {
  Evidence e;
  e.figure = "throat-stress";
  e.value = std::numeric_limits<double>::quiet_NaN();
  e.unit = "MPa";
  e.source = maker.rules.set->throat.clause.source();
  e.from_memory = true;
  e.coverage = Coverage::extended;  // the force as the tube brings it, without the bending of its wall
  e.inputs = {{"throat", throat_mm, "mm"}, {"wall", wall_mm, "mm"}};
  return e;
}

void push_root(SiteMaker& maker, const SiteMaker::Place& place, const Row& across, const Row& across_too,
               const Row& along, const Evidence& evidence) {
  SiteMaker::Place at = place;
  at.bound = joints::at_tube_node(maker.design.welds[place.weld]);
  const bool joined = maker.rules.set->throat.along > 0;
  (joined ? push_joined_root : push_root_with_shear)(maker, at, across, across_too, along, evidence);
}

void push_root_of_model(SiteMaker& maker, const SiteMaker::Place& place, const Row& across, const Row& across_too, const Row& along,
                        const Evidence& evidence) {
  const bool joined = maker.rules.set->throat.along > 0;
  (joined ? push_joined_root : push_root_with_shear)(maker, place, across, across_too, along, evidence);
}

void set_aside(SiteMaker& maker, std::size_t first, const PlaceKind& kind, const PlaceKind& shear) {
  for (std::size_t i = first; i < maker.sites.size(); ++i) {
    Site& site = maker.sites[i];
    site.aside = true;
    site.at_least = false;
    site.kind = site.kind.shear ? shear : kind;
  }
}

std::string name_of(const Site& site) {
  std::string name(site.kind.name);
  if (site.kind.part == JointPart::whole_weld) return name;
  return name.append("@").append(std::to_string(static_cast<int>(std::lround(site.angle_deg))));
}

std::vector<Site> make_sites(const design::Design& design, const frame::Frame& cut_frame,
                             const frame::Assembly& assembly, const rules::Rules& rules,
                             const rules::Published& published, const std::vector<solid::ModelledJoint>& joints,
                             Checks checks) {
  SiteMaker maker{design, cut_frame, assembly,
                  rules,  published, frame::section_force_count(assembly), design::FrameIndex(cut_frame)};
  maker.joints = &joints;
  maker.checks = checks;
  maker.feet = shape::feet(design.frame, design.welds);
  maker.sites.reserve(64 *
                      design::subject_count(design));  // rows have no cheap move: growing would copy them all
  for (std::size_t i = 0; i < design.welds.size(); ++i) switch (design.welds[i].layout) {
      case joints::Layout::tube_on_tube:
      case joints::Layout::tube_end:
        add_tube_sites(maker, i);
        break;
      case joints::Layout::slotted:
      case joints::Layout::plate_on_tube:
        add_plate_sites(maker, i);
        break;
      case joints::Layout::unwelded:
        add_unwelded_sites(maker, i);
        break;
    }
  for (std::size_t i = 0; i < design.notches.size(); ++i) add_notch_sites(maker, i);
  for (std::size_t i = 0; i < design.bolts.size(); ++i) add_bolt_sites(maker, i);
  return std::move(maker.sites);
}

}  // namespace seamwright::sites
