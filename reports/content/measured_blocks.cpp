// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/measured_blocks.h"

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

Document gauges_document(const rating::Job& job, const measured::GaugePlan& plan,
                         const std::optional<measured::GaugeResult>& readings) {
  Document d;
  d.title = {"gauges.title", {text("design", job.design.identity.name)}};
  Table places, strains, errors;
  for (const MessageId id : MessageIds{"column.gauge", "column.member", "gauges.share", "gauges.around",
                                       "gauges.axis", "gauges.x", "gauges.y", "gauges.z"})
    places.columns.push_back(message_of(id));
  strains.columns.push_back(message_of("column.gauge"));
  for (const measured::GaugeChannel& c : plan.channels)
    strains.columns.push_back({"column.source", {text("source", c.id)}});
  for (std::size_t k = 0; k < plan.gauges.size(); ++k) {
    const measured::GaugePlace& g = plan.gauges[k];
    const Quantity index{static_cast<double>(k + 1), "", 3};
    places.rows.push_back({index, Verbatim{g.element}, Quantity{100 * g.share, "%", 2},
                           Quantity{g.angle_deg, "deg", 3}, Quantity{g.axis_deg, "deg", 2},
                           Quantity{g.place_mm.x(), "mm", 4}, Quantity{g.place_mm.y(), "mm", 4},
                           Quantity{g.place_mm.z(), "mm", 4}});
    std::vector<Cell> row{index};
    for (Eigen::Index c = 0; c < plan.microstrain.cols(); ++c)
      row.emplace_back(Quantity{plan.microstrain(static_cast<Eigen::Index>(k), c), "", 3});
    strains.rows.push_back(std::move(row));
  }
  for (const MessageId id : MessageIds{"column.channel", "gauges.level", "gauges.error"})
    errors.columns.push_back(message_of(id));
  for (std::size_t c = 0; c < plan.channels.size(); ++c)
    errors.rows.push_back({Verbatim{plan.channels[c].id},
                           Quantity{plan.channels[c].level, plan.channels[c].unit, 3},
                           Quantity{100 * plan.error[static_cast<Eigen::Index>(c)], "%", 2}});
  d.blocks.emplace_back(Heading{2, message_of("gauges.where")});
  d.blocks.emplace_back(Paragraph{message_of("gauges.how")});
  d.blocks.emplace_back(std::move(places));
  d.blocks.emplace_back(Heading{2, message_of("gauges.expected")});
  d.blocks.emplace_back(std::move(strains));
  d.blocks.emplace_back(Heading{2, message_of("gauges.told")});
  d.blocks.emplace_back(Paragraph{{"gauges.noise", {number("noise", plan.noise_microstrain, "")}}});
  d.blocks.emplace_back(std::move(errors));
  if (plan.gauges.size() < plan.channels.size()) d.blocks.emplace_back(Paragraph{message_of("gauges.fewer")});
  if (!readings) return d;
  Table t;
  for (const MessageId id :
       MessageIds{"column.channel", "gauges.readings", "gauges.factor", "gauges.scatter"})
    t.columns.push_back(message_of(id));
  for (const measured::ChannelFactor& c : readings->channels)
    t.rows.push_back({Verbatim{c.channel}, Quantity{static_cast<double>(c.readings), "", 4},
                      Quantity{c.factor, "", 2}, Quantity{c.scatter, "", 2}});
  d.blocks.emplace_back(Heading{2, message_of("gauges.measured")});
  d.blocks.emplace_back(std::move(t));
  d.blocks.emplace_back(Paragraph{
      {"gauges.load-factor",
       {number("factor", readings->load_factor, ""), number("scatter", readings->load_scatter, "")}}});
  return d;
}

Document calibration_document(const study::Recalibration& r, const files::ReturnsFile& file) {
  const measured::Calibration& c = r.calibration;
  Document d;
  d.title = {"calibrate.title", {text("design", r.before.design.name)}};
  d.blocks.emplace_back(Caution{
      {message_of("calibrate.caution"), message_of("caution.estimate"), message_of("caution.people")}});
  Table back;
  for (const MessageId id :
       MessageIds{"calibrate.what", "column.weld", "column.site", "column.distance", "calibrate.frames"})
    back.columns.push_back(message_of(id));
  for (const measured::Return& x : file.returns)
    back.rows.push_back({message_of(x.cracked ? MessageId("calibrate.cracked") : "calibrate.survived"),
                         Verbatim{x.weld}, site_cell(x.site), Quantity{x.km, "km", 4},
                         Quantity{x.count, "", 4}});
  d.blocks.emplace_back(Heading{2, message_of("calibrate.returns")});
  d.blocks.emplace_back(std::move(back));
  Table t;
  for (const MessageId id : MessageIds{"calibrate.quantity", "calibrate.method", "calibrate.value",
                                       "calibrate.low", "calibrate.high"})
    t.columns.push_back(message_of(id));
  const auto add = [&](MessageId what, MessageId method, const measured::Estimate& e) {
    t.rows.push_back({message_of(what), message_of(method), Quantity{e.value, "", 3}, Quantity{e.low, "", 3},
                      Quantity{e.high, "", 3}});
  };
  add("calibrate.factor", "calibrate.likelihood", c.factor);
  add("calibrate.factor", "calibrate.posterior", c.posterior_factor);
  add("calibrate.scatter", "calibrate.likelihood", c.scatter);
  add("calibrate.scatter", "calibrate.posterior", c.posterior_scatter);
  d.blocks.emplace_back(Heading{2, message_of("calibrate.result")});
  d.blocks.emplace_back(std::move(t));
  if (!c.bounded) d.blocks.emplace_back(Paragraph{message_of("calibrate.unbounded")});
  d.blocks.emplace_back(Paragraph{{"calibrate.prior",
                                   {number("factor", file.prior.ln_factor_deviation, ""),
                                    number("scatter", file.prior.scatter_median, ""),
                                    number("deviation", file.prior.ln_scatter_deviation, "")}}});
  d.blocks.emplace_back(Paragraph{{"calibrate.narrowing", {number("share", 100 * (1 - c.narrowing), "%")}}});
  Table both;
  for (const MessageId id :
       MessageIds{"calibrate.rating", "rating.load-bias", "column.weld", "column.used", "column.predicted-km",
                  "column.format-km", "column.verdict"})
    both.columns.push_back(message_of(id));
  for (const auto* x : {&r.before, &r.after}) {
    const rating::SiteRating& s = x->welds[0].sites[0];
    both.rows.push_back({message_of(x == &r.before ? MessageId("calibrate.before") : "calibrate.after"),
                         Quantity{x->rules.load_bias, "", 3}, Verbatim{x->welds[0].id},
                         Quantity{s.used(), "", 2}, Quantity{s.life_km_predicted, "km", 2},
                         Quantity{s.life_km, "km", 2}, State{name_of(x->verdict)}});
  }
  d.blocks.emplace_back(Heading{2, message_of("calibrate.both")});
  d.blocks.emplace_back(std::move(both));
  d.blocks.emplace_back(Paragraph{{"calibrate.rules", {number("factor", r.after.rules.load_bias, "")}}});
  for (const Message& m : file.assumptions) d.blocks.emplace_back(Paragraph{m});
  return d;
}

}  // namespace seamwright::reports
