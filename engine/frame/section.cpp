// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/section.h"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <numbers>
#include <string>

namespace seamwright::frame {
namespace {

using std::numbers::pi;

constexpr double largest_mm = 1e5;

[[noreturn]] void impossible(const char* shape, const char* dimension, double value) {
  throw Fault{Message{"section.impossible",
                      {text("shape", shape), text("dimension", dimension), number("value", value, "mm")}}};
}

void need_possible(bool possible, const char* shape, const char* dimension, double value) {
  if (!possible) impossible(shape, dimension, value);
}

bool a_length(double v) { return std::isfinite(v) && v > 0 && v <= largest_mm; }

Evidence memory_of(const char* figure, double value, const char* unit, Source source) {
  Evidence e;
  e.figure = figure;
  e.value = value;
  e.unit = unit;
  e.source = std::move(source);
  e.from_memory = true;
  return e;
}

Evidence area_evidence(const SectionProperties& p, std::vector<Input> inputs, Source source,
                       bool from_memory) {
  Evidence e;
  e.figure = "section-area";
  e.value = p.area_mm2;
  e.unit = "mm2";
  e.source = std::move(source);
  e.from_memory = from_memory;
  e.inputs = std::move(inputs);
  return e;
}

/// Adds a limit; outside it the thin-wall formulas only approximate, so the coverage falls to extended.
void add_limit(Evidence& e, Limit l) {
  if (!l.inside) e.coverage = worse_coverage(e.coverage, Coverage::extended);
  e.limits.push_back(std::move(l));
}

/// Moduli from second moments and outer fibres, for sections symmetric about both axes.
void set_moduli(SectionProperties& p) {
  p.w_z_mm3 = p.i_z_mm4 / p.outer_y_mm;
  p.w_y_mm3 = p.i_y_mm4 / p.outer_z_mm;
}

// Cowper (1966) table 1: hollow circle, m = inner / outer diameter; m = 0 is the solid circle.
double kappa_circle(double m, double nu) {
  const double s = (1 + m * m) * (1 + m * m);
  return 6 * (1 + nu) * s / ((7 + 6 * nu) * s + (20 + 12 * nu) * m * m);
}

// Cowper (1966) table 1: thin-walled box, depth h along the shear and width b on the mid-line, one wall
// thickness.
double kappa_box(double h, double b, double nu) {
  const double m = b / h, n = b / h;
  const double m2 = m * m, m3 = m2 * m;
  const double below = 12 + 72 * m + 150 * m2 + 90 * m3 + nu * (11 + 66 * m + 135 * m2 + 90 * m3) +
                       10 * n * n * ((3 + nu) * m + 3 * m2);
  return 10 * (1 + nu) * (1 + 3 * m) * (1 + 3 * m) / below;
}

SectionResult circle(double outer, double inner, double nu, std::vector<Input> inputs) {
  SectionProperties p;
  p.area_mm2 = pi / 4 * (outer * outer - inner * inner);
  p.i_y_mm4 = p.i_z_mm4 = pi / 64 * (std::pow(outer, 4) - std::pow(inner, 4));
  p.torsion_mm4 = 2 * p.i_y_mm4;
  p.outer_y_mm = p.outer_z_mm = outer / 2;
  set_moduli(p);
  p.w_t_mm3 = 2 * p.w_y_mm3;
  const double kappa = kappa_circle(inner / outer, nu);
  p.shear_area_y_mm2 = p.shear_area_z_mm2 = kappa * p.area_mm2;
  Evidence e = area_evidence(p, std::move(inputs), {"young-budynas-2002", "Table A.1"}, true);
  e.because.push_back(memory_of("shear-coefficient", kappa, "", {"cowper-1966", "Table 1"}));
  return {p, e};
}

SectionResult properties_of(const RoundTube& s, double nu) {
  const char* shape = "round";
  need_possible(a_length(s.diameter_mm), shape, "diameter", s.diameter_mm);
  need_possible(a_length(s.wall_mm) && 2 * s.wall_mm < s.diameter_mm, shape, "wall", s.wall_mm);
  return circle(s.diameter_mm, s.diameter_mm - 2 * s.wall_mm, nu,
                {{"diameter", s.diameter_mm, "mm"}, {"wall", s.wall_mm, "mm"}, {"poisson", nu, ""}});
}

SectionResult properties_of(const SolidBar& s, double nu) {
  need_possible(a_length(s.diameter_mm), "bar", "diameter", s.diameter_mm);
  return circle(s.diameter_mm, 0, nu, {{"diameter", s.diameter_mm, "mm"}, {"poisson", nu, ""}});
}

// EN 10219-2 annex: second moment of a height x width x wall tube with rounded corners about the axis along
// the width.
double rounded_second_moment(double h, double b, double t, double ro, double ri) {
  const auto corner_area = [](double r) { return (1 - pi / 4) * r * r; };
  const auto corner_arm = [](double depth, double r) {
    return depth / 2 - (10 - 3 * pi) / (12 - 3 * pi) * r;
  };
  const auto corner_own = [](double r) {
    return (1.0 / 3 - pi / 16 - 1 / (3 * (12 - 3 * pi))) * std::pow(r, 4);
  };
  const double arm_o = corner_arm(h, ro), arm_i = corner_arm(h - 2 * t, ri);
  return b * std::pow(h, 3) / 12 - (b - 2 * t) * std::pow(h - 2 * t, 3) / 12 -
         4 * (corner_own(ro) + corner_area(ro) * arm_o * arm_o) +
         4 * (corner_own(ri) + corner_area(ri) * arm_i * arm_i);
}

SectionResult properties_of(const RectangularTube& s, double nu) {
  const char* shape = "rectangular";
  const double h = s.height_mm, b = s.width_mm, t = s.wall_mm, ro = s.corner_radius_mm;
  need_possible(a_length(h), shape, "height", h);
  need_possible(a_length(b), shape, "width", b);
  need_possible(a_length(t) && 2 * t < std::min(h, b), shape, "wall", t);
  need_possible(std::isfinite(ro) && ro >= 0 && 2 * ro <= std::min(h, b), shape, "corner_radius", ro);
  const double ri = std::max(ro - t, 0.0);
  SectionProperties p;
  p.area_mm2 = 2 * t * (b + h - 2 * t) - (4 - pi) * (ro * ro - ri * ri);
  p.i_z_mm4 = rounded_second_moment(h, b, t, ro, ri);
  p.i_y_mm4 = rounded_second_moment(b, h, t, ro, ri);
  p.outer_y_mm = h / 2;
  p.outer_z_mm = b / 2;
  set_moduli(p);
  const double rc = (ro + ri) / 2;
  const double around = 2 * ((b - t) + (h - t)) - 2 * rc * (4 - pi);
  const double enclosed = (b - t) * (h - t) - rc * rc * (4 - pi);
  const double k = 2 * enclosed * t / around;
  p.torsion_mm4 = std::pow(t, 3) * around / 3 + 2 * k * enclosed;
  p.w_t_mm3 = p.torsion_mm4 / (t + k / t);
  const double ky = kappa_box(h - t, b - t, nu), kz = kappa_box(b - t, h - t, nu);
  p.shear_area_y_mm2 = ky * p.area_mm2;
  p.shear_area_z_mm2 = kz * p.area_mm2;
  Evidence e = area_evidence(p,
                             {{"height", h, "mm"},
                              {"width", b, "mm"},
                              {"wall", t, "mm"},
                              {"corner_radius", ro, "mm"},
                              {"poisson", nu, ""}},
                             {"en-10219-2", "Annex B"}, true);
  Evidence shear = memory_of("shear-coefficient", ky, "", {"cowper-1966", "Table 1"});
  add_limit(shear, limit("wall-to-width", t / std::min(h, b), "", 0, 0.125));
  e.coverage = worse_coverage(e.coverage, shear.coverage);
  e.because.push_back(std::move(shear));
  return {p, e};
}

// Energy shear area I^2 / closed integral of Q^2 / t ds over one quarter's two pieces; at nu = 0 Cowper's
// value.
template <class Arc, class Flat>
double energy_shear_area(double second_moment, double wall, double r, double flat, Arc q_arc, Flat q_flat) {
  using Rule = boost::math::quadrature::gauss<double, 20>;
  const double arc = Rule::integrate([&](double phi) { return q_arc(phi) * q_arc(phi) * r; }, 0.0, pi / 2);
  const double straight =
      flat > 0 ? Rule::integrate([&](double x) { return q_flat(x) * q_flat(x); }, 0.0, flat / 2) : 0.0;
  return second_moment * second_moment * wall / (4 * (arc + straight));
}

SectionResult properties_of(const FlatOvalTube& s, double nu) {
  const char* shape = "flat-oval";
  const double height = s.height_mm, b = s.width_mm, t = s.wall_mm;
  need_possible(a_length(height), shape, "height", height);
  need_possible(a_length(b) && b <= height, shape, "width", b);
  need_possible(a_length(t) && 2 * t < b, shape, "wall", t);
  const double r = (b - t) / 2, a = height - b;
  const double around = 2 * pi * r + 2 * a, enclosed = pi * r * r + 2 * r * a;
  SectionProperties p;
  p.area_mm2 = t * around;
  p.i_z_mm4 = t * (std::pow(a, 3) / 6 + pi * a * a * r / 2 + 4 * a * r * r + pi * std::pow(r, 3));
  p.i_y_mm4 = t * (pi * std::pow(r, 3) + 2 * a * r * r);
  p.torsion_mm4 = 4 * enclosed * enclosed * t / around;
  p.w_t_mm3 = 2 * enclosed * t;
  p.outer_y_mm = height / 2;
  p.outer_z_mm = b / 2;
  set_moduli(p);
  p.shear_area_y_mm2 = energy_shear_area(
      p.i_z_mm4, t, r, a, [&](double phi) { return t * r * (a * phi / 2 + r * std::sin(phi)); },
      [&](double x) { return t * r * (pi * a / 4 + r) + t * (a * a / 4 - x * x) / 2; });
  p.shear_area_z_mm2 = energy_shear_area(
      p.i_y_mm4, t, r, a, [&](double phi) { return t * a * r / 2 + t * r * r * std::sin(phi); },
      [&](double x) { return t * x * r; });
  Evidence e =
      area_evidence(p, {{"height", height, "mm"}, {"width", b, "mm"}, {"wall", t, "mm"}, {"poisson", nu, ""}},
                    {"young-budynas-2002", "Section 10.3, thin closed sections (Bredt)"}, true);
  add_limit(e, limit("wall-to-width", t / b, "", 0, 0.125));
  return {p, e};
}

struct StripTorsion {
  double constant_mm4, modulus_mm3;
};

// Saint-Venant's series for the solid rectangle, long side h, short side t (Timoshenko and Goodier, section
// 109).
StripTorsion strip_torsion(double h, double t) {
  double twist = 0, stress = 0;
  for (int n = 1; n < 60; n += 2) {
    const double x = n * pi * h / (2 * t);
    twist += std::tanh(x) / std::pow(n, 5);
    if (x < 700) stress += 1 / (n * n * std::cosh(x));
  }
  const double j = h * t * t * t / 3 * (1 - 192 / std::pow(pi, 5) * t / h * twist);
  return {j, j / (t * (1 - 8 / (pi * pi) * stress))};
}

SectionResult properties_of(const PlateStrip& s, double nu) {
  const double h = s.height_mm, t = s.thickness_mm;
  need_possible(a_length(h), "plate", "height", h);
  need_possible(a_length(t), "plate", "thickness", t);
  SectionProperties p;
  p.area_mm2 = h * t;
  p.i_z_mm4 = t * h * h * h / 12;
  p.i_y_mm4 = h * t * t * t / 12;
  p.outer_y_mm = h / 2;
  p.outer_z_mm = t / 2;
  set_moduli(p);
  const StripTorsion torsion = strip_torsion(std::max(h, t), std::min(h, t));
  p.torsion_mm4 = torsion.constant_mm4;
  p.w_t_mm3 = torsion.modulus_mm3;
  const double kappa = 10 * (1 + nu) / (12 + 11 * nu);
  p.shear_area_y_mm2 = p.shear_area_z_mm2 = kappa * p.area_mm2;
  Evidence e = area_evidence(p, {{"height", h, "mm"}, {"thickness", t, "mm"}, {"poisson", nu, ""}},
                             {"young-budynas-2002", "Table A.1"}, true);
  e.because.push_back(memory_of("shear-coefficient", kappa, "", {"cowper-1966", "Table 1"}));
  e.because.push_back(
      memory_of("torsion-constant", p.torsion_mm4, "mm4", {"timoshenko-goodier-1970", "Section 109"}));
  return {p, e};
}

}  // namespace

SectionResult section_properties(const Section& section, double poisson) {
  if (!(poisson >= 0 && poisson <= 0.5))
    throw Fault{Message{"section.poisson", {number("value", poisson, "")}}};
  return std::visit([poisson](const auto& s) { return properties_of(s, poisson); }, section);
}

std::optional<double> wall_mm(const Section& section) {
  if (const auto* t = std::get_if<RoundTube>(&section)) return t->wall_mm;
  if (const auto* t = std::get_if<RectangularTube>(&section)) return t->wall_mm;
  if (const auto* t = std::get_if<FlatOvalTube>(&section)) return t->wall_mm;
  if (const auto* t = std::get_if<PlateStrip>(&section)) return std::min(t->height_mm, t->thickness_mm);
  return std::nullopt;
}

}  // namespace seamwright::frame
