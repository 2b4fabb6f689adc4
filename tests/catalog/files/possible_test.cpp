// SPDX-License-Identifier: GPL-3.0-or-later
// Designs that nobody can build are refused where they are read, with file and line; what `new` writes is
// not.
#include <cmath>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/evidence/possible.h"
#include "engine/rating/job.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;

namespace {

struct Told {
  std::string id, first, second, file, members;
  double line = 0, overlap = 0, found = 0, least = 0, most = 0;
};

template <typename Work>
Told told_by(const Work& work) {
  Told t;
  try {
    work();
  } catch (const Fault& fault) {
    t.id = fault.what();
    for (const Argument& a : fault.message.arguments) {
      const auto* s = std::get_if<std::string>(&a.value);
      const double v = s ? 0 : std::get<double>(a.value);
      if (a.name == "first") t.first = *s;
      if (a.name == "second") t.second = *s;
      if (a.name == "file") t.file = *s;
      if (a.name == "members") t.members = *s;
      if (a.name == "line") t.line = v;
      if (a.name == "overlap") t.overlap = v;
      if (a.name == "found") t.found = v;
      if (a.name == "least") t.least = v;
      if (a.name == "most") t.most = v;
    }
  }
  return t;
}

Told reading(const std::string& design) {
  return told_by([&] { files::read_design_text("design.toml", design, published::catalog()); });
}

// One passage of the demonstration is changed: nothing is told at the edge, the limit is told beyond it.
void edge(const char* from, const std::string& before, const std::string& fine, const std::string& beyond,
          const std::string& id) {
  const std::string after = std::string(from).substr(before.size());
  INFO(before << beyond);
  CHECK(reading(with("design.toml", from, before + fine + after.substr(after.find('\n')))).id.empty());
  const Told t = reading(with("design.toml", from, before + beyond + after.substr(after.find('\n'))));
  CHECK(t.id == id);
  CHECK(t.file == "design.toml");
  CHECK(t.line > 1);
}

}  // namespace

TEST_CASE("the demonstration has no clash, and on a platform as low as the upper tube it has") {
  CHECK(reading(files::read_text(demo + "/design.toml")).id.empty());
  const Told t = reading(with("design.toml", "deck_z = 390", "deck_z = 330"));
  CHECK(t.id == "shape.crossing");
  CHECK(t.first == "spine");
  CHECK(t.second == "upper");
  // Worked by hand in the middle plane: the upper tube falls from (430, 430) to (1000, 255), so its axis passes the
  // spine's end at x = 800, z = 330 by 14 mm and runs through that face of 30 mm radius: the deepest point of the face
  // lies on the axis, a radius of 22.5 below the surface.
  CHECK(330 - (255 + 200 * 175.0 / 570) < 30);
  CHECK(t.overlap == Approx(22.5));
  CHECK(t.file == "design.toml");
  const std::string text = with("design.toml", "deck_z = 390", "deck_z = 330");
  const std::size_t at = text.find("[[member]]\nid = \"spine\"");
  CHECK(t.line ==
        2 + static_cast<double>(std::count(text.begin(), text.begin() + static_cast<long>(at), '\n')));
}

TEST_CASE("a rail that doubles back, one tube twice and a wheel in a tube are told") {
  CHECK(reading(with("design.toml", "wheelbase = 1250", "wheelbase = 1500")).id == "shape.doubled-back");
  CHECK(reading(files::read_text(demo + "/design.toml") +
                "\n[[member]]\nid = \"again\"\ntube = \"strut\"\nnodes = [\"V1\", \"U1\"]\n")
            .id == "shape.same-nodes");
  const Told t = reading(with("design.toml", "half_deck = 280", "half_deck = 420"));
  CHECK(t.id.starts_with("shape."));
}

