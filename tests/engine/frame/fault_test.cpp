// SPDX-License-Identifier: GPL-3.0-or-later
// Every refusal, from a sound frame with one thing wrong.
#include <cmath>
#include <functional>
#include <limits>

#include "tests/engine/frame/trike.h"

using namespace seamwright;
using namespace seamwright::frame;

namespace {

struct Row {
  MessageId id;
  std::function<void(Frame&)> harm;
};

const double not_a_number = std::numeric_limits<double>::quiet_NaN();
const double infinite = std::numeric_limits<double>::infinity();

void check_rows(const std::vector<Row>& rows) {
  CHECK_NOTHROW(assemble(trike(), Footing::tyres));
  for (std::size_t i = 0; i < rows.size(); ++i) {
    Frame f = trike();
    rows[i].harm(f);
    INFO("row " << i);
    CHECK(fault_of([&] { assemble(f, Footing::tyres); }).id == rows[i].id);
  }
}

}  // namespace

TEST_CASE("refused names") {
  check_rows({
      {"frame.empty", [](Frame& f) { f.nodes.clear(); }},
      {"frame.empty", [](Frame& f) { f.members.clear(); }},
      {"frame.no-id", [](Frame& f) { f.nodes[3].id = ""; }},
      {"frame.duplicate-id", [](Frame& f) { f.nodes[3].id = f.nodes[2].id; }},
      {"frame.duplicate-id", [](Frame& f) { f.members[1].id = f.members[0].id; }},
      {"frame.duplicate-id", [](Frame& f) { f.wheels[1].id = "FL"; }},
      {"frame.duplicate-id", [](Frame& f) { f.materials.push_back(f.materials[0]); }},
      {"frame.unknown-node", [](Frame& f) { f.members[0].nodes[1] = "nowhere"; }},
      {"frame.unknown-node", [](Frame& f) { f.hinges[0].second = "nowhere"; }},
      {"frame.unknown-node", [](Frame& f) { f.dampers[0].first = "nowhere"; }},
      {"frame.unknown-node", [](Frame& f) { f.masses[0].nodes[0] = "nowhere"; }},
      {"frame.unknown-node", [](Frame& f) { f.sprung_masses[0].node = "nowhere"; }},
      {"frame.unknown-node", [](Frame& f) { f.wheels[0].node = "nowhere"; }},
      {"frame.unknown-node",
       [](Frame& f) {
         f.supports = {{"nowhere", clamped}};
       }},
      {"frame.unknown-tube", [](Frame& f) { f.members[0].tube = "pipe"; }},
      {"frame.unknown-material", [](Frame& f) { f.tubes[0].material = "wood"; }},
      {"frame.too-large", [](Frame& f) { f.nodes.resize(20001); }},
  });
}

TEST_CASE("refused numbers") {
  for (const double bad : {not_a_number, infinite, -infinite, 1e30, -1e30}) {
    check_rows({
        {"frame.bad-number", [bad](Frame& f) { f.nodes[3].position_mm.y() = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.materials[0].youngs_mpa = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.materials[0].poisson = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.materials[0].density_kg_m3 = bad; }},
        {"section.impossible",
         [bad](Frame& f) {
           f.tubes[0].section = RoundTube{40, bad};
         }},
        {"frame.bad-number", [bad](Frame& f) { f.members[0].start_cut_mm = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.members[0].end_cut_mm = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.members[0].start_offset_mm.x() = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.members[0].end_offset_mm.z() = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.members[0].up = Vec3(0, bad, 0); }},
        {"frame.bad-number", [bad](Frame& f) { f.hinges[0].axis.x() = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.dampers[0].damping_n_s_m = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.masses[0].mass_kg = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.masses[0].position_mm.x() = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.masses[0].inertia_kg_m2.z() = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.sprung_masses[0].mass_kg = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.sprung_masses[0].position_mm.z() = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.sprung_masses[0].sprung[0].axis.z() = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.sprung_masses[0].sprung[0].frequency_hz = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.sprung_masses[0].sprung[0].damping_ratio = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.wheels[0].radius_mm = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.wheels[0].radial_n_mm = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.wheels[0].lateral_n_mm = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.wheels[0].damping_n_s_m = bad; }},
        {"frame.bad-number", [bad](Frame& f) { f.wheels[0].contact_length_mm = bad; }},
    });
  }
  check_rows({
      {"frame.bad-number", [](Frame& f) { f.materials[0].youngs_mpa = 0; }},
      {"frame.bad-number", [](Frame& f) { f.materials[0].poisson = 0.51; }},
      {"frame.bad-number",
       [](Frame& f) {
         f.hinges[0].axis = {0, 0, 0};
       }},
      {"frame.bad-number", [](Frame& f) { f.members[0].up = Vec3(0, 0, 0); }},
      {"frame.bad-number", [](Frame& f) { f.masses[0].mass_kg = -1; }},
      {"frame.bad-number", [](Frame& f) { f.wheels[0].radial_n_mm = 0; }},
      {"frame.bad-number", [](Frame& f) { f.sprung_masses[0].sprung[0].frequency_hz = 0; }},
  });
}

