// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_blocks.h"

#include <algorithm>
#include <cmath>

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

// A value that is rounding beside the largest of its kind is shown as 0.
double without_rounding(double value, double largest) {
  return std::abs(value) <= 1e-9 * largest ? 0 : value;
}

Table displacements(const frame::Assembly& a, const Eigen::VectorXd& u) {
  Table t;
  t.columns = {message_of("column.node"),
               {"column.direction", {text("axis", "ux")}},
               {"column.direction", {text("axis", "uy")}},
               {"column.direction", {text("axis", "uz")}},
               {"column.direction", {text("axis", "rx")}},
               {"column.direction", {text("axis", "ry")}},
               {"column.direction", {text("axis", "rz")}}};
  const double largest = u.cwiseAbs().maxCoeff();
  for (std::size_t i = 0; i < a.node_ids.size(); ++i) {
    std::vector<Cell> row{Verbatim{a.node_ids[i]}};
    for (Eigen::Index k = 0; k < 6; ++k)
      row.emplace_back(Quantity{without_rounding(u[6 * static_cast<Eigen::Index>(i) + k], largest),
                                k < 3 ? "mm" : "rad", 4});
    t.rows.push_back(std::move(row));
  }
  return t;
}

Table forces(const frame::Assembly& a, const Eigen::VectorXd& u) {
  Table t;
  t.columns = {message_of("column.brace"), message_of("column.end")};
  for (const char* name : {"N", "Vy", "Vz", "T", "My", "Mz"})
    t.columns.push_back({"column.direction", {text("axis", name)}});
  std::vector<frame::Vector12> all;
  double largest = 0;
  for (const frame::Element& e : a.elements) {
    all.push_back(frame::section_forces(e, u));
    largest = std::max(largest, all.back().cwiseAbs().maxCoeff());
  }
  for (std::size_t i = 0; i < a.elements.size(); ++i) {
    const frame::Element& e = a.elements[i];
    const frame::Vector12& f = all[i];
    for (const bool start : {true, false}) {
      std::vector<Cell> row{Verbatim{e.id}, message_of(start ? MessageId("word.start") : "word.end")};
      for (Eigen::Index k = 0; k < 6; ++k)
        row.emplace_back(
            Quantity{without_rounding(f[(start ? 0 : 6) + k], largest), k < 3 ? "N" : "N mm", 4});
      t.rows.push_back(std::move(row));
    }
  }
  return t;
}

Table reactions(const frame::Assembly& a, const Eigen::VectorXd& r) {
  Table t;
  t.columns = {message_of("column.node"), message_of("column.direction-of"), message_of("column.reaction")};
  static const char* const names[] = {"x", "y", "z", "rx", "ry", "rz"};
  for (const Eigen::Index dof : a.held_dofs) {
    const Eigen::Index k = dof % 6;
    t.rows.push_back({Verbatim{a.node_ids[static_cast<std::size_t>(dof / 6)]}, Verbatim{names[k]},
                      Quantity{r[dof], k < 3 ? "N" : "N mm", 4}});
  }
  return t;
}

}  // namespace

Document solution_document(const std::string& what, const frame::Assembly& a, const frame::Solution& s) {
  Document d;
  d.title = {"solution.title", {text("case", what)}};
  d.blocks.emplace_back(Facts{{{message_of("column.residual"), Quantity{s.residual[0], "", 2}}}});
  d.blocks.emplace_back(Heading{2, message_of("solution.nodes")});
  d.blocks.emplace_back(displacements(a, s.displacements.col(0)));
  d.blocks.emplace_back(Heading{2, message_of("solution.members")});
  d.blocks.emplace_back(forces(a, s.displacements.col(0)));
  if (!a.held_dofs.empty()) {
    d.blocks.emplace_back(Heading{2, message_of("solution.reactions")});
    d.blocks.emplace_back(reactions(a, s.reactions.col(0)));
  }
  return d;
}

std::string most_moving(const frame::Assembly& a, const Eigen::VectorXd& shape) {
  std::size_t best = 0;
  double most = -1;
  for (std::size_t i = 0; i < a.node_ids.size(); ++i)
    if (const double move = shape.segment<3>(6 * static_cast<Eigen::Index>(i)).norm(); move > most) {
      most = move;
      best = i;
    }
  return a.node_ids[best];
}

Eigen::Index free_motions(const frame::Modes& modes) {
  constexpr double free_hz = 1e-3;
  Eigen::Index free = 0;
  while (free < modes.frequency_hz.size() && modes.frequency_hz[free] < free_hz) ++free;
  return free;
}

Document modes_document(const std::vector<NamedModes>& all) {
  Document d;
  d.title = message_of("modes.title");
  for (const NamedModes& state : all) {
    d.blocks.emplace_back(
        Heading{2, {composed_id("modes.on-", state.where), {number("payload", state.payload_kg, "kg")}}});
    Table t;
    t.columns = {message_of("column.mode"), message_of("column.frequency"), message_of("column.moves-most")};
    const Eigen::Index free = free_motions(state.modes);
    for (Eigen::Index i = 0; i < state.modes.frequency_hz.size(); ++i)
      t.rows.push_back(
          {i < free ? Cell{message_of("modes.free")} : Quantity{static_cast<double>(i - free + 1), "", 4},
           Quantity{i < free ? 0 : state.modes.frequency_hz[i], "Hz", 3},
           Verbatim{most_moving(*state.assembly, state.modes.shapes.col(i))}});
    d.blocks.emplace_back(std::move(t));
  }
  return d;
}

}  // namespace seamwright::reports
