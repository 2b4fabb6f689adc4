// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "catalog/files/duty_reader.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/parse.h"
#include "catalog/files/trips_reader.h"
#include "catalog/published/sha256.h"

namespace seamwright::files {

namespace {

loads::Rider read_rider(Reader r) {
  loads::Rider rider;
  rider.mass_kg = r.real("mass_kg", {1, 300});
  rider.saddle_share = r.real("saddle_share", share);
  rider.pedal_share = r.real("pedal_share", share);
  rider.bar_share = r.real("bar_share", share);
  if (std::abs(rider.saddle_share + rider.pedal_share + rider.bar_share - 1) > 1e-6)
    r.fail("file.out-of-range", "saddle_share", "shares that do not sum to 1",
           "saddle, pedal and bar shares that sum to 1");
  rider.vertical_frequency_hz = r.real_or("vertical_frequency_hz", {0.1, 60}, 5);
  rider.vertical_damping = r.real_or("vertical_damping", {0, 2}, 0.475);
  if (r.has("lateral_frequency_hz")) {
    rider.lateral_frequency_hz = r.real("lateral_frequency_hz", {0.1, 60});
    rider.lateral_damping = r.real("lateral_damping", {0, 2});
  }
  if (r.has("fore_aft_frequency_hz")) {
    rider.fore_aft_frequency_hz = r.real("fore_aft_frequency_hz", {0.1, 60});
    rider.fore_aft_damping = r.real("fore_aft_damping", {0, 2});
  }
  rider.height_above_saddle_mm = r.real("height_above_saddle_mm", {0, 1000});
  r.finish();
  return rider;
}

// Every value is its default without the table, and listed.
void read_drive(Reader r, loads::Drive& d) {
  d.crank_mm = r.real_or("crank_mm", {50, 300}, 170);
  d.pedal_offset_mm = r.real_or("pedal_offset_mm", {0, 400}, 135);
  d.chainring_radius_mm = r.real_or("chainring_radius_mm", {20, 200}, 77);
  d.sprocket_radius_mm = r.real_or("sprocket_radius_mm", {10, 200}, 37);
  d.chain_offset_mm = r.real_or("chain_offset_mm", {0, 200}, 45);
  d.bar_pull_share = r.real_or("bar_pull_share", {0, 1}, 0.3);
  const std::string motor = r.has("motor") ? r.choice("motor", {"none", "hub", "mid"}) : "none";
  d.motor = motor == "hub" ? loads::Motor::hub : motor == "mid" ? loads::Motor::mid : loads::Motor::none;
  r.finish();
}

loads::Peaks read_peaks(Reader r) {
  constexpr Bounds newton{0, 50000}, factor{1, 20};
  loads::Peaks p;
  p.shock_factor = r.real_or("shock_factor", factor, p.shock_factor);
  p.kerb_mm = r.real_or("kerb_mm", {0, 200}, p.kerb_mm);
  p.side_factor = r.real_or("side_factor", {0, 20}, p.side_factor);
  p.drop_mm = r.real_or("drop_mm", {0, 1000}, p.drop_mm);
  p.friction = r.real_or("friction", {0.05, 2}, p.friction);
  p.fall_factor = r.real_or("fall_factor", factor, p.fall_factor);
  p.climber_kg = r.real_or("climber_kg", {0, 300}, p.climber_kg);
  p.slope_percent = r.real_or("slope_percent", {0, 60}, p.slope_percent);
  const auto nodes = [&](const char* key, std::vector<std::string>& list, const char* value, double& number,
                         Bounds bounds) {
    if (!r.has(key)) return;
    list = r.ids(key, 1);
    number = r.real_or(value, bounds, number);
  };
  nodes("lash_nodes", p.lash_nodes, "lash_n", p.lash_n, newton);
  nodes("lift_nodes", p.lift_nodes, "lift_factor", p.lift_factor, factor);
  nodes("belt_nodes", p.belt_nodes, "belt_n", p.belt_n, newton);
  if (r.has("tow_node")) {
    p.tow_node = r.id("tow_node");
    p.tow_n = r.real_or("tow_n", newton, p.tow_n);
  }
  r.finish();
  return p;
}

rules::Rules read_rules(Reader r, loads::Duty& duty, cycles::RangeModel& model, bool& inside_stated) {
  rules::Rules rules;
  rules.set = r.one_of("set", rules::rule_sets);
  rules.consequence = r.one_of("consequence", rules::consequences);
  rules.strategy = r.one_of("strategy", rules::strategies);
  if (r.has("design_fatigue_factor")) rules.design_fatigue_factor = r.real("design_fatigue_factor", {1, 10});
  if (r.has("partial_factor")) rules.partial_factor = r.real("partial_factor", {1, 3});
  if (r.has("damage_limit")) {
    rules.damage_limit = r.real("damage_limit", {0.01, 1});
    rules.damage_limit_by = r.text("damage_limit_by");
  }
  rules.look_every_km = r.real_or_none("look_every_km", {1, 1e6});
  if (rules.look_every_km > 0) rules.look_by = r.one_of_or("look_by", fatigue::detections, rules.look_by);
  rules.target_crack = r.real_or("target_crack", {0.5, 6}, rules.target_crack);
  rules.target_single_path = r.real_or("target_single_path", {0.5, 6}, rules.target_single_path);
  rules.target_reliability = r.real_or_none("target_reliability", {0.5, 6});
  rules.mean_stress_credit = r.flag_or("mean_stress_credit", false);
  rules.load_bias = r.real_or("load_bias", {0.1, 10}, 1);
  rules.load_scatter = r.real_or("load_scatter", {0, 1}, 0.20);
  rules.use_share = r.real_or("use_share", {0, 1}, rules.use_share);
  rules.miner_median = r.real_or("miner_median", {0.05, 2}, rules.miner_median);
  rules.miner_scatter = r.real_or("miner_scatter", {0, 1}, rules.miner_scatter);
  if (r.has("load_factor")) rules.load_factor = r.real("load_factor", {1, 5});
  rules.environment_outside =
      r.one_of_or("environment_outside", rules::environments, rules::Environment::air);
  inside_stated = r.has("environment_inside");
  if (inside_stated) rules.environment_inside = r.one_of("environment_inside", rules::environments);
  rules.chord_fixity = r.real_or("chord_fixity", {0.5, 1}, 0.7);
  duty.seeds = r.texts("seeds");
  if (duty.seeds.empty() || duty.seeds.size() > 100)
    r.fail("file.out-of-range", "seeds", std::to_string(duty.seeds.size()), "1 to 100 names");
  duty.most_batches = static_cast<std::size_t>(r.real_or("most_batches", {1, 100}, 4));
  duty.confidence = r.real_or("confidence", {0.001, 10}, 0.1);
  model = r.one_of_or("range_model", cycles::range_models, cycles::RangeModel::dirlik);
  r.finish();
  return rules;
}

bool is_pedalled(const loads::Duty& duty) {
  const auto legs = loads::all_legs(duty);
  return std::any_of(legs.begin(), legs.end(), [](const auto* leg) { return leg->pedal_force_n > 0; }) ||
         std::any_of(duty.manoeuvres.begin(), duty.manoeuvres.end(),
                     [](const auto& m) { return m.act == &loads::act::start; });
}

Reader only_table(Reader& root, const std::string& key) {
  const auto tables = root.tables(key);
  if (tables.empty()) root.refuse_missing(key, "one table [" + key + "]");
  if (tables.size() > 1)
    root.fail("file.out-of-range", key, std::to_string(tables.size()) + " tables", "one table [" + key + "]");
  return root.sub_reader(key, *tables[0]);
}

}  // namespace

DutyFile read_duty(const SourceFile& file, const published::Catalog& catalog) {
  return read_duty_text(file, read_text(file), catalog);
}

DutyFile read_duty_text(const SourceFile& file, const std::string& content,
                        const published::Catalog& catalog) {
  const toml::table table = parse(file.name, content);
  DutyFile out;
  Reader root(file, "duty", table, nullptr, &out.assumptions);
  root.expects({"note", "rider", "years", "road", "manoeuvre", "obstacle", "trip", "drive", "peaks",
                "dynamics", "rules"});
  root.choice("format", {"seamwright.duty/1"});
  out.identity = {root.text("name"), root.text_or("revision", ""), sha256_hex(content)};
  out.duty.name = out.identity.name;
  root.text_or("note", "");
  out.duty.rider = read_rider(only_table(root, "rider"));
  out.duty.years = root.real("years", {0.1, 100});
  try {
    read_service(root, catalog, out.duty);
  } catch (const Fault&) {
    root.refuse_misspelt(true);  // rows under a misspelt name are missed where others refer to them
    throw;
  }
  const toml::table nothing;
  const auto optional = [&](const char* key) {
    const auto tables = root.tables(key);
    return root.sub_reader(key, tables.empty() ? nothing : *tables[0]);
  };
  if (is_pedalled(out.duty) || root.has("drive")) read_drive(optional("drive"), out.duty.drive);
  // Their defaults are listed with the peak cases alone: no rating rests on them.
  std::vector<Message> of_peaks;
  const auto peaks = root.tables("peaks");
  out.duty.peaks = read_peaks({file, "duty.peaks", peaks.empty() ? nothing : *peaks[0], nullptr, &of_peaks});
  out.peak_assumptions = of_peaks;
  Reader d = optional("dynamics");
  // Histories hold what stands below half the rate, and nothing that is reckoned with may be missing there.
  const double highest = out.duty.highest_frequency_hz = d.real_or("highest_frequency_hz", {20, 200}, 60);
  out.duty.sample_rate_hz =
      d.real_or("sample_rate_hz", {2.5 * highest, 2000}, std::max(200.0, 10 * highest / 3));
  out.duty.structural_damping = d.real_or("structural_damping", {0.001, 0.2}, 0.01);
  out.duty.lift_share_limit = d.real_or("lift_share_limit", {0, 1}, 0.01);
  d.finish();
  out.rules = read_rules(only_table(root, "rules"), out.duty, out.range_model, out.inside_stated);
  root.finish();
  return out;
}

}  // namespace seamwright::files
