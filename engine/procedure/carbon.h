// SPDX-License-Identifier: GPL-3.0-or-later
// Carbon equivalents: how hardenable a steel is. Mass percent; an element that is not given counts as 0.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::procedure {

struct Chemistry {
  double c = 0, si = 0, mn = 0, p = 0, s = 0, cr = 0, mo = 0, ni = 0, cu = 0, v = 0, nb = 0, ti = 0, b = 0;
};

struct Equivalent {
  double value = 0;
  Evidence evidence;
};

/// C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15, EN 1011-2:2001, C.2.1; range of composition and 0.30..0.70 from
/// memory. All functions throw Fault "procedure.bad-chemistry" for a share below 0, above 30 % or not a
/// number. Outside the range: extended.
Equivalent ce_iiw(const Chemistry& steel);
/// C + (Mn+Mo)/10 + (Cr+Cu)/20 + Ni/40, EN 1011-2:2001, C.3.2.1; range of composition from memory.
Equivalent cet(const Chemistry& steel);
/// C + Si/30 + (Mn+Cu+Cr)/20 + Ni/60 + Mo/15 + V/10 + 5 B, Ito & Bessyo, IIW Doc. IX-576-68; range from
/// memory.
Equivalent pcm(const Chemistry& steel);
/// C + A (Si/24 + Mn/6 + Cu/15 + Ni/20 + (Cr+Mo+V+Nb)/5 + 5 B), A = 0.75 + 0.25 tanh(20 (C - 0.12)): Yurioka
/// 1983, from memory.
Equivalent cen(const Chemistry& steel);

}  // namespace seamwright::procedure