TEST_CASE("refused shapes") {
  check_rows({
      {"frame.short-member", [](Frame& f) { f.members[0].nodes = {"rear"}; }},
      {"frame.zero-length",
       [](Frame& f) {
         f.members.push_back(member("none", {"rear", "rear"}));
       }},
      {"frame.zero-length",
       [](Frame& f) {
         f.members.push_back(member("none", {"pivot", "fork"}));
       }},
      {"frame.zero-length", [](Frame& f) { f.members[2].end_offset_mm = Vec3(-150, 0, -450); }},
      {"frame.cut-too-long",
       [](Frame& f) { f.members[2].start_cut_mm = 300, f.members[2].end_cut_mm = 200; }},
      {"frame.up-along-axis", [](Frame& f) { f.members[2].up = Vec3(150, 0, 450); }},
      {"frame.doubled-node",
       [](Frame& f) { f.nodes[2].position_mm = f.nodes[7].position_mm + Vec3(0.005, 0, 0); }},
      {"frame.doubled-node", [](Frame& f) { f.hinges.clear(); }},
      {"frame.unused-node",
       [](Frame& f) {
         f.nodes.push_back({"spare", {0, 0, 2000}});
       }},
      {"frame.hinge-apart", [](Frame& f) { f.hinges[0].second = "mid"; }},
      {"frame.hinge-apart", [](Frame& f) { f.hinges[0].second = "pivot"; }},
      {"frame.hinge-twice",
       [](Frame& f) {
         f.hinges.push_back({"again", "pivot", "fork", {1, 0, 0}});
       }},
      {"frame.hinge-cycle",
       [](Frame& f) {
         f.hinges.push_back({"back", "fork", "pivot", {1, 0, 0}});
       }},
      {"frame.support-on-hinge",
       [](Frame& f) {
         f.supports = {{"fork", clamped}};
       }},
      {"frame.damper-length",
       [](Frame& f) {
         f.dampers[0] = {"none", "pivot", "fork", 10};
       }},
      {"frame.mass-carriers",
       [](Frame& f) {
         f.masses[0].nodes = {"FL", "FR"};
       }},
      {"frame.mass-carriers", [](Frame& f) { f.masses[0].nodes.clear(); }},
      {"frame.mass-carriers",
       [](Frame& f) {
         f.nodes[8].position_mm = {1300, 0, 250};
         f.masses[0].nodes = {"FL", "mid", "FR"};
       }},
      {"frame.repeated-node",
       [](Frame& f) {
         f.masses[0].nodes = {"FL", "FR", "FL"};
       }},
      {"frame.sprung-axes",
       [](Frame& f) {
         f.sprung_masses[0].sprung.push_back({{0, 0.1, 1}, 3, 0.1});
       }},
      {"frame.no-wheel", [](Frame& f) { f.wheels.clear(); }},
  });
}

TEST_CASE("a loose part is named") {
  Frame f = trike();
  f.nodes.push_back({"x", {0, 900, 0}});
  f.nodes.push_back({"y", {0, 990, 0}});
  f.members.push_back(member("stray", {"x", "y"}));
  f.masses.push_back({"bridge", 1, {0, 900, 0}, {"x", "y", "rear"}, {0, 0, 0}});  // a mass does not connect
  const Message m = fault_of([&] { assemble(f, Footing::tyres); });
  CHECK(m.id == "frame.loose-part");
  CHECK(text_of(m, "nodes") == "x, y");
  CHECK(text_of(m, "members") == "stray");
}

TEST_CASE("a fault names what is wrong") {
  Frame f = trike();
  f.members[2].tube = "pipe";
  const Message m = fault_of([&] { assemble(f, Footing::tyres); });
  CHECK(text_of(m, "tube") == "pipe");
  CHECK(text_of(m, "member") == "seat stay");
}

