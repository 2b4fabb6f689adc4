// SPDX-License-Identifier: GPL-3.0-or-later
// Tasks and answers come back as they went, and nothing else is taken for one.
#include "catalog/models/wire.h"

#include <cmath>
#include <random>

#include "tests/catalog/models/answers.h"

namespace seamwright::models {

namespace {

solid::JointTask joint() {
  solid::JointTask t;
  t.parts = {tube("chord"), tube("brace")};
  t.parts[1].cuts = {{stretch(), "chord"}};
  solid::Seam seam;
  seam.weld = "W1";
  seam.brace = 1;
  seam.fillet = {stretch(), stretch(), {1, 0, 0}, 2.8, 4};
  seam.cuts = {{stretch(), "other"}};
  seam.readings = {{{{0.8, 1.67}, {2, -0.67}}, {{1, 1}}, {}}};
  seam.fused = true;
  t.seams = {seam};
  t.ends = {{0, {0, 0, 0}, {0, 0, -1}}, {1, {0, 0, 100}, {0, 0, 1}}};
  t.seats = {{0, {0, 0, 50}}};
  return t;
}

solid::JointAnswer joint_answer() {
  solid::JointAnswer a;
  a.flexibility = Eigen::MatrixXd::Random(12, 12);
  const auto row = [] { return Eigen::RowVectorXd(Eigen::RowVectorXd::Random(12)); };
  solid::SeamAnswer s;
  s.weld = "W1";
  for (std::size_t k = 0; k < solid::section_kinds.size(); ++k) {
    s.sections.emplace_back();
    for (int i = 0; k > 0 && i < solid::places_around; ++i) s.sections.back().push_back({2.5, row(), row(), row(), row()});
  }
  s.brace_toes.resize(solid::places_around);
  s.chord_toes.resize(solid::places_around, {true, {{row(), row(), row()}, {row(), row(), row()}}});
  a.seams = {s};
  a.welds = {shape::Rung::ring};
  a.unknowns = 1000;
  return a;
}

std::vector<Task> tasks() {
  shape::Part plate{"p", "", shape::Flat{}, {}, "steel"};
  std::get<shape::Flat>(plate.body).plate.thickness_mm = 5;
  std::get<shape::Flat>(plate.body).plate.outline = design::tongue(40, 20);
  std::get<shape::Flat>(plate.body).plate.holes = {{10, 0, 6}};
  shape::Part part = tube("t");
  part.cuts = {{stretch(), "other"}, {shape::HalfSpace{{1, 2, 3}, {0, 0, 1}}, "mitre"}};
  for (const frame::Section& s : std::vector<frame::Section>{
           frame::RectangularTube{40, 20, 2, 3}, frame::FlatOvalTube{40, 20, 2}, frame::SolidBar{12}, frame::PlateStrip{30, 4}})
    std::get<shape::Hollow>(part.body).stretches.push_back({s, {0, 0, 0}, {10, 0, 0}, {0, 1, 0}});
  return {part,
          plate,
          shape::WeldBody{"w", shape::FilletAround{stretch(), stretch(), {1, 0, 0}, 2.8, 4}, {{stretch(), "x"}}},
          shape::WeldBody{"r", shape::FilletRing{stretch(), 2.8}, {}},
          shape::WeldBody{"l", std::vector<shape::FilletAlong>{{{0, 0, 0}, {9, 0, 0}, {0, 1, 0}, {0, 0, 1}, 3}}, {}},
          CommonTask{std::string("a\0b", 3), "c"},
          ViewTask{{{"t", "red", "body"}}, {0, 1, 0}, {0, 0, 1}},
          ExportTask{"frame", {{"t", "red", "body"}}, 1},
          joint()};
}

std::vector<Answer> answers() {
  return {Failed{"why"}, built("t"), shape::Common{1, 2, {3, 4, 5}},
          Lines{{"t", false, true, {{1.5, 2.5}, {-3, 4}}}}, std::string("text\0x", 6), joint_answer()};
}

}  // namespace

TEST_CASE("tasks and answers survive the way") {
  for (const Task& t : tasks()) {
    const std::string bytes = bytes_of(t);
    const Task back = task_of(bytes);
    CHECK(back.index() == t.index());
    CHECK(bytes_of(back) == bytes);
  }
  for (const Answer& a : answers()) {
    const std::string bytes = bytes_of(a);
    const Answer back = answer_of(bytes);
    CHECK(back.index() == a.index());
    CHECK(bytes_of(back) == bytes);
  }
  const auto back = std::get<shape::Built>(answer_of(bytes_of(Answer(built("t", 7)))));
  CHECK(back.solid.quantities.volume_mm3 == 7);
  CHECK(back.body == built("t").body);
  CHECK(back.solid.mesh.triangles == std::vector<std::uint32_t>{0, 1, 2});
  const auto joint_back = std::get<solid::JointAnswer>(answer_of(bytes_of(Answer(joint_answer()))));
  CHECK(joint_back.flexibility.cols() == 12);
  REQUIRE(joint_back.seams.size() == 1);
  CHECK(joint_back.seams[0].sections[0].empty());
  CHECK(joint_back.seams[0].sections[1].size() == solid::places_around);
  CHECK_FALSE(joint_back.seams[0].brace_toes[3].is_there);
  CHECK(joint_back.seams[0].chord_toes[3].readings.size() == 2);
  const solid::JointTask asked = joint();
  CHECK(std::get<solid::JointTask>(task_of(bytes_of(Task(asked)))).seams == asked.seams);
  shape::Built unplanned = built("t");
  unplanned.solid.planned_mm3 = std::nan("");
  CHECK(std::isnan(std::get<shape::Built>(answer_of(bytes_of(Answer(unplanned)))).solid.planned_mm3));
}

TEST_CASE("a joint's answer of other sizes is refused") {
  solid::JointTask task = joint();
  task.seams[0].chord = 7;
  CHECK_THROWS(task_of(bytes_of(Task(task))));
  task = joint();
  task.ends.clear();
  CHECK_THROWS(task_of(bytes_of(Task(task))));
  solid::JointAnswer answer = joint_answer();
  answer.welds.clear();
  CHECK_THROWS(answer_of(bytes_of(Answer(answer))));
  answer = joint_answer();
  answer.flexibility(3, 4) = std::nan("");
  CHECK_THROWS(answer_of(bytes_of(Answer(answer))));
  answer = joint_answer();
  answer.seams[0].chord_toes.pop_back();
  CHECK_THROWS(answer_of(bytes_of(Answer(answer))));
}

TEST_CASE("a depth of fusion goes along, and a task without one keeps its bytes") {
  const std::string without = bytes_of(Task(joint()));
  solid::JointTask task = joint();
  task.seams[0].fusion_mm = 1.2;
  const std::string with = bytes_of(Task(task));
  CHECK(with != without);
  CHECK(std::get<solid::JointTask>(task_of(with)).seams == task.seams);
  CHECK(task.seams != joint().seams);
  task.seams[0].fusion_mm = 1000;
  CHECK_THROWS(task_of(bytes_of(Task(task))));
  task.seams[0].fusion_mm = -1;
  CHECK(bytes_of(Task(task)) == without);
  task.seams[0].fusion_mm = 0;
  CHECK(bytes_of(Task(task)) == without);
}

TEST_CASE("measures that differ by less than a millionth of a millimetre are the same task") {
  CHECK(bytes_of(Task(tube("t", 100))) == bytes_of(Task(tube("t", 100 + 1e-8))));
  CHECK(bytes_of(Task(tube("t", 100))) != bytes_of(Task(tube("t", 100.00001))));
  CHECK(bytes_of(Task(tube("t", -0.0))) == bytes_of(Task(tube("t", 0.0))));
}

TEST_CASE("a flipped or missing byte is an answer or a refusal, never more") {
  std::mt19937 random(7);
  std::size_t refused = 0, tried = 0;
  for (const Answer& a : answers()) {
    const std::string good = bytes_of(a);
    for (std::size_t i = 0; i < good.size(); ++i)
      for (const bool cut : {false, true}) {
        std::string bad = cut ? good.substr(0, i) : good;
        if (!cut) bad[i] = static_cast<char>(bad[i] ^ (1 << (random() % 8)));
        ++tried;
        try {
          const Answer read = answer_of(bad);
          if (const auto* b = std::get_if<shape::Built>(&read))
            for (const std::uint32_t t : b->solid.mesh.triangles) REQUIRE(t < b->solid.mesh.points.size() / 3);
        } catch (const std::exception&) {
          ++refused;
        }
      }
  }
  CHECK(refused > tried / 3);
}

TEST_CASE("frames come out whole, and one longer than any answer is refused") {
  std::string buffer = framed("one") + framed("") + framed("three");
  const std::string last = buffer.substr(buffer.size() - 2);
  buffer.resize(buffer.size() - 2);
  CHECK(next_frame(buffer) == "one");
  CHECK(next_frame(buffer) == "");
  CHECK_FALSE(next_frame(buffer));
  buffer += last;
  CHECK(next_frame(buffer) == "three");
  CHECK_FALSE(next_frame(buffer));
  std::string huge(8, '\xff');
  CHECK_THROWS(next_frame(huge));
}

}  // namespace seamwright::models
