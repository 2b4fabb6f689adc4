// SPDX-License-Identifier: GPL-3.0-or-later
// A bracket around the life of a whole frame, no calibration: frames of several makers and materials were pedalled to cracks on
// one rig, and the rating says when an assumed frame of light steel tubes would crack there. Nobody's frame is rated, so no bias
// follows from the ratio: it shows on which side the rating errs, and in which decade.
#include <algorithm>
#include <cmath>
#include <map>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/cycles/rainflow.h"
#include "engine/fatigue/likelihood.h"
#include "engine/frame/statics.h"
#include "engine/measured/rig_rating.h"
#include "engine/rating/rating_likelihood.h"
#include "engine/rating/service.h"
#include "tests/published/outside/outside.h"

namespace seamwright {

using outside::Expected;

namespace {

// The test has two stages: 268 and then 291 lbf on each pedal in turn.
constexpr double stage_cycles = 1e5, first_n = 1200, second_n = 1300;

// Two usual sets of tubes; top and down tube have walls of 0.9 mm.
struct Tubes {
  const char* name;
  double top_mm, down_mm, head_mm, head_wall_mm;
};
constexpr Tubes inch{"inch sizes", 25.4, 28.6, 31.8, 1}, oversize{"oversize", 28.6, 31.8, 36, 1.2};

// The rig of TBIS 4210-6:2019, 4.3.2.1: the rear axle stands on a stiff upright link, free to swivel about the axle above and on a
// ball joint below. Chainring and chain line are those of a duty that states none.
rating::Job frame_on_rig(const Tubes& tubes) {
  rating::Job job;
  job.design = files::read_design(SEAMWRIGHT_SOURCE_DIR "/tests/published/rating/road-frame/design.toml", published::catalog());
  job.duty.drive.chainring_radius_mm = 77;
  job.duty.drive.sprocket_radius_mm = 37;
  job.duty.drive.chain_offset_mm = 45;
  frame::Frame& f = job.design.frame;
  for (frame::Tube& t : f.tubes) {
    if (t.id == "top") t.section = frame::RoundTube{tubes.top_mm, 0.9};
    if (t.id == "down") t.section = frame::RoundTube{tubes.down_mm, 0.9};
    if (t.id == "head") t.section = frame::RoundTube{tubes.head_mm, tubes.head_wall_mm};
  }
  f.tubes.push_back({"link", frame::SolidBar{60}, f.tubes.front().material});
  const auto axle = std::find_if(f.nodes.begin(), f.nodes.end(), [](const frame::Node& n) { return n.id == "RW"; });
  const frame::Vec3 above = axle->position_mm;
  f.nodes.push_back({"link-top", above});
  f.nodes.push_back({"ball-joint", {above.x(), above.y(), 0}});
  frame::Member link;
  link.id = link.tube = "link";
  link.nodes = {"link-top", "ball-joint"};
  f.members.push_back(link);
  f.hinges.push_back({"swivel", "RW", "link-top", {0, 1, 0}});
  return job;
}

// The front axle stands on a rigid post, its hub free to swivel.
measured::RigCase pedalled(const rating::Job& job) {
  measured::RigCase c;
  c.id = "pedalled";
  c.cycles = stage_cycles;
  c.fixings = {{"Fa", {true, true, true, true, false, true}}, {"ball-joint", {true, true, true, false, false, false}}};
  c.steps = measured::pedalling_steps(job.design, job.duty.drive, first_n);
  return c;
}

struct SiteOnRig {
  std::size_t weld;
  const fatigue::Curve* curve;
  fatigue::DamageLaw law;
  double local_model;
  std::vector<cycles::Cycle> block;
  // A cycle's damage, with a factor on all forces.
  double damage(double factor) const {
    double sum = 0;
    for (const cycles::Cycle& c : block) sum += c.count * law.damage(factor * c.range());
    return sum;
  }
  // The damage after so many cycles of the test.
  double damage_after(double count, double factor) const {
    const double beyond = std::max(0.0, count - stage_cycles);
    return (count - beyond) * damage(factor) + beyond * damage(factor * second_n / first_n);
  }
};

// The site with most damage stands for each weld and curve.
std::vector<SiteOnRig> sites_on_rig(const rating::Job& job, const measured::RigCase& c) {
  const frame::Frame cut = rating::jointed_frame(job, {});
  const std::vector<sites::Site> sites = rating::sites_of(job, cut, published::catalog().data);
  frame::Frame held = cut;
  held.supports = c.fixings;
  const frame::Assembly assembly = frame::assemble(held, frame::Footing::supports);
  Eigen::MatrixXd loads(assembly.full_size, static_cast<Eigen::Index>(c.steps.size()));
  for (std::size_t k = 0; k < c.steps.size(); ++k)
    loads.col(static_cast<Eigen::Index>(k)) = frame::case_load(assembly, {c.id, c.steps[k], 0});
  const Eigen::MatrixXd forces = frame::section_force_map(assembly) * frame::Statics(assembly).solve(loads).displacements;
  std::map<std::pair<std::size_t, std::string>, SiteOnRig> worst;
  for (const sites::Site& s : sites) {
    if (!s.curve || s.aside) continue;
    Eigen::RowVectorXd stress = (forces.transpose() * Eigen::VectorXd(s.row)).transpose();
    if (s.shear.nonZeros() > 0) {
      const Eigen::RowVectorXd along = (forces.transpose() * Eigen::VectorXd(s.shear)).transpose();
      stress += (stress.dot(along) < 0 ? -1 : 1) * along;
    }
    const std::vector<double> steps(stress.begin(), stress.end());
    SiteOnRig one{s.weld, s.curve, fatigue::DamageLaw(*s.curve, s.size_factor * fatigue::thickness_factor(*s.curve, s.thickness_mm)),
                  rating::local_deviation(s), cycles::close_repeated(steps)};
    const auto [at, fresh] = worst.emplace(std::pair(s.weld, s.curve->id), one);
    if (!fresh && one.damage(1) > at->second.damage(1)) at->second = one;
  }
  std::vector<SiteOnRig> out;
  for (auto& [key, site] : worst) out.push_back(std::move(site));
  return out;
}

fatigue::Place place_after(const rating::Job& job, const SiteOnRig& site, double count) {
  fatigue::Place p;
  p.curve = rating::curve_deviation(job.rules, *site.curve);
  p.below_mean = job.rules.set->below_mean;
  p.local_model = site.local_model;
  for (const double factor : {0.1, 0.2, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0, 3.0}) {
    p.ln_stress.push_back(std::log(factor));
    p.ln_damage.push_back(std::log(site.damage_after(count, factor)));
  }
  return p;
}

// One frame has a crack by then. Forces are the rig's and amplitudes constant: what scatters is the model of frame and joints, and the curve.
double cracked_by(const rating::Job& job, const std::vector<SiteOnRig>& sites, double count) {
  std::map<std::size_t, fatigue::Place> welds;
  for (const SiteOnRig& s : sites) {
    fatigue::Place place = place_after(job, s, count);
    const auto [at, fresh] = welds.try_emplace(s.weld, place);
    if (!fresh) at->second.beside.push_back(std::move(place));
  }
  std::vector<fatigue::Place> places;
  for (auto& [weld, place] : welds) places.push_back(std::move(place));
  fatigue::Scatter scatter;
  scatter.frame_model = rating::scatter_of(job.rules).frame_model;
  return fatigue::frame_likelihood(places, scatter).probability;
}

double cycles_of_share(const rating::Job& job, const std::vector<SiteOnRig>& sites, double share) {
  double low = 1, high = 1e9;
  for (int i = 0; i < 30; ++i) {
    const double middle = std::sqrt(low * high);
    (cracked_by(job, sites, middle) < share ? low : high) = middle;
  }
  return std::sqrt(low * high);
}

}  // namespace

// The rating is early, and by how much is stated: for the top tube bent out of plane at the head tube the equations make hot-spot
// ranges of 1400 to 2500 MPa, more than such a wall carries elastically. Joints go by equations, as wherever no model of them is
// known. Each bound is what was found, rounded up: it may come down, never up. Nothing was varied until the decades met.
TEST_CASE("a light bicycle frame on the pedalling rig cracks by the rating no later than real ones did", "[night]") {
  SOURCE(measured,
         "Magazine test of 10/1997, read at second hand (hea-www.harvard.edu/~fine/opinions/frame-test.html): 268, then 291 lbf on the "
         "pedals, 100 000 cycles each; 9 of 14 frames of several materials failed, the first before 57 000",
         "a bracket with assumed tubes and geometry: the middle four fifths do not reach 3e4 to 3e5 cycles; the factor is bounded");
  constexpr double first_failed = 57000, latest = 3e5;
  for (const auto& [tubes, early_by] : {std::pair{inch, 300.0}, std::pair{oversize, 60.0}}) {
    const rating::Job job = frame_on_rig(tubes);
    const measured::RigCase c = pedalled(job);
    const measured::RigResult r = measured::rate_rigs(job, published::catalog().data, {c}, {}).at(0);
    const std::vector<SiteOnRig> sites = sites_on_rig(job, c);
    double most = 0;
    for (const SiteOnRig& s : sites) most = std::max(most, s.damage_after(c.cycles, 1));
    CHECK(most == Expected(r.damage).epsilon(1e-9));  // as the rig study has it
    const double early = cycles_of_share(job, sites, 0.1), median = cycles_of_share(job, sites, 0.5), late = cycles_of_share(job, sites, 0.9);
    INFO(tubes.name << ": a first crack after " << early << " to " << late << " cycles, half by " << median << "; most damage at " << r.weld << " " << r.site);
    CHECK(early < median);
    CHECK(median < late);
    CHECK(late < latest);
    CHECK(first_failed / median > 1);
    CHECK(first_failed / median < early_by);
  }
}

}  // namespace seamwright
