// SPDX-License-Identifier: GPL-3.0-or-later
// These must not count: the order of tables in the files, names, and which side is which.
#include <catch2/catch.hpp>
#include <random>

#include "engine/design/weld_geometry.h"
#include "tests/properties/jobs.h"
#include "tests/properties/mirror.h"

using namespace seamwright;
using namespace seamwright::properties;

namespace {

// Damages of each kind of place of each weld, in ascending order: names of places may change, their values
// not.
using Damages = std::map<std::string, std::vector<double>>;

Damages damages_of(const rating::Rating& r) {
  Damages out;
  for (const rating::WeldRating& w : r.welds)
    for (const rating::SiteRating& s : w.sites)
      out[w.id + " " + s.kind].push_back(std::isnan(s.damage) ? -1 : s.damage);
  for (auto& [id, values] : out) std::sort(values.begin(), values.end());
  return out;
}

void same(const Damages& a, const Damages& b, double share) {
  REQUIRE(a.size() == b.size());
  for (const auto& [id, values] : a) {
    INFO(id);
    REQUIRE(b.count(id) == 1);
    const std::vector<double>& others = b.at(id);
    REQUIRE(values.size() == others.size());
    for (std::size_t i = 0; i < values.size(); ++i)
      CHECK(others[i] == Approx(values[i]).epsilon(share).margin(1e-30));
  }
}

// The text's tables of the first level in another order, each with its own sub-tables behind it.
std::string shuffled(const std::string& text, unsigned seed) {
  std::vector<std::string> blocks;
  std::size_t at = text.find("\n[[");
  std::string out = text.substr(0, at + 1);
  while (at != std::string::npos) {
    std::size_t next = text.find("\n[", at + 1);
    while (next != std::string::npos &&
           text.substr(next + 1, text.find(']', next) - next).find('.') != std::string::npos)
      next = text.find("\n[", next + 1);
    blocks.push_back(text.substr(at + 1, next == std::string::npos ? next : next - at));
    at = next;
  }
  std::mt19937 engine(seed);
  for (std::size_t i = blocks.size(); i > 1; --i) std::swap(blocks[i - 1], blocks[engine() % i]);
  for (const std::string& b : blocks) out += b.ends_with('\n') ? b : b + "\n";
  return out;
}

void rename(rating::Job& job) {
  const auto other = [](std::string& id) {
    if (!id.empty()) id = "x" + std::string(id.rbegin(), id.rend());
  };
  design::Design& d = job.design;
  frame::Frame& f = d.frame;
  for (auto& m : f.materials) other(m.id);
  for (auto& t : f.tubes) other(t.id), other(t.material);
  for (auto& n : f.nodes) other(n.id);
  for (auto& m : f.members) {
    other(m.id), other(m.tube);
    for (auto& n : m.nodes) other(n);
  }
  for (auto& h : f.hinges) other(h.id), other(h.first), other(h.second);
  for (auto& c : f.dampers) other(c.id), other(c.first), other(c.second);
  for (auto& m : f.masses) {
    other(m.id);
    for (auto& n : m.nodes) other(n);
  }
  for (auto& m : f.sprung_masses) other(m.id), other(m.node);
  for (auto& w : f.wheels) other(w.node), other(w.torque_node);
  for (auto& s : f.supports) other(s.node);
  for (auto& w : d.welds)
    other(w.member), other(w.node), other(w.joint), other(w.chord);  // welds keep theirs: they are compared
  for (auto& n : d.notches) other(n.member);
  for (auto& b : d.bolts) other(b.member);
  loads::Carriers& c = d.carriers;
  other(c.saddle_node), other(c.pedal_node);
  for (auto& n : c.bar_nodes) other(n);
  for (auto& n : c.box_nodes) other(n);
  other(d.steering.hinge);
  loads::Duty& duty = job.duty;
  for (auto& r : duty.roads) other(r.id);
  for (auto& m : duty.manoeuvres) other(m.id);
  for (auto& o : duty.obstacles) other(o.id);
  for (auto& t : duty.trips)
    for (auto& l : t.legs) {
      other(l.road);
      for (auto& r : l.rates) other(r.id);
    }
  for (auto* nodes : {&duty.peaks.lash_nodes, &duty.peaks.lift_nodes, &duty.peaks.belt_nodes})
    for (auto& n : *nodes) other(n);
  other(duty.peaks.tow_node);
}

}  // namespace

