// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/test_plan.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/fatigue/fit.h"
#include "engine/rating/memory.h"
#include "engine/rating/parts.h"
#include "engine/rating/rating_likelihood.h"
#include "engine/rules/safety.h"

namespace seamwright::study {

namespace {

using frame::Vec3;

constexpr double two_million = 2e6;
constexpr double outcome_ratios[] = {0.3, 0.5, 1, 2, 3};

// The job's joints with their models, its frame and all its sites with the model's own stress.
struct ModelledFrame {
  rating::Job job;  // without a bias on loads: a rig's force is what it is
  double load_bias = 1;  // the service's own
  rating::JointsOfJob joints;
  frame::Frame cut;
  std::vector<sites::Site> sites;
  frame::Assembly assembly;
};

ModelledFrame modelled_frame(const rating::Job& asked, const rules::Published& published) {
  rating::Job job = asked;
  job.rules.load_bias = 1;
  rating::JointsOfJob joints = rating::joints_of(job);
  frame::Frame cut = rating::jointed_frame(job, joints);
  std::vector<sites::Site> sites = rating::sites_of(job, cut, published, joints.modelled);
  frame::Assembly assembly = frame::assemble(cut, frame::Footing::tyres);
  return {std::move(job), asked.rules.load_bias, std::move(joints), std::move(cut), std::move(sites), std::move(assembly)};
}

// A weld in its joint's model.
struct SeamPlace {
  std::size_t joint = 0, seam = 0;
};

std::optional<SeamPlace> seam_of(const ModelledFrame& f, const std::string& weld) {
  for (std::size_t j = 0; j < f.joints.modelled.size(); ++j) {
    const std::vector<std::string>& welds = f.joints.modelled[j].joint.welds;
    const auto found = std::find(welds.begin(), welds.end(), weld);
    if (found != welds.end()) return SeamPlace{j, static_cast<std::size_t>(found - welds.begin())};
  }
  return {};
}

// The places of a joint under one force of the rig.
class LoadedPlaces {
 public:
  LoadedPlaces(const ModelledFrame& f, std::size_t joint, const Eigen::MatrixXd& at_ends) : f_(f), limit_(rules::safety_of(f.job.rules).damage_limit) {
    const Eigen::Index first = f.assembly.bodies[joint].first_row;
    const std::vector<std::string>& welds = f.joints.modelled[joint].joint.welds;
    for (std::size_t i = 0; i < f.sites.size(); ++i) {
      const sites::Site& s = f.sites[i];
      if (s.aside || !s.curve || s.weld >= f.job.design.welds.size() || std::find(welds.begin(), welds.end(), weld_of(s)) == welds.end()) continue;
      indices_.push_back(i);
    }
    forces_ = Eigen::MatrixXd::Zero(frame::section_force_count(f.assembly), at_ends.cols());
    forces_.middleRows(first, at_ends.rows()) = at_ends;
  }

  const std::vector<std::size_t>& indices() const { return indices_; }
  const std::string& weld_of(const sites::Site& s) const { return f_.job.design.welds[s.weld].id; }
  const Eigen::MatrixXd& forces() const { return forces_; }

  // Signed by the part across the weld; both parts of a throat's stress add.
  double mpa_per_n(std::size_t site, TestForce force) const {
    const auto column = static_cast<Eigen::Index>(force);
    const double stress = f_.sites[site].row.dot(forces_.col(column)), more = f_.sites[site].shear.dot(forces_.col(column));
    return stress + (stress < 0 ? -std::abs(more) : std::abs(more));
  }

  double damage(std::size_t site, TestForce force, double range_n) const {
    const sites::Site& s = f_.sites[site];
    const double range = range_of(site, force, range_n), direct = 1 / fatigue::cycles_to_failure(*s.curve, range);
    if (s.beside == std::string::npos || !f_.sites[s.beside].curve) return direct;
    const double along = range_of(s.beside, force, range_n), shear = 1 / fatigue::cycles_to_failure(*f_.sites[s.beside].curve, along);
    return f_.job.rules.set->joined_damage({direct, shear, range, along, limit_});
  }

  // Median of the mean curve.
  double cycles(std::size_t site, TestForce force, double range_n) const {
    const double above = f_.job.rules.set->below_mean * rating::curve_deviation(f_.job.rules, *f_.sites[site].curve);
    return std::exp(above) / damage(site, force, range_n);
  }

 private:
  double range_of(std::size_t site, TestForce force, double range_n) const {
    const sites::Site& s = f_.sites[site];
    return range_n * std::abs(mpa_per_n(site, force)) * s.size_factor * fatigue::thickness_factor(*s.curve, s.thickness_mm);
  }

