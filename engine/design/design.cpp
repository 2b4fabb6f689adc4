// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/design/design.h"

namespace seamwright::design {

const char* name_of(Inside inside) {
  switch (inside) {
    case Inside::treated:
      return "treated";
    case Inside::sealed:
      return "sealed";
    case Inside::vented:
      break;
  }
  return "vented";
}

std::size_t subject_count(const Design& d) { return d.welds.size() + d.notches.size() + d.bolts.size(); }

Subject subject_of(const Design& d, std::size_t number) {
  if (number < d.welds.size()) {
    const joints::Weld& w = d.welds[number];
    return {w.id, w.joint, w.kind, w.node, w.member, w.chord};
  }
  number -= d.welds.size();
  if (number < d.notches.size()) {
    const Notch& n = d.notches[number];
    return {n.id, "", n.kind, "", n.member, ""};
  }
  const BoltCircle& b = d.bolts.at(number - d.notches.size());
  return {b.id, "", "bolts", "", b.member, ""};
}

}  // namespace seamwright::design