TEST_CASE("the order of tables in design and duty does not count") {
  const Texts texts = texts_of(demo_folder);
  const Damages before = damages_of(quickly(read(texts)));
  for (unsigned seed : {1u, 2u}) {
    INFO(seed);
    Texts other = texts;
    other.design = shuffled(texts.design, seed);
    REQUIRE(other.design != texts.design);
    other.duty = shuffled(texts.duty, seed);
    same(before, damages_of(quickly(read(other))), 1e-6);
  }
}

TEST_CASE("names do not count") {
  rating::Job job = read(texts_of(demo_folder));
  const Damages before = damages_of(quickly(job));
  rename(job);
  same(before, damages_of(quickly(job)), 1e-6);
}

TEST_CASE("a mirrored trike with a mirrored drive and service is rated the same, mirrored") {
  const rating::Job job = read(texts_of(demo_folder));
  const rating::Job other = mirrored(job);
  const rating::Rating a = quickly(job), b = quickly(other);
  same(damages_of(a), damages_of(b), 1e-9);
  CHECK(b.likelihood.frame.probability == Approx(a.likelihood.frame.probability).epsilon(1e-9));
  CHECK(b.governing_weld == a.governing_weld);
}

TEST_CASE("mirrored twice is the same trike again") {
  const rating::Job job = read(texts_of(demo_folder));
  same(damages_of(quickly(job)), damages_of(quickly(mirrored(mirrored(job)))), 1e-12);
}

TEST_CASE("one realisation of a road, left and right exchanged, gives mirrored histories") {
  const rating::Job job = read(texts_of(demo_folder));
  const rating::Job other = mirrored(job);
  const loads::Leg& leg = job.duty.trips[0].legs[0];
  const loads::Road& road = job.duty.roads[1];
  const auto state_of = [&](const rating::Job& j) {
    return loads::make_state(loads::laden_frame(design::frame_with_cuts(j.design), j.design.carriers,
                                                j.duty.rider, leg.pose.payload_kg),
                             leg.pose.payload_kg, j.duty.highest_frequency_hz);
  };
  const loads::State here = state_of(job), there = state_of(other);
  const double speed = leg.speed_kmh / 3.6, df = 0.05;
  const Eigen::Index lines = 600;
  const Eigen::MatrixXcd heights = loads::synthesise_road(road, here.tracks, speed, df, lines, "spring");
  Eigen::MatrixXcd swapped = heights;
  swapped.row(0) = heights.row(1);  // FL, FR, R
  swapped.row(1) = heights.row(0);
  const Eigen::VectorXd f = Eigen::VectorXd::LinSpaced(lines, 0, df * static_cast<double>(lines - 1));
  const auto displacements = [&](const loads::State& s, const rating::Job& j, const Eigen::MatrixXcd& h) {
    const loads::Transfer transfer(s, j.duty.structural_damping);
    const auto answer = transfer.respond(h, f);
    return Eigen::MatrixXd(
        (s.moving.shapes * answer.real).topRows(6 * static_cast<Eigen::Index>(s.assembly.node_ids.size())));
  };
  const Eigen::MatrixXd u = displacements(here, job, heights), v = displacements(there, other, swapped);
  REQUIRE(u.rows() == v.rows());
  const Eigen::Index nodes = u.rows() / 6;
  double largest = 0, difference = 0;
  const double sign[6] = {1, -1, 1, -1, 1, -1};  // of a displacement and a turn under y -> -y
  for (Eigen::Index n = 0; n < nodes; ++n)
    for (Eigen::Index i = 0; i < 6; ++i) {
      const double scale = i < 3 ? 1 : 100;
      largest = std::max(largest, scale * u.row(6 * n + i).cwiseAbs().maxCoeff());
      difference =
          std::max(difference, scale * (v.row(6 * n + i) - sign[i] * u.row(6 * n + i)).cwiseAbs().maxCoeff());
    }
  REQUIRE(largest > 0);
  CHECK(difference < 1e-9 * largest);
}
