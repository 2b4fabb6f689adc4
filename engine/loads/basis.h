// SPDX-License-Identifier: GPL-3.0-or-later
// Shapes in which a state moves: its modes up to a frequency, and beside them what the dropped modes would
// add to the static answers to every force that acts on the trike from outside the modes. Rayleigh-Ritz on
// modes and residual flexibility: Rubin, AIAA J. 13 (1975) 995 (from memory).
#pragma once

#include "engine/frame/assembly.h"
#include "engine/frame/modes.h"

namespace seamwright::loads {

/// Mass-normalised shapes (full x coordinates, shape' M shape = 1, tonne mm2) and their frequencies.
struct Shapes {
  Eigen::MatrixXd shapes;
  Eigen::VectorXd omega_rad_s;
};

/// Remainders swing by themselves or follow their forces at once.
enum class Inertia { counted, left_out };

/// The shapes that make the static answers to forces exact, free of each other through mass and stiffness.
/// whole: the static answers; kept: mass-normalised motions that are there already. Directions without
/// stiffness of their own (two forces with one answer) fall away.
Shapes remainders(const Eigen::MatrixXd& whole, const Eigen::MatrixXd& kept, const Eigen::MatrixXd& forces,
                  const frame::SparseMatrix& mass, Inertia inertia);

/// Modes and remainders side by side. free_motion: the one without stiffness, mass-normalised, or nil.
Shapes ritz_shapes(const frame::Assembly& assembly, const frame::Modes& modes,
                   const Eigen::VectorXd& free_motion, const Eigen::MatrixXd& forces);

/// The lowest of the shapes as they are; the others' static answers to the forces without their inertia.
Shapes lowest_and_static(const Shapes& all, Eigen::Index lowest, const Eigen::MatrixXd& forces,
                         const frame::SparseMatrix& mass);

}  // namespace seamwright::loads
