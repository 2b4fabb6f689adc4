// SPDX-License-Identifier: GPL-3.0-or-later
// The ends of tubes as they are cut: the line around each, unrolled, where a saw or file goes square
// (radially) through the wall, and what a saw, a tube notcher or a template must know.
//
// A cut square through the wall has one distance at each angle. The end seats when that is the largest of the
// distances at which any part of the wall there would meet what the tube stands on; the edge of the wall that
// does not touch stands off by a gap. Each distance is the closed form of a line in a solid (fibre.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/design/design.h"
#include "engine/shape/part.h"

namespace seamwright::shape {

/// One place of the cut line. Distances lead from the end of the tube's axis as planned into the tube, along
/// the axis, mm.
struct CutPlace {
  double angle_rad = 0;               ///< from the top mark, right-handed about the direction out of the end
  double cut_mm = 0;                  ///< where to cut, square through the wall
  double outer_mm = 0, inner_mm = 0;  ///< where the outer and the inner edge of the wall meet what is there
  double gap_along_mm = 0,
         gap_square_mm = 0;  ///< left at the other edge: along the tube, and to the next wall
  bool free = false;         ///< nothing stands here: a cope beside its chord ends where its axis does
  bool outer_touches() const { return outer_mm >= inner_mm; }
};

/// One end of a member.
struct TubeEnd {
  std::string member, node;
  std::string weld;                 ///< around this end; "" = none
  std::string onto;                 ///< the chord, or the other tube of a mitre; "" = neither
  std::vector<std::string> others;  ///< neighbours that cut it too
  enum class Kind { square, coped, mitred, slotted } kind = Kind::square;
  bool at_start = true;
  std::vector<Stretch> stretches;  ///< of the whole tube
  std::vector<Cut> cuts;           ///< by other tubes
  Vec3 out, top;                   ///< unit vectors: out of the end, and from the axis to the top mark
  double angle_deg = 90;           ///< between the axes: of a cope 0 to 90, of a mitre 0 to 180
  double offset_mm = 0;            ///< of a cope: between the lines of both axes
  double notch_radius_mm = 0;      ///< of a cope: the chord's outer surface
  double saw_deg = 0;              ///< of a mitre: off a square cut
  /// Side on which the tubes make the smaller angle (at 90 degrees the chord's start), as angle_rad.
  std::optional<double> crown_rad;
  double slot_wide_mm = 0, slot_deep_mm = 0;
  /// The places lead from -180 to 180 degrees, the last is the first again; the line is straight between two
  /// of them to 0.002 mm. Empty where nothing of the tube is left at some angle.
  std::vector<CutPlace> line;
  /// Least cut_mm - gap_along_mm: here the tube ends sawn square, long enough for a cutter, mitre saw or
  /// file.
  double long_point_mm = 0;
};

/// The cut line at one angle; none where nothing is left. Sections other than round count by their contour.
/// Through the wall it looks at nine radii and at the crest between them: within 0.001 mm for walls to 10 mm
/// on chords from 20 mm at 20 degrees and more.
std::optional<CutPlace> cut_place(const TubeEnd& end, double angle_rad);
/// TubeEnd::line of an end whose stretches, cuts, `out` and `top` stand.
std::vector<CutPlace> cut_line(const TubeEnd& end);
/// Radius of the outer surface at this angle, mm: that of a round tube everywhere.
double outer_radius_at_mm(const TubeEnd& end, double angle_rad);

/// A member as it is sawn off the stock.
struct Blank {
  std::string member, tube, steel;
  frame::Section section;
  TubeEnd start, end;
  double axis_mm = 0;   ///< from node to node along the axis, eccentric ends where they are
  double blank_mm = 0;  ///< between the long points, along the axis; bends count with sharp corners
  std::size_t bends = 0;
  /// The angle from the start's acute side to the end's, right-handed about the axis; between -90 and 90
  /// where a right angle looks the same from both sides. None where an end has neither cope nor mitre.
  std::optional<double> twist_deg;
};

/// All members of the plan in their order. The top mark of both ends lies on one line along the tube: where
/// its local y points (up; on upright tubes forward), carried on round bends.
std::vector<Blank> blanks_of(const design::Design& design, const Plan& plan);

/// Most that TIG closes between the end and the wall, mm. Common practice, without a source.
constexpr double tig_gap_mm = 0.5;

/// The place with the widest gap to the wall; none where the end has no line, or meets nothing.
std::optional<CutPlace> widest_gap(const TubeEnd& end);
/// "shape.gap-wide" for each weld around a coped end whose gap is wider than TIG closes.
std::vector<Message> gap_findings(const std::vector<Blank>& blanks);

}  // namespace seamwright::shape
