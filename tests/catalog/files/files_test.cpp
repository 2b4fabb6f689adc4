// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>

#include <unistd.h>

#include "catalog/files/import_table.h"
#include "catalog/files/duty_reader.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/reader.h"
#include "catalog/files/source.h"
#include "engine/design/sides.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;

namespace {

Message fault_of(const std::function<void()>& act) {
  try {
    act();
  } catch (const Fault& fault) {
    return fault.message;
  }
  return {};
}

double line_of(const Message& m) {
  for (const Argument& a : m.arguments)
    if (a.name == "line") return std::get<double>(a.value);
  return 0;
}

}  // namespace

TEST_CASE("the demonstration job is a whole trike") {
  const rating::Job job = files::read_job(demo, "", published::catalog());
  CHECK(job.design.frame.members.size() >= 35);
  CHECK(job.design.welds.size() >= 60);
  CHECK(job.design.frame.wheels.size() == 3);
  CHECK(job.duty.trips[0].legs.size() == 4);
  CHECK_FALSE(job.assumptions.empty());
}

TEST_CASE("a member end that nothing holds is refused with file, line, member, end and node") {
  const std::string path = demo + "/design.toml", text = files::read_text(path),
                    duty = files::read_text(demo + "/duty.toml");
  const auto without = [](std::string all, const std::string& id) {  // the table's row of this id
    const std::size_t at = all.find("id = \"" + id + "\""), from = all.rfind("[[", at);
    return all.erase(from, all.find("[[", at) - from);
  };
  const auto read = [&](const std::string& design) {
    return fault_of(
        [&] { files::read_job_texts(path, design, demo + "/duty.toml", duty, published::catalog()); });
  };
  CHECK(read(text).id.empty());
  const Message m = read(without(without(text, "W16"), "S1p"));
  CHECK(m.id == "file.open-ends");
  const std::string cut = without(without(text, "W16"), "S1p");
  const std::size_t row = cut.find("id = \"pin\"\ntube = \"pin\"\nnodes");
  REQUIRE(row != std::string::npos);
  const auto line = 1 + std::count(cut.begin(), cut.begin() + static_cast<std::ptrdiff_t>(row), '\n');
  CHECK(line_of(m) == static_cast<double>(line));
  for (const Argument& a : m.arguments) {
    if (a.name != "found") continue;
    CHECK(std::get<std::string>(a.value) == "pin (start, S1, :" + std::to_string(line) + ")");
  }
}

TEST_CASE("members from a table come in and leave the job with a fault that names their ends") {
  const Folder folder;
  const std::string path = demo + "/design.toml", duty = files::read_text(demo + "/duty.toml");
  const files::Imported in = files::import_table(path, files::read_text(path),
                                                 folder.write("m.csv", "id,tube,nodes\nstay,light,D.L SC\n"));
  CHECK(in.added == 1);
  const Message m = fault_of(
      [&] { files::read_job_texts(path, in.text, demo + "/duty.toml", duty, published::catalog()); });
  REQUIRE(m.id == "file.open-ends");
  for (const Argument& a : m.arguments) {
    if (a.name != "found") continue;
    const std::string& found = std::get<std::string>(a.value);
    CHECK(found.find("stay (start, D.L, :") != std::string::npos);
    CHECK(found.find("stay (end, SC, :") != std::string::npos);
  }
}

