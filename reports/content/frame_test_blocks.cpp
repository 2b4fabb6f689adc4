// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_test_blocks.h"

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

void add_fact(Facts& f, MessageId label, Cell value) { f.facts.push_back({message_of(label), std::move(value)}); }

Cell cycles_cell(double cycles) { return Quantity{cycles, "", 2}; }

Cell cycles_span(const study::CycleInterval& i) { return Message{"testplan.from-to", {number("earliest", i.low, ""), number("latest", i.high, "")}}; }

Cell km_span(const study::CycleInterval& i, double service_km) {
  return Message{"prediction.from-to", {number("earliest", i.low * service_km, "km"), number("latest", i.high * service_km, "km")}};
}

Cell stop_cell(double run_out) { return Message{"testplan.stop-at", {number("median_cycles", run_out, "")}}; }

namespace {

void add_rig(Document& d, const TestPlanReport& r) {
  d.blocks.emplace_back(PageBreak{});
  d.blocks.emplace_back(Heading{2, message_of("testplan.rig")});
  if (!r.tests.rig) {
    d.blocks.emplace_back(Paragraph{message_of(r.tests.has_rigs ? MessageId("testplan.rig-none") : "testplan.rig-no-file")});
    return;
  }
  const study::RigTest& t = *r.tests.rig;
  Facts f;
  add_fact(f, "testplan.piece", message_of("testplan.rig-piece"));
  add_fact(f, "testplan.rig-case", Verbatim{t.rig_case});
  add_fact(f, "testplan.rig-place", Message{"testplan.at-weld", {text("weld", t.weld), site_argument("site", t.site)}});
  add_fact(f, "testplan.rig-as-is", cycles_cell(t.cycles_as_is));
  add_fact(f, "testplan.rig-factor", Quantity{t.force_factor, "", 3});
  add_fact(f, "testplan.rig-cycles", cycles_cell(t.cycles));
  add_fact(f, "testplan.rig-one", cycles_span(t.one));
  add_fact(f, "testplan.stop", stop_cell(t.run_out));
  add_fact(f, "testplan.rig-equal", cycles_cell(t.equal_cycles));
  d.blocks.emplace_back(std::move(f));
  if (t.other_first)
    d.blocks.emplace_back(Paragraph{{"testplan.rig-other-first", {text("weld", t.first_weld), site_argument("site", t.first_site), number("median_cycles", t.first_share * t.cycles, "")}}});
  d.blocks.emplace_back(Heading{3, message_of("testplan.result")});
  d.blocks.emplace_back(Paragraph{{"testplan.rig-result", {text("rig", "seamwright rig " + r.job), text("calibrate", "seamwright calibrate " + r.job + " --returns returns.toml")}}});
}

void add_ride(Document& d, const TestPlanReport& r) {
  d.blocks.emplace_back(PageBreak{});
  d.blocks.emplace_back(Heading{2, message_of("testplan.ride")});
  if (!r.tests.ride) {
    d.blocks.emplace_back(Paragraph{message_of("testplan.ride-none")});
    return;
  }
  const study::RideTest& t = *r.tests.ride;
  const double km = r.service_km;
  Facts f;
  add_fact(f, "testplan.piece", Message{"testplan.ride-piece", {number("payload", t.payload_kg, "kg"), text("member", t.member), text("weld", t.weld)}});
  add_fact(f, "testplan.load", Message{"testplan.ride-load", {text("leg", t.leg), text("road", t.road), number("speed", t.speed_kmh, "km/h"), number("distance", t.distance_km, "km")}});
  add_fact(f, "testplan.ride-source", Message{"testplan.ride-of", {cause_argument(t.source), number("share", 100 * t.largest_share, "%"), number("unmeasured", 100 * t.unmeasured, "%")}});
  add_fact(f, "testplan.prediction", Message{"testplan.ride-expected", {number("earliest", t.expected.low, ""), number("latest", t.expected.high, "")}});
  add_fact(f, "testplan.stop", message_of("testplan.ride-stop"));
  d.blocks.emplace_back(std::move(f));
  Table table = table_of({"testplan.ride-factor", "testplan.life-then", "testplan.interval-then"});
  for (const study::RideOutcome& o : t.outcomes)
    table.rows.push_back({Quantity{o.load_factor, "", 2}, Quantity{o.life * km, "km", 2}, km_span(o.life_interval, km)});
  d.blocks.emplace_back(Heading{3, message_of("testplan.result")});
  d.blocks.emplace_back(std::move(table));
  d.blocks.emplace_back(Paragraph{{"testplan.ride-result", {text("gauges", "seamwright gauges " + r.job + " --count 6"), text("measured", "seamwright gauges " + r.job + " --count 6 --measured readings.csv"),
                                                            text("ride", "seamwright ride ride.csv")}}});
}

}  // namespace

void add_frame_tests(Document& d, const TestPlanReport& r) {
  add_rig(d, r);
  add_ride(d, r);
}

}  // namespace seamwright::reports
