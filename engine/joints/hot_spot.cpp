// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/hot_spot.h"

#include <cmath>

namespace seamwright::joints {

Eigen::Matrix<double, 8, 3> eight_point_factors(const ScfSide& scf) {
  const double h = 0.5 * (scf.axial_crown + scf.axial_saddle), r = std::sqrt(0.5);
  const double c = scf.axial_crown, s = scf.axial_saddle, i = scf.in_plane, o = scf.out_of_plane;
  Eigen::Matrix<double, 8, 3> f;
  f << c, i, 0, h, r * i, -r * o, s, 0, -o, h, -r * i, -r * o, c, -i, 0, h, -r * i, r * o, s, 0, o, h, r * i,
      r * o;
  return f;
}

std::array<double, 8> eight_points(const ScfSide& scf, const BraceStress& stress) {
  const Eigen::Matrix<double, 8, 1> points =
      eight_point_factors(scf) *
      Eigen::Vector3d(stress.axial_mpa, stress.in_plane_mpa, stress.out_of_plane_mpa);
  std::array<double, 8> result{};
  for (std::size_t k = 0; k < 8; ++k) result[k] = points(static_cast<Eigen::Index>(k));
  return result;
}

HotSpotResult hot_spot(const TyScf& scf, bool chord_side, const BraceStress& stress) {
  HotSpotResult result;
  result.points_mpa = eight_points(chord_side ? scf.chord : scf.brace, stress);
  Evidence& evidence = result.evidence;
  evidence.figure = "hot-spot";
  evidence.unit = "MPa";
  evidence.source = {"dnv-rp-c203-2016", "3.3.2, eq. 3.3.1"};
  evidence.inputs = {{"axial", stress.axial_mpa, "MPa"},
                     {"in_plane", stress.in_plane_mpa, "MPa"},
                     {"out_of_plane", stress.out_of_plane_mpa, "MPa"}};
  for (double point : result.points_mpa)
    if (std::abs(point) > std::abs(evidence.value)) evidence.value = point;
  evidence.coverage = scf.evidence.coverage;
  evidence.because = {scf.evidence};
  return result;
}

}  // namespace seamwright::joints