TEST_CASE("an end without a weld says why, or goes straight on as the same tube") {
  const std::string text = files::read_text(demo + "/design.toml");
  const auto with_end = [&](const std::string& keys) {
    return fault_of(
        [&] { files::read_design_text("d.toml", text + "\n[[end]]\n" + keys, published::catalog()); });
  };
  CHECK(with_end("member = \"lever\"\nnode = \"U1\"\nbecause = \"pressed\"\n").id.empty());
  CHECK(with_end("member = \"lever\"\nnode = \"U1\"\nbecause = \"\"\n").id == "file.out-of-range");
  CHECK(with_end("member = \"lever\"\nnode = \"U1\"\n").id == "file.missing-key");
  CHECK(with_end("member = \"lever\"\nnode = \"U2\"\nbecause = \"pressed\"\n").id == "file.weld-not-at-node");
  CHECK(with_end("member = \"lever\"\nnode = \"U1\"\ncontinues = \"web-1\"\n").id == "file.out-of-range");
  CHECK(with_end("member = \"lever\"\nnode = \"U1\"\ncontinues = \"web-2\"\n").id == "file.weld-not-at-node");
  const design::Design d = files::read_design(demo + "/design.toml", published::catalog());
  CHECK(std::count_if(d.assumptions.begin(), d.assumptions.end(), [](const Message& m) {
          return m.id == "assumption.end-not-rated";
        }) == static_cast<std::ptrdiff_t>(d.unwelded_ends.size()));
  CHECK(std::any_of(d.unwelded_ends.begin(), d.unwelded_ends.end(),
                    [](const auto& e) { return e.member == "spindle.R" && e.node == "AX.R"; }));
}

TEST_CASE("mirrored twins lie on the other side") {
  const design::Design design = files::read_design(demo + "/design.toml", published::catalog());
  const auto find = [&](const std::string& id) {
    for (const auto& n : design.frame.nodes)
      if (n.id == id) return n.position_mm;
    return frame::Vec3(0, 0, 0);
  };
  CHECK(find("AX.R") == frame::Vec3(find("AX.L").x(), -find("AX.L").y(), find("AX.L").z()));
  CHECK(design::other_side("FL") == "FR");
  CHECK(design::other_side("SM") == "SM");
}

TEST_CASE("faulty designs name the line and the kind of fault") {
  const Folder folder;
  const struct {
    const char *from, *to;
    MessageId id;
  } cases[] = {
      {"wall_mm = 2", "wall_mm = -2", "file.out-of-range"},
      {"wall_mm = 2", "wall_mm = nan", "file.out-of-range"},
      {"wall_mm = 2", "wal_mm = 2", "file.unknown-key"},
      {"wall_mm = 2", "wall_mm = 2\nwal = 3", "file.no-such-key"},
      {"diameter_mm = 40", "diameter_mm = true", "file.wrong-type"},
      {"diameter_mm = 40", "diameter_mm = \"wheelbas / 2\"", "file.bad-expression"},
      {"tube = \"rail\"", "tube = \"rial\"", "file.unknown-id"},
      {"steel = \"25CrMo4+N\"", "steel = \"25CrMo\"", "file.unknown-id"},
      {"id = \"A.L\"", "id = \"A L\"", "file.bad-id"},
      {"id = \"B.L\"", "id = \"A.L\"", "file.doubled-id"},
      {"seamwright.design/1", "seamwright.design/9", "file.out-of-range"},
      {"[parameters]", "[parameters", "file.syntax"},
  };
  for (const auto& c : cases) {
    INFO(c.to);
    const std::string path = folder.write("design.toml", with("design.toml", c.from, c.to));
    const Message m = fault_of([&] { files::read_design(path, published::catalog()); });
    CHECK(m.id == c.id);
    CHECK(line_of(m) >= 1);
  }
}

TEST_CASE("a root's proof is a fused macro of a procedure beside the design") {
  const Folder folder;
  std::filesystem::create_directories(folder.path / "procedures");
  const std::string path = folder.write(
      "design.toml", with("design.toml", "throat_mm = 1.5", "throat_mm = 1.5\nroot_proof = \"M-7\""));
  const auto read = [&] { return files::read_design(path, published::catalog()); };
  CHECK(fault_of(read).id == "file.unknown-id");
  const std::string head = "format = \"seamwright.procedure/1\"\n[[macro]]\nid = \"M-7\"\n";
  folder.write("procedures/a.toml", head + "root = \"not-fused\"\n");
  CHECK(fault_of(read).id == "file.unknown-id");
  folder.write("procedures/a.toml", head + "root = \"maybe\"\n");
  CHECK(fault_of(read).id == "file.out-of-range");
  folder.write("procedures/a.toml", head + "root = \"fused\"\n");
  // A macro without a record proves nothing.
  const auto design = read();
  CHECK(std::count_if(design.welds.begin(), design.welds.end(),
                      [](const auto& w) { return w.root_proof == "M-7" && !w.root_proven; }) >= 1);
}