  const ModelledFrame& f_;
  double limit_;
  std::vector<std::size_t> indices_;
  Eigen::MatrixXd forces_;
};

// The place of these with the fewest cycles.
std::size_t soonest(const LoadedPlaces& places, const std::vector<std::size_t>& among, TestForce force, double range_n) {
  return *std::min_element(among.begin(), among.end(), [&](std::size_t a, std::size_t b) {
    return places.cycles(a, force, range_n) < places.cycles(b, force, range_n);
  });
}

// The range of the force at which the first of these places has so many cycles; 0: at none.
double range_for(const LoadedPlaces& places, const std::vector<std::size_t>& among, TestForce force, double cycles) {
  const auto least = [&](double range_n) { return places.cycles(soonest(places, among, force, range_n), force, range_n); };
  double low = 1e-3, high = 1e8;
  if (!(least(high) < cycles)) return 0;
  for (int i = 0; i < 100; ++i) {
    const double middle = std::sqrt(low * high);
    (least(middle) > cycles ? low : high) = middle;
  }
  return std::sqrt(low * high);
}

// The force of the actuator that stands for what the brace brings in service, as a row over the section forces: its axial
// force, or its moment at the weld's toe over the lever.
sites::Row service_force(const ModelledFrame& f, const SeamPlace& at, const Specimen& piece, TestForce force) {
  const Vec3 direction = piece.direction(force), about = piece.brace.cross(direction);
  const Vec3 toe = piece.node_mm + piece.loaded_tube().toe_mm * piece.brace, arm = piece.loaded_tube().model_end_mm - toe;
  Eigen::Matrix<double, 6, 1> weights = Eigen::Matrix<double, 6, 1>::Zero();
  if (force == TestForce::axial)
    weights.head<3>() = direction;
  else  // (m + arm x f) . about
    weights << about.cross(arm) / piece.lever_mm(), about / piece.lever_mm();
  sites::Row row(frame::section_force_count(f.assembly));
  const Eigen::Index first = f.assembly.bodies[at.joint].first_row + 6 * static_cast<Eigen::Index>(piece.loaded);
  for (Eigen::Index c = 0; c < 6; ++c) row.insertBack(first + c) = weights[c];
  return row;
}

// A weld's governing place as the service loads it, then by each of test_forces alone.
std::vector<sites::Site> served_places(const ModelledFrame& f, const SeamPlace& at, const Specimen& piece, const LoadedPlaces& places,
                                       std::size_t governing) {
  sites::Site site = f.sites[governing];
  site.evidence = {};
  site.beside = std::string::npos;
  site.row *= f.load_bias;
  site.shear *= f.load_bias;
  std::vector<sites::Site> out{site};
  site.shear = sites::Row(site.row.size());
  for (const TestForce force : test_forces) {
    site.row = f.load_bias * places.mpa_per_n(governing, force) * service_force(f, at, piece, force);
    out.push_back(site);
  }
  return out;
}

std::vector<ForceChoice> choices_of(const rating::Service& service, cycles::RangeModel model, const LoadedPlaces& places, std::size_t governing) {
  const double one[] = {1.0}, whole = rating::damages_per_year(service, model, 0, one)[0];
  std::vector<ForceChoice> out;
  for (const TestForce force : test_forces)
    out.push_back({force, rating::damages_per_year(service, model, 1 + static_cast<std::size_t>(force), one)[0] / whole,
                   places.mpa_per_n(governing, force)});
  return out;
}

double yield_of(const frame::Frame& frame, const Specimen& piece, const std::string& member) {
  for (const SpecimenTube& t : piece.tubes)
    for (const frame::Material& m : frame.materials)
      if (t.member == member && m.id == t.material) return m.haz_yield_mpa > 0 ? m.haz_yield_mpa : m.yield_mpa;
  return 0;
}

TestPlace place_at(const ModelledFrame& f, const LoadedPlaces& places, std::size_t site, TestForce force, double range_n) {
  return {places.weld_of(f.sites[site]), sites::name_of(f.sites[site]), places.mpa_per_n(site, force), places.cycles(site, force, range_n)};
}

// The force as a range, below yield, and the places that it cracks.
void set_force(const ModelledFrame& f, const LoadedPlaces& places, const std::vector<std::size_t>& alike, const SpecimenForces& forces,
               const TestWishes& wishes, WeldTest& t) {
  const auto column = static_cast<Eigen::Index>(t.force);
  t.nominal_member = forces.where[static_cast<std::size_t>(column)];
  t.yield_mpa = yield_of(f.cut, t.specimen, t.nominal_member);
  double range = range_for(places, alike, t.force, wishes.cycles);
  const double most = t.yield_mpa / forces.nominal_mpa[column] * (1 - wishes.ratio);
  t.lowered = t.yield_mpa > 0 && range > most;
  if (t.lowered) range = most;
  const std::size_t place = soonest(places, alike, t.force, range);
  const double sign = places.mpa_per_n(place, t.force) < 0 ? -1 : 1;
  t.force_range_n = range;
  t.greatest_n = sign * range / (1 - wishes.ratio);
  t.least_n = wishes.ratio * t.greatest_n;
  t.nominal_mpa = std::abs(t.greatest_n) * forces.nominal_mpa[column];
  t.stroke_mm = range * forces.stroke_mm[column];
  t.place = place_at(f, places, place, t.force, range);
  t.first = place_at(f, places, soonest(places, places.indices(), t.force, range), t.force, range);
  t.range_mpa = range * std::abs(t.place.mpa_per_n);
  const sites::Site& site = f.sites[place];
  t.curve = site.curve->id;
  t.stress = site.kind == sites::place::root ? fatigue::StressKind::throat
             : site.kind.part == sites::JointPart::toe ? fatigue::StressKind::hot_spot
                                                       : fatigue::StressKind::nominal;  // as the job takes own details
  t.place_kind = site.kind.name;
  t.wall_mm = site.thickness_mm;
  t.joint_deviation = rating::local_deviation(site);
  t.curve_deviation = rating::curve_deviation(f.job.rules, *site.curve);
  t.slope = std::log(places.cycles(place, t.force, 0.99 * range) / places.cycles(place, t.force, 1.01 * range)) / std::log(1.01 / 0.99);
}

// The pieces' mean curve has this stress at so many cycles, by the slope at the test.
double stress_for(const WeldTest& t, double median, double cycles) { return t.range_mpa * std::pow(median / cycles, 1 / t.slope); }

void add_statistics(const ModelledFrame& f, const TestWishes& wishes, WeldTest& t) {
  t.pieces = wishes.pieces;
  t.one = interval_80(t.place.cycles, cycles_deviation(t.slope, t.joint_deviation, t.curve_deviation, 1));
  t.mean = interval_80(t.place.cycles, cycles_deviation(t.slope, t.joint_deviation, t.curve_deviation, t.pieces));
  t.run_out = run_out_times * t.place.cycles;
  t.half_width = mean_half_width(t.curve_deviation / std::log(10.0), t.pieces);
  t.deviation_left = t.curve_deviation / (t.slope * std::sqrt(t.pieces));
  const double below = std::exp(-f.job.rules.set->below_mean * t.curve_deviation);
  t.class_mpa_2e6 = stress_for(t, t.place.cycles * below, two_million);
}

void add_outcomes(const ModelledFrame& f, const rating::Service& service, WeldTest& t) {
  const fatigue::FitOptions how;
  const double below = fatigue::tolerance_factor(t.pieces, t.pieces - 1, how.survival, how.confidence) * t.curve_deviation;
  const fatigue::Scatter scatter = rating::scatter_of(f.job.rules);
  std::vector<double> factors;
  for (const double ratio : outcome_ratios) factors.push_back(joint_bias(ratio, t.slope));
  factors.insert(factors.end(), {1.0, 0.95, 1.05});
  const std::vector<double> damages = rating::damages_per_year(service, f.job.range_model, 0, factors);
  const std::size_t as_is = std::size(outcome_ratios);
  const double slope = std::log(damages[as_is + 2] / damages[as_is + 1]) / std::log(1.05 / 0.95);
  const double deviation = std::hypot(slope * std::hypot(scatter.of_design(), t.deviation_left), scatter.miner);
  for (std::size_t i = 0; i < as_is; ++i) {
    TestOutcome o;
    o.cycles_ratio = outcome_ratios[i];
    o.joint_bias = factors[i];
    o.life = t.life.median * damages[as_is] / damages[i];
    o.life_interval = interval_80(o.life, deviation);
    o.mean_mpa_2e6 = stress_for(t, o.cycles_ratio * t.place.cycles, two_million);
    o.design_mpa_2e6 = stress_for(t, o.cycles_ratio * t.place.cycles * std::exp(-below), two_million);
    t.outcomes.push_back(o);
  }
}

std::vector<std::string> alike_welds(const ModelledFrame& f, const Specimen& piece) {
  std::vector<std::string> out;
  for (std::size_t j = 0; j < f.joints.modelled.size(); ++j)
    for (std::size_t s = 0; s < f.joints.modelled[j].joint.welds.size(); ++s) {
      const std::optional<Specimen> other = f.joints.modelled[j].joint.welds[s] == piece.weld ? std::nullopt : specimen_of(f.job.design, f.joints.modelled[j], s);
      if (other && alike(piece, *other)) out.push_back(other->weld);
    }
  return out;
}

// A test of a weld, or why there is none.
struct WeldAnswer {
  std::optional<WeldTest> test;
  Message why{};
};

WeldAnswer test_of(const ModelledFrame& f, const rating::WeldRating& weld, const TestWishes& wishes, rating::Memory& memory) {
  const auto none = [&](MessageId id) { return WeldAnswer{{}, {id, {text("weld", weld.id)}}}; };
  if (weld.rejected) return none("testplan.rejected");
  if (!std::isfinite(weld.predicted.life.median)) return none("testplan.no-life");
  const std::optional<SeamPlace> at = seam_of(f, weld.id);
  if (!at) return none("testplan.no-model");
  const solid::ModelledJoint& joint = f.joints.modelled[at->joint];
  std::optional<Specimen> piece = specimen_of(f.job.design, joint, at->seam);
  if (!piece) return none("testplan.no-end");
  const SpecimenForces forces = specimen_forces(*piece, joint);
  const LoadedPlaces places(f, at->joint, forces.at_ends);
  std::vector<std::size_t> alike;
  std::optional<std::size_t> governing;
  for (const std::size_t i : places.indices())
    if (places.weld_of(f.sites[i]) == weld.id && f.sites[i].kind == weld.sites[0].kind) {
      alike.push_back(i);
      if (sites::name_of(f.sites[i]) == weld.governing_site) governing = i;
    }
  if (!governing) return none("testplan.no-place");
  const rating::Service service = rating::prepare(f.job, f.cut, served_places(f, *at, *piece, places, *governing), 1, memory);
  WeldTest t;
  t.specimen = std::move(*piece);
  t.kind = weld.kind;
  t.alike = alike_welds(f, t.specimen);
  t.governing_site = weld.governing_site;
  t.life = weld.predicted.life;
  t.choices = choices_of(service, f.job.range_model, places, *governing);
  t.force = std::max_element(t.choices.begin(), t.choices.end(), [](const auto& a, const auto& b) { return a.damage_share < b.damage_share; })->force;
  if (!(range_for(places, alike, t.force, wishes.cycles) > 0)) return none("testplan.no-stress");
  set_force(f, places, alike, forces, wishes, t);
  add_statistics(f, wishes, t);
  add_outcomes(f, service, t);
  return {std::move(t)};
}

void check_wishes(const TestWishes& w) {
  const auto refuse = [](const char* what, double value, double least, double most) {
    if (value >= least && value <= most) return;
    throw Fault(Message{"testplan.bad-wish", {text("what", what), number("value", value, ""), number("least", least, ""), number("most", most, "")}}, Category::usage);
  };
  refuse("pieces", w.pieces, 2, 100);
  refuse("cycles", w.cycles, 1e4, two_million);
  refuse("ratio", w.ratio, 0, 0.9);
}

// Those with the shortest predicted lives first.
std::vector<const rating::WeldRating*> by_life(const rating::Rating& rating) {
  std::vector<const rating::WeldRating*> out;
  for (const rating::WeldRating& w : rating.welds)
    if (!w.joint.empty() && std::isfinite(w.predicted.life.median)) out.push_back(&w);
  std::stable_sort(out.begin(), out.end(), [](const auto* a, const auto* b) { return a->predicted.life.median < b->predicted.life.median; });
  return out;
}

// Welds with one reason stand in one message.
void leave_out(const Message& why, std::vector<Message>& left_out) {
  const auto same = std::find_if(left_out.begin(), left_out.end(), [&](const Message& m) { return m.id == why.id; });
  if (same == left_out.end())
    left_out.push_back(why);
  else
    std::get<std::string>(same->arguments[0].value) += ", " + std::get<std::string>(why.arguments[0].value);
}

}  // namespace

TestPlan test_plan(const rating::Job& job, const rules::Published& published, const rating::Rating& rating, const TestWishes& wishes,
                   rating::Memory& memory) {
  check_wishes(wishes);
  const ModelledFrame f = modelled_frame(job, published);
  TestPlan plan;
  for (const std::string& id : wishes.welds) {
    const auto named = std::find_if(rating.welds.begin(), rating.welds.end(), [&](const auto& w) { return w.id == id; });
    if (named == rating.welds.end()) throw Fault{Message{"rating.unknown-weld", {text("weld", id), text("nearest", "")}}};
    WeldAnswer answer = test_of(f, *named, wishes, memory);
    if (!answer.test) throw Fault{answer.why};
    plan.tests.push_back(std::move(*answer.test));
  }
  if (!wishes.welds.empty()) return plan;
  for (const rating::WeldRating* weld : by_life(rating)) {
    if (plan.tests.size() == wishes.most) break;
    const auto stands_for = [&](const WeldTest& t) { return std::find(t.alike.begin(), t.alike.end(), weld->id) != t.alike.end(); };
    if (std::any_of(plan.tests.begin(), plan.tests.end(), stands_for)) continue;
    WeldAnswer answer = test_of(f, *weld, wishes, memory);
    if (!answer.test) {
      leave_out(answer.why, plan.left_out);
      continue;
    }
    plan.tests.push_back(std::move(*answer.test));
  }
  return plan;
}

}  // namespace seamwright::study
