// SPDX-License-Identifier: GPL-3.0-or-later
// Imperfections of welds against ISO 5817, and dimensions of frames against ISO 13920.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::inspection {

enum class LimitKind { not_permitted, permitted, by_application, at_most, at_least };

/// base + per * reference, at most `most`; reference: wall t, butt thickness s, throat a, width b of the
/// weld. Degrees for at_least.
struct LevelLimit {
  LimitKind kind = LimitKind::not_permitted;
  bool short_only = false;             ///< only as a short imperfection: 25 mm in any 100 mm (from memory)
  double base = 0, per = 0, most = 0;  ///< most 0 = none
  char reference = 't';
};
/// "no", "yes", "application", "0.2t", "1+0.25b max 10", "short 0.2+0.1t", ">=110". Throws Fault
/// "inspection.bad-limit".
LevelLimit read_limit(const std::string& text);

/// One row of the table: an imperfection of ISO 6520-1 for walls from (exclusive, but for the first) to.
struct Imperfection {
  std::string id;      ///< "5011-thin"
  std::string number;  ///< ISO 6520-1
  std::string name;
  std::string weld;  ///< "butt", "fillet" or "any"
  double above_mm = 0, to_mm = 1e9;
  LevelLimit d, c, b;
  Source source;
  bool from_memory = true;
};

struct Weld {
  double wall_mm = 0, throat_mm = 0, width_mm = 0;  ///< 0 = not known
  bool butt = false;
};

/// The limit for a weld at a quality level ('B', 'C', 'D'): what it is in mm (or degrees); nothing where a
/// size that it needs is not known. strict_undercut: no detectable undercut, whatever the level.
struct Bound {
  LimitKind kind = LimitKind::not_permitted;
  bool short_only = false;
  double mm = 0;
};
const Imperfection* row_for(const std::vector<Imperfection>& table, const std::string& number,
                            const Weld& weld);
std::optional<Bound> bound_of(const Imperfection& row, char level, const Weld& weld);

enum class Judgement {
  accepted,
  rejected,
  engineer
};  ///< engineer: it hangs on the application, or a size is missing
Judgement judge(const Bound& bound, double measured_mm);

/// ISO 5817 level that a rating presumes: by the strength of its curve at 2 million cycles (63 and less: C;
/// more: B, an engineering reading of the names of its fatigue annex, whose numbers are not known here);
/// extended coverage: B and no undercut.
struct Demand {
  char level = 'B';
  bool no_undercut = false;
  std::string asked_by;  ///< "category" or "extended coverage"
};
Demand demand_of(double category_mpa, Coverage coverage);
Demand stricter(const Demand& a, const Demand& b);

/// ISO 13920: plus or minus, mm, for a length and a class 'A'..'D'; degrees for the shorter leg of an angle;
/// straightness, flatness and parallelism for a class 'E'..'H' (G beyond 120 mm and H from memory). Nothing
/// below 2 mm (30 mm for straightness). Throws Fault "inspection.unknown-class".
std::optional<double> length_tolerance_mm(double length_mm, char tolerance_class);
double angle_tolerance_deg(double shorter_leg_mm, char tolerance_class);
std::optional<double> straightness_mm(double longer_side_mm, char tolerance_class);

}  // namespace seamwright::inspection