TEST_CASE("a plate's weld needs its plate, its lines and a direction across the tube") {
  const Folder folder;
  const struct {
    const char *from, *to;
    MessageId id;
  } cases[] = {
      {"plate_mm = 5\n", "", "file.missing-key"},
      {"line_mm = 30", "line_mm = 0", "file.out-of-range"},
      {"plate_normal = [0.065985, 0.997431, -0.027876]", "plate_normal = [0, 0, 0]", "file.out-of-range"},
      {"kind = \"tube-plate\"", "kind = \"tube-plat\"", "file.unknown-id"},
  };
  for (const auto& c : cases) {
    INFO(c.from);
    const std::string path = folder.write("design.toml", with("design.toml", c.from, c.to));
    CHECK(fault_of([&] { files::read_design(path, published::catalog()); }).id == c.id);
  }
}

TEST_CASE("measures of seats and slots that do not fit their tube are refused") {
  const Folder folder;
  const std::string all = files::read_text(demo + "/design.toml");
  const auto fault = [&](const std::string& rows) {
    const std::string text = all + "\n[[notch]]\nid = \"X1\"\nmember = \"seat-tube\"\nat_mm = 380\n" + rows;
    return fault_of([&] { files::read_design(folder.write("design.toml", text), published::catalog()); }).id;
  };
  for (const char* bore : {"44", "45", "50", "51"})  // of a tube 50 x 2.5
    CHECK(fault(std::string("kind = \"seat\"\nbore_mm = ") + bore + "\n") == "file.out-of-range");
  const std::string slot = "kind = \"clamp-slot\"\nslot_mm = ";
  CHECK(fault(slot + "50\nfaces = [1, 0, 0]\n") == "file.out-of-range");
  CHECK(fault(slot + "2\n") == "file.missing-key");
}

TEST_CASE("notches and bolts are checked where they are written") {
  const Folder folder;
  const std::string all = files::read_text(demo + "/design.toml");
  const auto read = [&](const std::string& rows) {
    return files::read_design(folder.write("design.toml", all + rows), published::catalog());
  };
  const std::string shoulder =
      "\n[[notch]]\nid = \"X1\"\nkind = \"shoulder\"\nmember = \"spine\"\nat_mm = 20\nlarge_mm = "
      "24\nsmall_mm = "
      "20\nfillet_mm = 1\n";
  const std::string bolts =
      "\n[[bolts]]\nid = \"B1\"\nmember = \"spine\"\nend = \"end\"\nthread_mm = 8\npitch_mm = 1.25\ncount = "
      "4\ncircle_mm = 60\ngrade = \"8.8\"\npreload_n = 15000\nloss_percent = 20\n";
  const design::Design d = read(shoulder + bolts);
  REQUIRE(!d.notches.empty());
  CHECK(d.notches.back().id == "X1");
  CHECK(d.notches.back().shoulder.fillet_mm == 1);
  REQUIRE(d.bolts.size() == 1);
  CHECK(d.bolts[0].ultimate_mpa == 800);
  const struct {
    const char *from, *to;
    MessageId id;
  } cases[] = {
      {"small_mm = 20", "small_mm = 24", "file.out-of-range"},
      {"at_mm = 20", "at_mm = 1e6", "file.out-of-range"},
      {"\"shoulder\"", "\"groove\"", "file.out-of-range"},
      {"fillet_mm = 1", "fillet_mm = 0", "file.out-of-range"},
      {"pitch_mm = 1.25", "pitch_mm = 5", "file.out-of-range"},
      {"\"8.8\"", "\"9.9\"", "file.out-of-range"},
      {"loss_percent = 20\n", "", "file.missing-key"},
      {"thread_mm = 8\n", "head_mm = 13\n", "file.missing-key"},  // head_mm is no misspelt thread_mm
      {"count = 4", "count = 1", "file.out-of-range"},
  };
  for (const auto& c : cases) {
    INFO(c.to);
    std::string rows = shoulder + bolts;
    rows.replace(rows.find(c.from), std::string(c.from).size(), c.to);
    CHECK(fault_of([&] { read(rows); }).id == c.id);
  }
}

