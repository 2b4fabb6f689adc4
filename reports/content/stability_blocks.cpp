// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/stability_blocks.h"

#include "engine/evidence/constants.h"
#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

Document stability_document(const design::Design& design, const loads::Stability& s, double friction) {
  Document d;
  d.title = {"stability.title", {text("design", design.identity.name)}};
  const loads::StabilityCase& low = s.cases[s.lowest];
  d.blocks.emplace_back(
      Answer{State{s.tips_at_rest ? "falls_short" : "lowest"},
             {s.tips_at_rest ? MessageId("stability.tips") : "stability.answer",
              {number("threshold", s.lowest_m_s2, "m/s2"), number("share", s.lowest_m_s2 / gravity_m_s2, "g"),
               number("angle", low.pose.steering_deg, "deg"), number("payload", low.pose.payload_kg, "kg"),
               number("speed", low.speed_kmh, "km/h")}}});
  d.blocks.emplace_back(Caution{{message_of("stability.caution-rigid"), message_of("stability.caution-slide"),
                                 message_of("stability.caution-margin"), message_of("caution.local-codes"),
                                 message_of("stability.caution-people")}});
  Table t;
  for (const MessageId id :
       MessageIds{"column.payload", "column.steering", "column.mass", "column.centre-height",
                  "column.tip-left", "column.tip-right", "column.radius", "column.tip-speed", "column.first",
                  "column.tilt-left", "column.tilt-right", "column.rear-lifts", "column.front-lifts"})
    t.columns.push_back(message_of(id));
  for (const loads::StabilityCase& c : s.cases)
    t.rows.push_back({Quantity{c.pose.payload_kg, "kg", 3}, Quantity{c.pose.steering_deg, "deg", 3},
                      Quantity{c.mass_kg, "kg", 3}, Quantity{c.stance.centre_mm.z(), "mm", 3},
                      Quantity{c.left.acceleration_m_s2, "m/s2", 3},
                      Quantity{c.right.acceleration_m_s2, "m/s2", 3},
                      Quantity{c.turn_radius_mm / 1000, "m", 3}, Quantity{c.speed_kmh, "km/h", 2},
                      message_of(loads::slides_first(c, friction) ? MessageId("stability.slides")
                                                                  : "stability.tips-first"),
                      Quantity{c.left.tilt_deg, "deg", 2}, Quantity{c.right.tilt_deg, "deg", 2},
                      Quantity{c.forward_m_s2, "m/s2", 3}, Quantity{c.backward_m_s2, "m/s2", 3}});
  d.blocks.emplace_back(Heading{2, message_of("stability.cases")});
  d.blocks.emplace_back(std::move(t));
  d.blocks.emplace_back(Paragraph{{"stability.friction", {number("friction", friction, "")}}});
  d.blocks.emplace_back(Heading{2, message_of("figure.behind")});
  d.blocks.emplace_back(Reasons{{reason_of((low.pose.steering_deg < 0 ? low.right : low.left).evidence)}});
  return d;
}

}  // namespace seamwright::reports
