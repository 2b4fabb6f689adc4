// SPDX-License-Identifier: GPL-3.0-or-later
// K joints with gap of square tubes: axial load that the partner balances, and the chord's own stress.
// Nothing published that we could confirm covers their bending or T and X joints.
#include <algorithm>

#include "engine/joints/rectangular.h"
#include "engine/sites/site_maker.h"

namespace seamwright::sites {

namespace {

const frame::RectangularTube* square(const frame::Frame& f, const std::string& member) {
  const auto* tube =
      std::get_if<frame::RectangularTube>(&design::tube_of(f, design::member_of(f, member)).section);
  return tube && tube->height_mm == tube->width_mm ? tube : nullptr;
}

const joints::Weld* partner_of(const SiteMaker& maker, const joints::Weld& weld) {
  const auto& all = maker.design.welds;
  const auto at = std::find_if(all.begin(), all.end(), [&](const auto& w) { return w.id == weld.partner; });
  return at == all.end() ? nullptr : &*at;
}

}  // namespace

bool add_square_k_sites(SiteMaker& maker, std::size_t index) {
  const joints::Weld& weld = maker.design.welds[index];
  const joints::Weld* partner = partner_of(maker, weld);
  if (weld.k_share < 1 || !partner) return false;
  const auto *chord = square(maker.frame, weld.chord), *brace = square(maker.frame, weld.member),
             *other = square(maker.frame, partner->member);
  if (!chord || !brace || !other || other->width_mm != brace->width_mm || other->wall_mm != brace->wall_mm)
    return false;
  const design::Seat seat = maker.index.seat_of(weld);
  const joints::SquareKScf scf = joints::square_k_scf(
      {chord->width_mm, chord->wall_mm, brace->width_mm, brace->wall_mm, seat.angle_deg, weld.gap_mm});
  if (scf.evidence.coverage == Coverage::none) return false;
  const frame::Member& member = maker.index.member_of(weld.member);
  const Row force =
      axial(station(maker.assembly, member, weld.at_start ? 0 : member.nodes.size() - 2, weld.at_start),
            maker.size);
  const auto [before, after] = sides_of(maker, weld);
  for (const double angle : {0.0, 180.0}) {
    const Station& side = (angle == 0 && before.element) || !after.element ? before : after;
    const Row own = nominal(side, seat.chord_out, 0.5 * chord->height_mm, maker.size);
    maker.push({index, place::chord_toe, angle, chord->wall_mm},
               Row(scf.chord * force + scf.chord_loading * own), scf.evidence);
    maker.push({index, place::brace_toe, angle, brace->wall_mm}, Row(scf.brace * force), scf.evidence);
  }
  maker.push_not_covered(index, "rating.rectangular-bending");
  return true;
}

}  // namespace seamwright::sites