TEST_CASE("an unknown key comes with the nearest known one") {
  const Folder folder;
  const std::string path =
      folder.write("duty.toml", with("duty.toml", "years = 10", "years = 10\nyeers = 3"));
  const Message m = fault_of([&] { files::read_duty(path, published::catalog()); });
  CHECK(m.id == "file.unknown-key");
  CHECK(std::get<std::string>(m.arguments.back().value) == "years");
}

TEST_CASE("a duty without legs and shares that do not sum are refused") {
  const Folder folder;
  std::string text = files::read_text(demo + "/duty.toml");
  for (std::size_t at; (at = text.find("[[trip.leg]]")) != std::string::npos;)
    text.erase(at, text.find("\n\n", at) - at);
  CHECK(fault_of([&] { files::read_duty(folder.write("duty.toml", text), published::catalog()); }).id ==
        "file.duty-without-legs");
  const std::string shares =
      folder.write("duty.toml", with("duty.toml", "bar_share = 0.10", "bar_share = 0.20"));
  CHECK(fault_of([&] { files::read_duty(shares, published::catalog()); }).id == "file.out-of-range");
}

TEST_CASE("duties that cannot be are refused with the key") {
  const Folder folder;
  const auto refused = [&](const char* from, const char* to, const char* key) {
    INFO(to);
    const Message m = fault_of([&] {
      files::read_duty(folder.write("duty.toml", with("duty.toml", from, to)), published::catalog());
    });
    bool named = false, line = false;
    for (const Argument& a : m.arguments) {
      const auto* value = std::get_if<std::string>(&a.value);
      named = named || (a.name == "key" && value && value->find(key) != std::string::npos);
      line = line || a.name == "line";
    }
    CHECK(named);
    CHECK(line);
  };
  refused("speed_kmh = 15", "speed_kmh = 0", "speed_kmh");
  refused("distance_km = 2.2", "distance_km = 0", "distance_km");
  refused("bend = 4", "bend = -4", "per_km.bend");
  refused("bend = 4", "bent = 4", "per_km");
  refused("mass_kg = 80", "mass_kg = -80", "mass_kg");
  refused("payload_kg = 100", "payload_kg = -1", "payload_kg");
  refused("steering_deg = 15", "steering_deg = 95", "steering_deg");
  refused("m_s2 = 1.5", "m_s2 = 1.5\nrear_share = 0.9", "front_left_share");
  refused("height_mm = 75", "height_mm = -75", "height_mm");
  refused("shape = \"round-hump\"", "shape = \"hill\"", "shape");
  refused("id = \"road-out\"", "id = \"lane-out\"", "leg");
  refused("id = \"hump\"", "id = \"stop\"", "id");
  refused("trips_per_year = 500", "trips_per_year = -1", "trips_per_year");
}

TEST_CASE("histories are sampled finely enough for the highest frequency") {
  Folder folder;
  const auto read = [&](const std::string& dynamics) {
    return files::read_duty(folder.write("duty.toml", with("duty.toml", "[rules]", dynamics + "[rules]")),
                            published::catalog());
  };
  CHECK(read("").duty.sample_rate_hz == 200);
  CHECK(read("[dynamics]\nhighest_frequency_hz = 120\n").duty.sample_rate_hz == 400);
  CHECK(read("[dynamics]\nhighest_frequency_hz = 80\nsample_rate_hz = 200\n").duty.sample_rate_hz == 200);
  CHECK(fault_of([&] { read("[dynamics]\nhighest_frequency_hz = 90\nsample_rate_hz = 200\n"); }).id ==
        "file.out-of-range");
}

