// SPDX-License-Identifier: GPL-3.0-or-later
// Crack growth after Paris: da/dN = C (Delta K)^m in N and mm. Constants: C = 5.21e-13, m = 3, IIW 2008 for
// steel in air. One geometry: a through-wall crack around part of a round tube; elsewhere no published
// solution is built in.
#pragma once

#include <array>
#include <functional>
#include <optional>

#include "engine/evidence/evidence.h"
#include "engine/fatigue/curve.h"

namespace seamwright::fatigue {

struct Paris {
  double c = 5.21e-13, m = 3;
};

/// Cycles from half length a to b, mm, under a constant range in MPa, Delta K = range Y(a) sqrt(pi a). No
/// threshold: safe side. Throws Fault "growth.bad-length" unless 0 < a <= b, range > 0.
double growth_cycles(const Paris& paris, double range_mpa, double a_mm, double b_mm,
                     const std::function<double(double)>& shape);

/// Factors on the nominal stress of a through-wall crack of half angle theta around a tube of mean radius R
/// and wall t: Zahoor, J. Pressure Vessel Technology 107 (1985) 203 [from memory]: tension 1 + A (5.3303
/// x^1.5 + 18.773 x^4.24), bending 1 + A (4.5967 x^1.5 + 2.6422 x^4.24), x = theta/pi, A = (0.125 R/t -
/// 0.25)^0.25 up to R/t = 10, then (0.4 R/t - 3)^0.25; R/t 5..20, x up to 0.55.
struct ThroughCrack {
  double tension = 1, bending = 1;
  Evidence evidence;
};
ThroughCrack through_crack(double mean_radius_mm, double wall_mm, double half_angle_rad);

/// Cycles of 1 MPa (nominal, all of it tension) that lead a through crack around a round tube from one share of its girth to
/// another, by Zahoor; a stouter tube, down to R/t 3, has the factor at R/t 5, which is larger. Nothing outside of that, or where
/// it does not grow.
std::optional<double> growth_around(double mean_radius_mm, double wall_mm, double from_share, double to_share);

/// A crack through a plate is opened by bending at the surface with this share of what as much membrane stress does:
/// (1 + nu) / (3 + nu), nu = 0.3; Sih, Paris & Erdogan, J. Appl. Mech. 29 (1962) 306 [from memory].
inline constexpr double bending_opens = 1.3 / 3.3;

/// A crack eats up the ligament before it while the forces in it stay: with bending's share of the stress at its edge, Delta K grows from its first
/// value as the ligament's length to the power of -1/2 (force) and -3/2 (moment), as the handbook's deep edge cracks do (Tada, Paris & Irwin [from
/// memory]). N = this / (C (Delta K)^3) with the first Delta K, for m = 3; mm. Share 0 to 1.
double growth_length_mm(double ligament_mm, double bending_share);

/// The same law as a line of ranges: N = 1 / (C S^3) for S in N/mm^1.5 over the cube root of growth_length_mm. No threshold: safe side.
const Curve& growth_curve();

/// A way to look for cracks: a length of 2c mm is found with probability 1 - 1 / (1 + (2c / x0)^b).
struct Detection {
  const char* means = "";
  double x0_mm = 0, b = 0;
};
/// DNV-RP-C210 [from memory]: by eye with easy access; with magnetic particles on a ground weld under good
/// conditions. A weld that is not ground hides longer cracks from the particles than from the eye.
extern const Detection by_eye, by_magnetic_particles;
extern const std::array<const Detection*, 2> detections;
/// "eye", "magnetic-particles".
const char* name_of(const Detection* by);
/// Chance that one look finds a crack of this length; 0 for none.
double found_share(const Detection& by, double length_mm);

/// A crack around the brace of a thin tube joint (walls below 4 mm) is through the wall when it has come to this share of
/// the brace's girth: tests of T joints of round tubes bent in their plane, doi 10.1201/9781351077309-57 (its abstract).
inline constexpr double breakthrough_share = 0.4;
/// No crack is followed farther, within the range of through_crack().
inline constexpr double half_the_girth = 0.5;

/// A cracked round tube carries this moment, N mm, when what is left of it yields beside a through crack of half angle
/// theta that is pulled open: 2 f R^2 t (2 sin b - sin theta), b = (pi - theta - N / (2 R t f) ) / 2 for a tension N:
/// Kanninen et al., EPRI NP-192, 1976 [from memory]. Zero where the force alone is too much. Throws Fault
/// "growth.bad-length" for a size or stress that is not above zero, or theta outside 0 to pi.
double net_section_moment(double mean_radius_mm, double wall_mm, double half_angle_rad, double tension_n, double yield_mpa);

/// Time to look again: growth from what is found to half the tube's circumference, over three (aircraft and
/// bridge habit, from memory).
struct Interval {
  double cycles = 0;  ///< of growth
  double interval_years = 0;
  double found_mm = 0;  ///< whole length found with 90 % probability
  Evidence evidence;
};
/// range_mpa: constant range that grows a crack as the year's cycles do, (sum n s^3 / sum n)^(1/3), of
/// nominal stress; all of it taken as tension, which is the larger factor. Coverage none outside the
/// solution's range.
Interval inspection_interval(double mean_radius_mm, double wall_mm, double range_mpa, double cycles_per_year,
                             const Detection& by);

}  // namespace seamwright::fatigue
