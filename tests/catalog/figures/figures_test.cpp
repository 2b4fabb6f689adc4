// SPDX-License-Identifier: GPL-3.0-or-later
// Figures by name, against the same outside values that the formulas themselves are held to.
#include "catalog/figures/figures.h"
#include "catalog/published/published_data.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace seamwright;
using namespace seamwright::figures;

namespace {

using Given = std::map<std::string, std::string>;

FigureResult run(const std::string& name, const Given& given) {
  return compute(name, given, published::catalog());
}

double value(const FigureResult& r, const std::string& name) {
  for (const NamedValue& v : r.values)
    if (v.name == name) return v.value;
  FAIL("no value " << name);
  return 0;
}

std::string refusal(const std::string& name, const Given& given) {
  try {
    run(name, given);
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

std::string argument(const std::string& name, const Given& given, const std::string& key) {
  try {
    run(name, given);
  } catch (const Fault& fault) {
    for (const Argument& a : fault.message.arguments)
      if (a.name == key) return std::get<std::string>(a.value);
  }
  return "";
}

const Given joint{{"chord_diameter_mm", "280"}, {"chord_wall_mm", "10"}, {"chord_length_mm", "2800"},
                  {"brace_diameter_mm", "168"}, {"brace_wall_mm", "7"},  {"angle_deg", "60"}};

}  // namespace

TEST_CASE("section of a round tube 31.8 x 0.9") {
  // Closed forms of the annulus (Young & Budynas, Roark's Formulas, Table A.1), computed apart.
  const FigureResult r = run("section", {{"diameter_mm", "31.8"}, {"wall_mm", "0.9"}});
  CHECK(value(r, "area") == Approx(87.368).epsilon(1e-5));
  CHECK(value(r, "second_moment_z") == Approx(10436).epsilon(1e-4));
  CHECK(value(r, "modulus_z") == Approx(656.37).epsilon(1e-5));
  CHECK(value(r, "torsion_modulus") == Approx(1312.7).epsilon(1e-4));
  CHECK(value(r, "shear_area_y") / value(r, "area") == Approx(0.53133).epsilon(1e-5));
}

TEST_CASE("section of a square tube 40 x 2") {
  // EN 10219-2:2006 tables: A 2.94 cm2, I 6.94 cm4, It 11.3 cm4, Ct 5.23 cm3, corner radius 2 t.
  const FigureResult r = run("section", {{"shape", "rectangular"},
                                         {"height_mm", "40"},
                                         {"width_mm", "40"},
                                         {"wall_mm", "2"},
                                         {"corner_radius_mm", "4"}});
  CHECK(value(r, "area") == Approx(293.70).epsilon(1e-4));
  CHECK(value(r, "second_moment_z") == Approx(69402).epsilon(1e-3));
  CHECK(value(r, "torsion_constant") == Approx(112770).epsilon(1e-3));
  CHECK(value(r, "torsion_modulus") == Approx(5230).epsilon(2e-3));
}

TEST_CASE("stress concentration of a Y joint by name") {
  // DNVGL-RP-C203 Table B-1, evaluated apart: beta 0.6, gamma 14, tau 0.7, theta 60, alpha 20, C 0.7.
  const FigureResult r = run("scf", joint);
  CHECK(value(r, "chord_axial_saddle") == Approx(8.7994).margin(1e-4));
  CHECK(value(r, "brace_axial_saddle") == Approx(6.1580).margin(1e-4));
  CHECK(value(r, "chord_in_plane") == Approx(2.7710).margin(1e-4));
  CHECK(value(r, "brace_in_plane") == Approx(2.8572).margin(1e-4));
  CHECK(value(r, "chord_out_of_plane") == Approx(6.8816).margin(1e-4));
  CHECK(value(r, "brace_out_of_plane") == Approx(5.2526).margin(1e-4));
  CHECK(r.evidence.coverage == Coverage::inside);
}

TEST_CASE("hot-spot stress by name is the superposition of its parts") {
  // DNVGL-RP-C203 eqn 3.3.1 is linear; at the saddle (90 deg) in-plane bending drops out.
  Given axial = joint, plane = joint, out = joint, all = joint;
  axial["axial_mpa"] = all["axial_mpa"] = "40";
  plane["in_plane_mpa"] = all["in_plane_mpa"] = "25";
  out["out_of_plane_mpa"] = all["out_of_plane_mpa"] = "10";
  const FigureResult a = run("hot-spot", axial), i = run("hot-spot", plane), o = run("hot-spot", out),
                     whole = run("hot-spot", all);
  REQUIRE(whole.values.size() == 8);
  for (std::size_t k = 0; k < 8; ++k)
    CHECK(whole.values[k].value ==
          Approx(a.values[k].value + i.values[k].value + o.values[k].value).margin(1e-9));
  CHECK(value(a, "at_90_deg") == Approx(40 * 8.7994).epsilon(1e-5));
  CHECK(value(o, "at_90_deg") == Approx(-10 * 6.8816).epsilon(1e-5));
  CHECK(value(i, "at_90_deg") == Approx(0).margin(1e-9));
}

TEST_CASE("throat stress by name") {
  // across 200 N/mm on a throat of 2 mm: 100/sqrt(2) each; along 100 N/mm: 50; sqrt(70.71^2 * 2 + 0.2 *
  // 50^2).
  const FigureResult r =
      run("throat-stress", {{"across_n_mm", "200"}, {"along_n_mm", "100"}, {"throat_mm", "2"}});
  CHECK(value(r, "perpendicular_direct") == Approx(70.7107).epsilon(1e-6));
  CHECK(value(r, "range") == Approx(std::sqrt(1e4 + 500)).epsilon(1e-9));
  CHECK(r.evidence.from_memory);
}

TEST_CASE("life and damage on curve F by name") {
  // DNVGL-RP-C203 (2016) Table 2-1: log a 11.855, m 3; 15.091, m 5 beyond 1e7; five-line spectrum summed
  // apart.
  CHECK(run("sn-life", {{"curve", "F"}, {"range_mpa", "100"}}).values[0].value ==
        Approx(std::pow(10, 11.855 - 6)).epsilon(1e-6));
  CHECK(run("sn-life", {{"curve", "F"}, {"range_mpa", "20"}}).values[0].value ==
        Approx(std::pow(10, 15.091) / std::pow(20, 5)).epsilon(1e-6));
  const FigureResult r =
      run("miner", {{"curve", "F"}, {"spectrum", "2e4@140,1.5e5@90,8e5@55,6e6@30,3e7@18"}});
  CHECK(value(r, "damage") == Approx(0.579391).epsilon(1e-4));
  CHECK(value(r, "line_2") == Approx(0.152693).epsilon(1e-4));
  CHECK(run("sn-life", {{"curve", "F"}, {"range_mpa", "100"}, {"thickness_mm", "2"}}).evidence.coverage ==
        Coverage::extended);
}

TEST_CASE("a thickness is optional for every curve of every set") {
  for (const fatigue::Curve& c : published::catalog().data.curves) {
    INFO(c.set << " " << c.id);
    const Given given{{"curve", c.id}, {"rules", c.set}, {"environment", c.environment}};
    Given one = given, many = given;
    one["range_mpa"] = "150";
    many["spectrum"] = "1000@150";
    const double cycles = run("sn-life", one).values[0].value;
    CHECK(cycles == Approx(fatigue::cycles_to_failure(c, 150)).epsilon(1e-12));
    CHECK(value(run("miner", many), "damage") == Approx(1000 / cycles).epsilon(1e-12));
  }
}

TEST_CASE("curves by slopes and knees against the printed rules of two sets") {
  // EN 1993-1-9:2005, 7.1(2) and (3): m = 3 to the limit at 5e6, (2/5)^(1/3) = 0.737 of the category; m = 5 to
  // the cut-off at 1e8, (5/100)^(1/5) = 0.549 of that limit.
  const Given category{{"slope", "3"},        {"reference_mpa", "71"}, {"knee_cycles", "5e6"},
                       {"slope_beyond", "5"}, {"cutoff_cycles", "1e8"}};
  const auto life = [&](const Given& curve, const std::string& range) {
    Given given = curve;
    given["range_mpa"] = range;
    return run("sn-life", given).values[0].value;
  };
  CHECK(life(category, "71") == Approx(2e6).epsilon(1e-9));
  CHECK(life(category, "142") == Approx(2e6 / 8).epsilon(1e-9));
  CHECK(life(category, std::to_string(0.737 * 71)) == Approx(5e6).epsilon(3e-3));
  CHECK(life(category, std::to_string(0.5495 * 0.737 * 71)) == Approx(1e8).epsilon(1e-2));
  CHECK(std::isinf(life(category, std::to_string(0.548 * 0.736 * 71))));
  // The whole spectrum of the set's own curve in the catalog.
  Given own = category, of_catalog{{"curve", "71"}, {"rules", "en1993"}};
  own["spectrum"] = of_catalog["spectrum"] = "2e4@140,1.5e5@90,8e5@55,6e6@40,3e7@20";
  CHECK(value(run("miner", own), "damage") ==
        Approx(value(run("miner", of_catalog), "damage")).epsilon(2e-3));
  // DNVGL-RP-C203 (2016) Table 2-1, F in air: log a 11.855 with m 3, 15.091 with m 5 beyond 1e7.
  const Given f{{"slope", "3"}, {"log_a", "11.855"}, {"knee_cycles", "1e7"}, {"slope_beyond", "5"}};
  CHECK(life(f, "100") == Approx(std::pow(10, 11.855 - 6)).epsilon(1e-9));
  CHECK(life(f, "20") == Approx(std::pow(10, 15.091) / std::pow(20, 5)).epsilon(5e-3));
  // Table 2-1 with 2.4.3: reference thickness 25 mm, k = 0.25; twice the thickness, 2^0.25 on stress.
  Given thick = f;
  thick["reference_thickness_mm"] = "25";
  thick["thickness_exponent"] = "0.25";
  thick["thickness_mm"] = "50";
  CHECK(life(thick, "100") == Approx(std::pow(10, 11.855 - 6) / std::pow(2, 0.75)).epsilon(1e-9));
}

TEST_CASE("a curve is one of the catalog or one's own, and whole") {
  Given given{{"range_mpa", "100"}};
  CHECK(refusal("sn-life", given) == "figure.one-of");  // neither
  given["curve"] = "F";
  given["slope"] = "3";
  CHECK(refusal("sn-life", given) == "figure.one-of");  // both
  given.erase("curve");
  CHECK(refusal("sn-life", given) == "figure.one-of");  // a slope alone is no curve
  given["log_a"] = "12";
  given["knee_cycles"] = "1e7";
  CHECK(argument("sn-life", given, "parameter") == "slope_beyond");
  given["slope_beyond"] = "5";
  CHECK(refusal("sn-life", given) == "");
  given["cutoff_cycles"] = "1e6";
  CHECK(refusal("sn-life", given) == "figure.bad-value");  // before the knee
}

TEST_CASE("road spectrum by name") {
  // ISO 8608 class C at 5 Hz and 15 km/h; class D's mean is four times as rough.
  const FigureResult c = run("road-psd", {{"frequency_hz", "5"}, {"speed_kmh", "15"}});
  CHECK(value(c, "displacement") == Approx(4.266667e-7).epsilon(1e-6));
  CHECK(value(c, "acceleration") == Approx(0.415612).epsilon(1e-5));
  const FigureResult d = run("road-psd", {{"class", "D"}, {"frequency_hz", "5"}, {"speed_kmh", "15"}});
  CHECK(value(d, "velocity") == Approx(4 * value(c, "velocity")).epsilon(1e-9));
  const FigureResult given =
      run("road-psd", {{"gd_n0_m3", "256e-6"}, {"frequency_hz", "5"}, {"speed_kmh", "15"}});
  CHECK(value(given, "displacement") == Approx(value(c, "displacement")).epsilon(1e-12));
}

TEST_CASE("wheel loads by name") {
  // Moments about the axles: 160 kg, wheelbase 1300, centre 500 behind the front axle and 20 left, track 800.
  const FigureResult r = run("wheel-loads", {{"mass_kg", "160"},
                                             {"wheelbase_mm", "1300"},
                                             {"track_mm", "800"},
                                             {"centre_behind_front_axle_mm", "500"},
                                             {"centre_left_mm", "20"}});
  const double weight = 160 * 9.80665;
  CHECK(value(r, "rear") == Approx(weight * 500 / 1300).epsilon(1e-12));
  CHECK(value(r, "front_left") - value(r, "front_right") == Approx(2 * weight * 20 / 800).epsilon(1e-12));
  CHECK(value(r, "rear") + value(r, "front_left") + value(r, "front_right") == Approx(weight).epsilon(1e-12));
}

TEST_CASE("coherence of parallel tracks by name falls from one") {
  CHECK(value(run("track-coherence", {{"cycles_m", "0"}, {"apart_mm", "800"}}), "cross_over_direct") ==
        Approx(1));
  const auto at = [](const char* n) {
    return value(run("track-coherence", {{"cycles_m", n}, {"apart_mm", "800"}}), "cross_over_direct");
  };
  CHECK(at("0.1") > at("0.5"));
  CHECK(at("2") < 0.05);
}

namespace {

void check_sources(const Evidence& e) {
  const auto& known = published::catalog().bibliography;
  INFO(e.figure << " [" << e.source.key << "]");
  CHECK(std::any_of(known.begin(), known.end(), [&](const auto& r) { return r.key == e.source.key; }));
  CHECK_FALSE(e.source.clause.empty());
  for (const Evidence& b : e.because) check_sources(b);
}

}  // namespace

TEST_CASE("every source of a figure stands in the bibliography") {
  Given hot = joint;
  hot["axial_mpa"] = "10";
  for (const auto& [name, given] : std::initializer_list<std::pair<const char*, Given>>{
           {"section", {{"diameter_mm", "30"}, {"wall_mm", "2"}}},
           {"section", {{"shape", "rectangular"}, {"height_mm", "40"}, {"width_mm", "30"}, {"wall_mm", "2"}}},
           {"section", {{"shape", "flat-oval"}, {"height_mm", "40"}, {"width_mm", "25"}, {"wall_mm", "2"}}},
           {"section", {{"shape", "bar"}, {"diameter_mm", "16"}}},
           {"section", {{"shape", "plate"}, {"height_mm", "40"}, {"wall_mm", "6"}}},
           {"scf", joint},
           {"hot-spot", hot},
           {"throat-stress", {{"across_n_mm", "200"}, {"throat_mm", "2"}}},
           {"sn-life", {{"curve", "T"}, {"range_mpa", "100"}}},
           {"miner", {{"curve", "T"}, {"spectrum", "1@100"}}},
           {"road-psd", {{"frequency_hz", "5"}, {"speed_kmh", "15"}}},
           {"track-coherence", {{"cycles_m", "1"}, {"apart_mm", "800"}}},
           {"wheel-loads",
            {{"mass_kg", "160"},
             {"wheelbase_mm", "1300"},
             {"track_mm", "800"},
             {"centre_behind_front_axle_mm", "500"}}}})
    check_sources(run(name, given).evidence);
  for (const Figure& f : seamwright::figures::figures())
    check_sources([&] {
      Evidence e;
      e.figure = f.name;
      e.source = f.source;
      return e;
    }());
}

TEST_CASE("every figure refuses what it does not know") {
  CHECK(refusal("scff", {}) == "figure.unknown");
  CHECK(argument("scff", {}, "nearest") == "scf");
  for (const Figure& f : seamwright::figures::figures()) {
    INFO(f.name);
    CHECK_FALSE(f.source.key.empty());
    CHECK(refusal(f.name, {{"no_such_parameter", "1"}}) == "figure.unknown-parameter");
    for (const Parameter& p : f.parameters)
      if (p.kind == ParameterKind::number)
        for (const char* bad : {"", "x", "1 mm", "nan", "inf", "1e999", "0x10"}) {
          INFO(p.name << "=" << bad);
          CHECK(refusal(f.name, {{p.name, bad}}) == "figure.bad-value");
        }
  }
  CHECK(argument("section", {{"diametr_mm", "30"}}, "nearest") == "diameter_mm");
  CHECK(refusal("section", {{"diameter_mm", "30"}}) == "figure.missing-parameter");
  CHECK(refusal("section", {{"diameter_mm", "30"}, {"wall_mm", "-1"}}) == "section.impossible");
  CHECK(refusal("sn-life", {{"curve", "Q"}, {"range_mpa", "10"}}) == "figure.unknown-curve");
  CHECK(refusal("miner", {{"curve", "F"}, {"spectrum", "10"}}) == "figure.bad-value");
  CHECK(refusal("miner", {{"curve", "F"}, {"spectrum", ""}}) == "figure.bad-value");
  CHECK(refusal("road-psd", {{"class", "Z"}, {"frequency_hz", "1"}, {"speed_kmh", "10"}}) ==
        "figure.bad-value");
}

TEST_CASE("stress concentration with shares of X and K") {
  // Table B-2, eq. 12 and Table B-3, eq. 20, computed apart from the printed equations.
  Given x = joint;
  x["x_share"] = "1";
  CHECK(value(run("scf", x), "chord_axial_saddle") == Approx(12.4962).epsilon(1e-4));
  Given k = joint;
  k["k_share"] = "1";
  CHECK(refusal("scf", k) == "figure.missing-parameter");
  k["other_diameter_mm"] = "168";
  k["other_wall_mm"] = "7";
  k["other_angle_deg"] = "60";
  k["gap_mm"] = "56";
  CHECK(value(run("scf", k), "chord_axial_saddle") < value(run("scf", joint), "chord_axial_saddle"));
  k["x_share"] = "0.5";
  CHECK(refusal("scf", k) == "joints.bad-shares");
}

TEST_CASE("figures of strength against independent evaluations and hand values") {
  // EN 1993-1-8 Tables 7.2 and 7.5, T joint: evaluated apart [formulas partly from memory].
  const Given tee{{"chord_diameter_mm", "60"},
                  {"chord_wall_mm", "3"},
                  {"brace_diameter_mm", "40"},
                  {"brace_wall_mm", "3"},
                  {"yield_mpa", "235"}};
  CHECK(value(run("tube-joint-resistance", tee), "axial") == Approx(30541).epsilon(1e-4));
  CHECK(value(run("tube-joint-resistance", tee), "in_plane") == Approx(651.25).epsilon(1e-4));
  Given k = tee;
  k["pattern"] = "k";
  CHECK(refusal("tube-joint-resistance", k) == "figure.missing-parameter");
  // EN 1993-1-8, 4.5.3.2: S355, fu 510, beta_w 0.9: a/t = sqrt(2) 0.9 1.25 355/510.
  CHECK(value(run("full-strength-throat",
                  {{"yield_mpa", "355"}, {"ultimate_mpa", "510"}, {"correlation", "0.9"}}),
              "throat/wall") == Approx(1.107).epsilon(1e-3));
  // sqrt(100^2 + 3 (100^2 + 80^2)) = 243.31 of 510 / (0.9 1.25) = 453.33: force across 200 / sqrt(2) per
  // throat of 1.
  CHECK(value(run("weld-use", {{"across_n_mm", "141.421356"},
                               {"along_n_mm", "80"},
                               {"throat_mm", "1"},
                               {"ultimate_mpa", "510"},
                               {"correlation", "0.9"}}),
              "directional") == Approx(243.31 / 453.33).epsilon(1e-4));
  // EN 1993-1-9, Table 8.3 row 17 [from memory].
  CHECK(value(run("misalignment",
                  {{"set", "en1993"}, {"wall_mm", "2"}, {"other_wall_mm", "3"}, {"offset_mm", "0.5"}}),
              "factor") == Approx(1 / 0.65415).epsilon(1e-4));
  CHECK(refusal("square-k-concentration", {{"chord_width_mm", "40"},
                                           {"chord_wall_mm", "2"},
                                           {"brace_width_mm", "50"},
                                           {"brace_wall_mm", "2"},
                                           {"angle_deg", "45"},
                                           {"gap_mm", "10"}}) == "joints.no-square-k");
  // A hole in a wide plate under tension: 3 beside it, -1 in line (Kirsch).
  CHECK(value(run("hole-concentration", {{"angle_deg", "90"}}), "along") == Approx(3));
  CHECK(value(run("hole-concentration", {{"angle_deg", "0"}}), "along") == Approx(-1));
  // M8: stress area 36.6 mm2 (ISO 898-1), 0.9 800 36.6 / 1.25 in tension (EN 1993-1-8, Table 3.4).
  CHECK(value(run("bolt-resistance", {{"thread_mm", "8"}, {"pitch_mm", "1.25"}}), "tension") ==
        Approx(0.9 * 800 * 36.6 / 1.25).epsilon(2e-3));
  // A stocky strut loses nothing: yield times area.
  CHECK(value(run("buckling",
                  {{"diameter_mm", "30"}, {"wall_mm", "2"}, {"length_mm", "50"}, {"yield_mpa", "235"}}),
              "reduction") == Approx(1));
}

TEST_CASE("figures of procedures against independent evaluations") {
  // EN 1011-1 and -2, evaluated apart.
  const Given steel{{"C", "0.255"}, {"Si", "0.25"}, {"Mn", "0.75"}, {"Cr", "1.05"}, {"Mo", "0.225"}};
  CHECK(value(run("carbon-equivalents", steel), "cet") == Approx(0.4050).epsilon(1e-3));
  CHECK(value(run("heat-input",
                  {{"process", "141"}, {"volts", "10"}, {"amperes", "55"}, {"speed_mm_s", "1.5"}}),
              "heat_input") == Approx(0.22).epsilon(1e-4));
  CHECK(value(run("heat-input", {{"process", "141"}, {"power_w", "600"}, {"speed_mm_s", "1.5"}}),
              "heat_input") == Approx(0.24).epsilon(1e-4));
  CHECK(refusal("heat-input", {{"process", "912"}, {"speed_mm_s", "1.5"}}) == "procedure.no-efficiency");
  CHECK(value(run("cooling-time", {{"heat_kj_mm", "0.22"}, {"thickness_mm", "1.5"}}), "t8/5") ==
        Approx(24.44).epsilon(1e-3));
  CHECK(run("preheat", {{"cet", "0.405"},
                        {"thickness_mm", "1.5"},
                        {"hydrogen_ml", "3"},
                        {"heat_kj_mm", "0.5"},
                        {"yield_mpa", "700"}})
            .evidence.coverage == seamwright::Coverage::none);
  Given cooled = steel;
  cooled["cooling_s"] = "25";
  CHECK(value(run("peak-hardness", cooled), "yurioka") == Approx(385.5).epsilon(1e-3));
  CHECK(value(run("general-tolerance", {{"length_mm", "850"}, {"class", "B"}}), "tolerance") ==
        3);  // ISO 13920, Table 1
  CHECK(refusal("general-tolerance", {{"length_mm", "1"}, {"class", "B"}}) == "inspection.no-tolerance");
}