TEST_CASE("a corner may be given by speed and radius") {
  const Folder folder;
  const std::string path =
      folder.write("duty.toml", with("duty.toml", "m_s2 = 1.2", "speed_kmh = 18\nradius_m = 10"));
  CHECK(files::read_duty(path, published::catalog()).duty.manoeuvres[0].level == Approx(2.5));
}

TEST_CASE("a recorded profile lies beside the duty") {
  const Folder folder;
  std::string table = "left,right\n";
  for (int i = 0; i < 50; ++i)
    table += std::to_string(0.001 * (i % 7)) + "," + std::to_string(0.002 * (i % 5)) + "\n";
  folder.write("lane.csv", table);
  const std::string path =
      folder.write("duty.toml", with("duty.toml", "class = \"C\"",
                                     "profile = \"lane.csv\"\nprofile_step_m = 0.1\nprofile_left = \"left\"\n"
                                     "profile_right = \"right\""));
  const loads::Road road = files::read_duty(path, published::catalog()).duty.roads[1];
  REQUIRE(road.profile_left_m.size() == 50);
  CHECK(road.profile_left_m[8] == Approx(0.001));
  CHECK(road.profile_right_m[9] == Approx(0.008));
}

TEST_CASE("a measured surface brings its waviness and its tracks, a class its tracks when asked") {
  const Folder folder;
  const auto lane = [&](const std::string& lines) {
    const std::string path = folder.write("duty.toml", with("duty.toml", "class = \"C\"", lines));
    return files::read_duty(path, published::catalog()).duty.roads[1];
  };
  const loads::Road surface = lane("surface = \"asphalt-road\"");
  CHECK(surface.road_class.empty());
  CHECK(surface.waviness == 2.1);
  CHECK(surface.gd_n0_m3 == Approx(4.3348641607e-5).epsilon(1e-9));
  CHECK(surface.coherence == loads::Coherence::fitted);
  CHECK((surface.fit == loads::CoherenceFit{0.73, 0.45, 0.6}));
  CHECK(lane("surface = \"asphalt-road\"\ncoherence = \"none\"").coherence == loads::Coherence::none);
  CHECK(lane("class = \"C\"").coherence == loads::Coherence::isotropic);
  const loads::Road fitted = lane("class = \"C\"\ncoherence = \"fitted\"");
  CHECK(fitted.coherence == loads::Coherence::fitted);
  CHECK((fitted.fit == loads::CoherenceFit{3, 1.3, 1}));
  for (const char* unknown : {"class = \"F\"\ncoherence = \"fitted\"", "gd_n0_m3 = 1e-4\ncoherence = \"fitted\"",
                              "surface = \"mud\"", "surface = \"asphalt-road\"\nclass = \"C\"", "surface = \"asphalt-road\"\nwaviness = 2"}) {
    INFO(unknown);
    CHECK_THROWS_AS(lane(unknown), Fault);
  }
}

TEST_CASE("files that are no text are refused before parsing") {
  const Folder folder;
  CHECK(fault_of([&] { files::read_text((folder.path / "none").string()); }).id == "file.missing");
  CHECK(fault_of([&] { files::read_text(folder.path.string()); }).id == "file.not-a-file");
  CHECK(fault_of([&] { files::read_text("/dev/zero"); }).id == "file.not-a-file");
  CHECK(fault_of([&] { files::read_text(folder.write("empty", "")); }).id == "file.empty");
  CHECK(fault_of([&] { files::read_text(folder.write("nul", std::string("a\n\0b", 4))); }).id ==
        "file.not-text");
  CHECK(fault_of([&] { files::read_text(folder.write("latin", "caf\xE9")); }).id == "file.not-text");
  const std::string huge = folder.write("huge", "x");
  std::filesystem::resize_file(huge, 2ull << 30);
  CHECK(fault_of([&] { files::read_text(huge); }).id == "file.too-large");
}