TEST_CASE("refused loads") {
  const Assembly a = assemble(trike(), Footing::tyres);
  CHECK(fault_of([&] { case_load(a, force_at("nowhere", {1, 0, 0})); }).id == "frame.unknown-node");
  CHECK(fault_of([&] { case_load(a, force_at("seat", {not_a_number, 0, 0})); }).id == "frame.bad-number");
  CHECK(fault_of([&] {
          case_load(a, force_at("seat", {0, 0, 0}, {0, infinite, 0}));
        }).id == "frame.bad-number");
  CHECK(fault_of([&] { case_load(a, {"c", {}, not_a_number}); }).id == "frame.bad-number");
  const Statics statics(a);
  CHECK(fault_of([&] { statics.solve(Eigen::VectorXd::Zero(5)); }).id == "frame.bad-loads");
  CHECK(fault_of([&] { statics.solve(Eigen::VectorXd::Constant(a.full_size, not_a_number)); }).id ==
        "frame.bad-loads");
  const Solution none = statics.solve(Eigen::MatrixXd::Zero(a.full_size, 1));
  CHECK(none.residual[0] == 0);
  CHECK(none.displacements.norm() == 0);
  CHECK(statics.solve(Eigen::MatrixXd(a.full_size, 0)).displacements.cols() == 0);
}

TEST_CASE("a moment on a node of links alone has nothing to turn") {
  Frame f = frame_of(SolidBar{10});
  f.nodes = {{"a", {0, 0, 300}}, {"b", {0, 0, 0}}, {"c", {0, 300, 0}}, {"point", {400, 0, 0}}};
  f.members = {member("1", {"a", "point"}), member("2", {"b", "point"}), member("3", {"c", "point"})};
  for (Member& m : f.members) m.axial_only = true;
  f.supports = {{"a", clamped}, {"b", clamped}, {"c", clamped}};
  const Assembly a = assemble(f, Footing::supports);
  CHECK(fault_of([&] {
          case_load(a, force_at("point", {0, 0, 0}, {0, 5, 0}));
        }).id == "frame.load-on-nothing");
  CHECK_NOTHROW(case_load(a, force_at("a", {0, 0, 0}, {0, 5, 0})));
}

TEST_CASE("a frame held everywhere has nothing to solve") {
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600, 0, 0}, 1);
  f.supports = {{"0", clamped}, {"1", clamped}};
  const Assembly a = assemble(f, Footing::supports);
  CHECK(fault_of([&] { Statics{a}; }).id == "frame.all-held");
  CHECK(fault_of([&] { modes(a, 100); }).id == "frame.all-held");
}

TEST_CASE("refused sections") {
  const std::vector<Section> bad{RoundTube{0, 1},
                                 RoundTube{-30, 1},
                                 RoundTube{30, 0},
                                 RoundTube{30, 15},
                                 RoundTube{not_a_number, 1},
                                 RoundTube{30, not_a_number},
                                 RoundTube{1e9, 1},
                                 RectangularTube{40, 30, 15, 0},
                                 RectangularTube{40, 30, 2, 16},
                                 RectangularTube{40, 30, 2, -1},
                                 RectangularTube{40, not_a_number, 2, 0},
                                 FlatOvalTube{25, 40, 1},
                                 FlatOvalTube{40, 25, 12.5},
                                 FlatOvalTube{40, 25, not_a_number},
                                 SolidBar{0},
                                 SolidBar{infinite},
                                 PlateStrip{40, 0},
                                 PlateStrip{not_a_number, 4}};
  for (const Section& s : bad)
    CHECK(fault_of([&] { section_properties(s, 0.3); }).id == "section.impossible");
  for (const double poisson : {-0.1, 0.6, not_a_number})
    CHECK(fault_of([&] { section_properties(SolidBar{10}, poisson); }).id == "section.poisson");
}

TEST_CASE("sections carry their evidence") {
  const SectionResult round = section_properties(RoundTube{30, 1}, 0.3);
  CHECK(round.evidence.value == round.properties.area_mm2);
  CHECK(round.evidence.coverage == Coverage::inside);
  REQUIRE(round.evidence.because.size() == 1);
  CHECK(round.evidence.because[0].source.key == "cowper-1966");
  CHECK(round.evidence.because[0].from_memory);
  CHECK(section_properties(FlatOvalTube{40, 25, 6}, 0.3).evidence.coverage == Coverage::extended);
  CHECK(section_properties(RectangularTube{40, 25, 6, 0}, 0.3).evidence.coverage == Coverage::extended);
}
