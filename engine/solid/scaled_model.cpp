// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/scaled_model.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/frame/element.h"
#include "engine/joints/hot_spot.h"
#include "engine/shape/fibre.h"
#include "engine/solid/beam_sketch.h"
#include "engine/solid/seam_path.h"

namespace seamwright::solid {

namespace {

constexpr double unlike = std::numeric_limits<double>::infinity();
const double furthest = std::log(1.6), furthest_legs = std::log(3.2);
constexpr double furthest_angle_deg = 10;
constexpr double fixity = 0.7;  // of the chord's ends, as a rating has it where nobody says: the same in both

// Distance of two dimensions; a dimension that one of the two lacks makes them unlike.
double apart(double a, double b) { return a == b ? 0 : a > 0 && b > 0 ? std::abs(std::log(a / b)) : unlike; }

// Cuts do not matter: of two braces the one is cut by the other or the other by the one, as their walls are.
double tubes_apart(const shape::Part& a, const shape::Part& b) {
  const auto *one = std::get_if<shape::Hollow>(&a.body), *other = std::get_if<shape::Hollow>(&b.body);
  if (!one || !other || one->stretches.size() != other->stretches.size()) return unlike;
  double most = 0;
  for (std::size_t i = 0; i < one->stretches.size(); ++i) {
    const auto *s = std::get_if<frame::RoundTube>(&one->stretches[i].section), *t = std::get_if<frame::RoundTube>(&other->stretches[i].section);
    if (!s || !t) return unlike;
    most = std::max({most, apart(s->diameter_mm, t->diameter_mm), apart(s->wall_mm, t->wall_mm)});
  }
  return most;
}

double opposite_leg_mm(const shape::FilletAround& f) { return f.leg_opposite_mm > 0 ? f.leg_opposite_mm : f.leg_crown_mm; }

double seams_apart(const JointTask& one, const Seam& a, const JointTask& other, const Seam& b) {
  if (a.brace != b.brace || a.chord != b.chord || a.fused != b.fused || a.bare || b.bare || a.readings.size() != b.readings.size()) return unlike;
  const auto first = equation_joint(one, a), second = equation_joint(other, b);
  if (!first || !second || std::abs(first->angle_deg - second->angle_deg) > furthest_angle_deg) return unlike;
  // Where the equations give nothing for one of the two, nothing says how its toes change.
  if ((joints::ty_scf(*first, fixity).evidence.coverage == Coverage::none) != (joints::ty_scf(*second, fixity).evidence.coverage == Coverage::none))
    return unlike;
  // The crown is where angles begin: on another side, the places are others.
  if (a.fillet.crown.dot(b.fillet.crown) < 0.9) return unlike;
  const double legs = std::max({apart(a.fillet.leg_crown_mm, b.fillet.leg_crown_mm), apart(a.fillet.leg_saddle_mm, b.fillet.leg_saddle_mm),
                                apart(opposite_leg_mm(a.fillet), opposite_leg_mm(b.fillet)), apart(a.fusion_mm, b.fusion_mm)});
  return legs > furthest_legs ? unlike : legs;
}

// The tubes' dimensions lie within `furthest`, else infinite.
double tasks_apart(const JointTask& a, const JointTask& b) {
  if (a.parts.size() != b.parts.size() || a.seams.size() != b.seams.size() || a.ends.size() != b.ends.size() || a.seats.size() != b.seats.size() ||
      a.size != b.size)
    return unlike;
  double most = 0;
  for (std::size_t i = 0; i < a.parts.size(); ++i) most = std::max(most, tubes_apart(a.parts[i], b.parts[i]));
  if (most > furthest) return unlike;
  for (std::size_t i = 0; i < a.seams.size() && most < unlike; ++i) most = std::max(most, seams_apart(a, a.seams[i], b, b.seams[i]));
  for (std::size_t i = 0; i < a.ends.size(); ++i)
    if (a.ends[i].part != b.ends[i].part || a.ends[i].out.dot(b.ends[i].out) < 0.9) return unlike;
  for (std::size_t i = 0; i < a.seats.size(); ++i)
    if (a.seats[i].part != b.seats[i].part) return unlike;
  return most;
}

// Rows over forces where they act now, in place of where they acted in the model.
Eigen::MatrixXd carried_back(const JointTask& now, const JointTask& modelled) {
  const auto place = [](const JointTask& t, std::size_t i) { return i < t.ends.size() ? t.ends[i].at : t.seats[i - t.ends.size()].at; };
  const std::size_t count = now.ends.size() + now.seats.size();
  Eigen::MatrixXd m = Eigen::MatrixXd::Identity(static_cast<Eigen::Index>(6 * (count - 1)), static_cast<Eigen::Index>(6 * (count - 1)));
  for (std::size_t i = 1; i < count; ++i) {
    const auto at = 6 * static_cast<Eigen::Index>(i - 1);
    m.block<3, 3>(at + 3, at) = frame::cross_matrix(place(now, i) - place(modelled, i));
  }
  return m;
}

// Stress at a toe by the equations for a force along the brace and, three diameters away, two across it: what a frame brings in kind.
double toe_by_equations(const joints::TyJoint& joint, const joints::TyJoint& reference, bool on_chord, int place) {
  const joints::TyScf scf = joints::ty_scf(joint, fixity);
  const auto factors = joints::eight_point_factors(on_chord ? scf.chord : scf.brace);
  const frame::SectionProperties p = frame::section_properties(frame::RoundTube{joint.brace_diameter_mm, joint.brace_wall_mm}, 0.3).properties;
  const double modulus = p.i_y_mm4 / p.outer_y_mm, arm = 3 * reference.brace_diameter_mm;
  // Every other of sixteen places lies between two of the eight points.
  double sum = 0;
  for (const int k : {place / 2, (place + 1) / 2}) {
    const auto row = static_cast<Eigen::Index>(k % 8);
    sum += std::abs(factors(row, 0)) / p.area_mm2 + (std::abs(factors(row, 1)) + std::abs(factors(row, 2))) * arm / modulus;
  }
  return sum;
}

struct SeamPair {
  joints::TyJoint now, before;
  double toe(bool on_chord, int place) const {
    return toe_by_equations(now, before, on_chord, place) / toe_by_equations(before, before, on_chord, place);
  }
  // Force and moment around a foot of another diameter: lines of force.
  double around() const { return before.brace_diameter_mm / now.brace_diameter_mm; }
};

void scale(SectionStress& s, double membrane, double bending) {
  s.membrane *= membrane;
  s.bending *= bending;
  s.across *= membrane;
  s.along *= membrane;
}

// Length of a section of the weld, as drawn.
double drawn_length(const SeamSection& s, SectionKind kind) {
  const Vec3 face = (s.chord_toe - s.brace_toe).normalized(), to_root = s.root - s.brace_toe;
  switch (kind) {
    case SectionKind::throat: return (to_root - to_root.dot(face) * face).norm();
    case SectionKind::brace_leg: return to_root.norm();
    case SectionKind::chord_leg: return (s.chord_toe - s.root).norm();
    default: return 0;
  }
}

// Lines of force around a foot of another diameter, over a section of another length. A larger weld takes its share from further around, and
// its bending falls faster: powers between the plain ones (1 and 2), as own models of welds half as large again and twice as large have them.
constexpr double membrane_power = 1.3, bending_power = 1.7;

void scale_weld(const SeamPath& now, const SeamPath& before, double around, SectionKind kind, std::vector<SectionStress>& sections) {
  for (std::size_t place = 0; place < sections.size(); ++place) {
    const double angle = 2 * std::numbers::pi * static_cast<double>(place) / static_cast<double>(sections.size());
    const double longer = drawn_length(now.section_at(angle), kind) / std::max(1e-3, drawn_length(before.section_at(angle), kind));
    scale(sections[place], around * std::pow(longer, -membrane_power), around * std::pow(longer, -bending_power));
    sections[place].length_mm *= longer;
  }
}

// Stress intensity goes as the throat's bending stress and the root of its length.
void scale_slit(const SeamPath& now, const SeamPath& before, double around, std::vector<SlitTip>& slit) {
  for (std::size_t place = 0; place < slit.size(); ++place) {
    const double angle = 2 * std::numbers::pi * static_cast<double>(place) / static_cast<double>(slit.size());
    const double longer = drawn_length(now.section_at(angle), SectionKind::throat) / std::max(1e-3, drawn_length(before.section_at(angle), SectionKind::throat));
    for (auto* row : {&slit[place].first, &slit[place].second}) *row *= around * std::pow(longer, 0.5 - bending_power);
  }
}

void scale_seam(const Seam& now, const Seam& before, const SeamPair& pair, SeamAnswer& answer) {
  const SeamPath path = path_of(now), path_before = path_of(before);
  scale_slit(path, path_before, pair.around(), answer.slit);
  for (std::size_t kind = 0; kind < answer.sections.size(); ++kind) {
    const auto k = static_cast<SectionKind>(kind);
    std::vector<SectionStress>& sections = answer.sections[kind];
    if (k != SectionKind::chord_wall && k != SectionKind::brace_wall) {
      scale_weld(path, path_before, pair.around(), k, sections);
      continue;
    }
    for (std::size_t place = 0; place < sections.size(); ++place) {
      const double factor = pair.toe(k == SectionKind::chord_wall, static_cast<int>(place));
      scale(sections[place], factor, factor);
    }
  }
  for (const bool on_chord : {false, true}) {
    auto& toes = on_chord ? answer.chord_toes : answer.brace_toes;
    for (std::size_t place = 0; place < toes.size(); ++place)
      for (SurfaceStress& r : toes[place].readings)
        for (auto* row : {&r.normal, &r.along, &r.shear}) *row *= pair.toe(on_chord, static_cast<int>(place));
  }
}

void carry(const Eigen::MatrixXd& back, SeamAnswer& answer) {
  for (auto& sections : answer.sections)
    for (SectionStress& s : sections)
      for (auto* row : {&s.membrane, &s.bending, &s.across, &s.along}) *row = *row * back;
  for (auto* toes : {&answer.brace_toes, &answer.chord_toes})
    for (Toe& toe : *toes)
      for (SurfaceStress& r : toe.readings)
        for (auto* row : {&r.normal, &r.along, &r.shear}) *row = *row * back;
  for (SlitTip& tip : answer.slit)
    for (auto* row : {&tip.first, &tip.second}) *row = *row * back;
}

// The model's flexibility seen from its sketch, put on the other sketch: no stiffness below nothing can come of it.
std::optional<Eigen::MatrixXd> flexibility_of(const JointTask& now, const JointTask& before, const Eigen::MatrixXd& modelled) {
  const auto sketch = sketched_flexibility(now), sketch_before = sketched_flexibility(before);
  if (!sketch || !sketch_before) return {};
  const Eigen::LLT<Eigen::MatrixXd> to(*sketch), from(*sketch_before);
  if (to.info() != Eigen::Success || from.info() != Eigen::Success) return {};
  const Eigen::MatrixXd half = to.matrixL() * Eigen::MatrixXd(from.matrixL().solve(Eigen::MatrixXd::Identity(modelled.rows(), modelled.rows())));
  return Eigen::MatrixXd(half * modelled * half.transpose());
}

}  // namespace

std::optional<ScaledModel> scaled_model(const JointTask& task, const JointLibrary& library) {
  const std::pair<JointTask, JointAnswer>* nearest = nullptr;
  double least = unlike;
  for (const auto& model : library.models) {
    const double here = tasks_apart(task, model.first);
    if (!(here < least)) continue;
    nearest = &model;
    least = here;
  }
  if (!nearest) return {};
  const JointTask& before = nearest->first;
  auto flexibility = flexibility_of(task, before, nearest->second.flexibility);
  if (!flexibility) return {};
  ScaledModel out{nearest->second, least};
  out.answer.flexibility = std::move(*flexibility);
  const Eigen::MatrixXd back = carried_back(task, before);
  for (std::size_t i = 0; i < task.seams.size(); ++i) {
    out.answer.seams[i].weld = task.seams[i].weld;
    scale_seam(task.seams[i], before.seams[i], {*equation_joint(task, task.seams[i]), *equation_joint(before, before.seams[i])}, out.answer.seams[i]);
    carry(back, out.answer.seams[i]);
  }
  return out;
}

}  // namespace seamwright::solid