TEST_CASE("no more is cut off a tube's end than there is straight tube, and no hole lies beyond its plate") {
  CHECK(reading(with("design.toml", "start_overhang_mm = -25 ", "start_overhang_mm = -60 ")).id.empty());
  CHECK(reading(with("design.toml", "start_overhang_mm = -25 ", "start_overhang_mm = -900 ")).id == "file.out-of-range");
  // The dropout's lower edge runs 18 mm below its hole.
  const char* hole = "x_mm = 0, y_mm = 0, diameter_mm = 15 }";
  CHECK(reading(with("design.toml", hole, "x_mm = 0, y_mm = 0, diameter_mm = 35.9 }")).id.empty());
  CHECK(reading(with("design.toml", hole, "x_mm = 0, y_mm = 0, diameter_mm = 36.1 }")).id == "file.out-of-range");
  CHECK(reading(with("design.toml", hole, "x_mm = -30, y_mm = 0, diameter_mm = 1 }")).id == "file.out-of-range");
}

TEST_CASE("a frame that the book keeps is read all the same") {
  const Folder folder;
  const std::string file = folder.write("design.toml", with("design.toml", "deck_z = 390", "deck_z = 330"));
  CHECK(told_by([&] { files::read_design(file, published::catalog()); }).id == "shape.crossing");
  CHECK(told_by([&] { files::read_recorded_design(file, published::catalog()); }).id.empty());
}

TEST_CASE("physical limits, each on both sides of its edge") {
  const char* light = "diameter_mm = 20\nwall_mm = 1.5\n";
  CHECK(reading(with("design.toml", light, "diameter_mm = 20\nwall_mm = 0.75\n")).id.empty());
  CHECK(reading(with("design.toml", light, "diameter_mm = 20\nwall_mm = 0.74\n")).id ==
        "possible.throat-wall");
  edge("diameter_mm = 28\nwall_mm = 2\n", "diameter_mm = 28\nwall_mm = ", "0.5", "0.49",
       "possible.wall-least");
  edge("member = \"cross-1.L\"\nthroat_mm = 2\n", "member = \"cross-1.L\"\nthroat_mm = ", "4", "4.01",
       "possible.throat-wall");
  edge("inertia_kg_m2 = [1.2, 1.6, 2.0]\n", "inertia_kg_m2 = ", "[1.2, 1.6, 2.8]", "[1.2, 1.6, 2.81]",
       "possible.inertia");
  edge("inertia_kg_m2 = [1.2, 1.6, 2.0]\n", "inertia_kg_m2 = ", "[10, 10, 10]", "[20, 20, 20]",
       "possible.gyration");  // 16 kg: 0.79 and 1.12 m; the nodes span about 2.1 m
  edge("hole_mm = 4\n", "hole_mm = ", "44", "46", "possible.hole");
  CHECK(reading(with("design.toml", "inertia_kg_m2 = [1.2, 1.6, 2.0]", "inertia_kg_m2 = [-1.2, 1.6, 2.0]"))
            .id == "file.out-of-range");
  for (const PhysicalLimit& l : physical_limits()) {
    CHECK(l.least < l.most);
    CHECK_FALSE(std::string(l.source).empty());
    if (std::isfinite(l.most)) CHECK_THROWS_AS(check_possible(l.id, "x", l.most * 1.0001), Fault);
    if (std::isfinite(l.most)) check_possible(l.id, "x", l.most);
    if (l.least > 0) CHECK_THROWS_AS(check_possible(l.id, "x", l.least * 0.9999), Fault);
    CHECK_THROWS_AS(check_possible(l.id, "x", std::nan("")), Fault);
  }
}

TEST_CASE("no wheel climbs a kerb above its axle") {
  const std::string design = files::read_text(demo + "/design.toml");
  const auto kerb = [&](const std::string& height) {
    const std::string duty = files::read_text(demo + "/duty.toml") +
                             "\n[[obstacle]]\nid = \"step\"\nshape = \"kerb-up\"\nheight_mm = " + height +
                             "\n";
    return told_by(
        [&] { files::read_job_texts("design.toml", design, "duty.toml", duty, published::catalog()); });
  };
  CHECK(kerb("253").id.empty());  // the wheels' radius
  const Told t = kerb("254");
  CHECK(t.id == "possible.kerb");
  CHECK(t.found == Approx(254.0 / 253));
  CHECK(t.file == "duty.toml");
}
