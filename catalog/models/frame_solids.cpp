// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/frame_solids.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <sstream>

#include "engine/evidence/evidence.h"
#include "engine/rating/progress.h"

namespace seamwright::models {

namespace {

using Box = Eigen::AlignedBox3f;

Box box_of(const shape::Mesh& mesh) {
  Box box;
  for (std::size_t i = 0; i + 2 < mesh.points.size(); i += 3)
    box.extend(Eigen::Vector3f(mesh.points[i], mesh.points[i + 1], mesh.points[i + 2]));
  return box;
}

bool is_cut_by(const shape::Part& part, const shape::Part& other) {
  return std::any_of(part.cuts.begin(), part.cuts.end(), [&](const shape::Cut& c) { return c.by == other.id; });
}

shape::Built built_of(Answer& answer, const std::string& id) {
  if (auto* built = std::get_if<shape::Built>(&answer)) return std::move(*built);
  shape::Built none;
  none.solid.id = id;
  none.solid.rung = shape::Rung::none;
  none.why = std::get<Failed>(answer).why;
  return none;
}

// The section as a text: tubes of one section share a colour.
std::string section_name(const shape::Part& part) {
  if (!std::holds_alternative<shape::Hollow>(part.body)) return "plate";
  std::ostringstream name;
  const frame::Section& section = std::get<shape::Hollow>(part.body).stretches.at(0).section;
  name << section.index();
  if (const auto* t = std::get_if<frame::RoundTube>(&section)) name << ' ' << t->diameter_mm << ' ' << t->wall_mm;
  if (const auto* b = std::get_if<frame::SolidBar>(&section)) name << ' ' << b->diameter_mm;
  return name.str();
}

[[noreturn]] void fail(const Answer& answer) {
  throw Fault{Message{"shape.worker-failed", {text("why", std::get<Failed>(answer).why)}}, Category::machine};
}

}  // namespace

BuiltFrame frame_solids(Modeller& modeller, const shape::Plan& plan, const rating::Progress& progress) {
  const std::size_t count = plan.parts.size() + plan.welds.size();
  if (count > most_bodies)
    throw Fault{Message{"shape.too-many", {number("count", static_cast<double>(count), ""),
                                           number("most", static_cast<double>(most_bodies), "")}}};
  std::vector<Task> tasks(plan.parts.begin(), plan.parts.end());
  tasks.insert(tasks.end(), plan.welds.begin(), plan.welds.end());
  std::vector<Answer> answers = modeller.work(tasks, progress);
  BuiltFrame out;
  for (std::size_t i = 0; i < plan.parts.size(); ++i) out.parts.push_back(built_of(answers[i], plan.parts[i].id));
  for (std::size_t i = 0; i < plan.welds.size(); ++i)
    out.welds.push_back(built_of(answers[plan.parts.size() + i], plan.welds[i].id));
  return out;
}

std::vector<Message> frame_findings(Modeller& modeller, const shape::Plan& plan, const BuiltFrame& solids,
                                    const rating::Progress& progress) {
  std::vector<Message> findings;
  for (const auto* bodies : {&solids.parts, &solids.welds})
    for (const shape::Built& b : *bodies)
      if (b.body.empty()) findings.push_back({"shape.not-built", {text("part", b.solid.id), text("why", b.why)}});
  std::vector<Box> boxes;
  for (const shape::Built& b : solids.parts) boxes.push_back(box_of(b.solid.mesh));
  std::vector<Task> tasks;
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (std::size_t i = 0; i < plan.parts.size(); ++i)
    for (std::size_t j = i + 1; j < plan.parts.size(); ++j)
      if (!boxes[i].isEmpty() && !boxes[j].isEmpty() && boxes[i].intersects(boxes[j]) &&
          !is_cut_by(plan.parts[i], plan.parts[j]) && !is_cut_by(plan.parts[j], plan.parts[i])) {
        tasks.push_back(CommonTask{solids.parts[i].body, solids.parts[j].body});
        pairs.emplace_back(i, j);
      }
  const std::vector<Answer> answers = modeller.work(tasks, progress);
  std::vector<std::pair<double, Message>> found;
  for (std::size_t k = 0; k < pairs.size(); ++k) {
    const std::string &first = plan.parts[pairs[k].first].id, &second = plan.parts[pairs[k].second].id;
    if (const auto* failed = std::get_if<Failed>(&answers[k])) {
      findings.push_back({"shape.not-built", {text("part", first + " + " + second), text("why", failed->why)}});
      continue;
    }
    const shape::Common& c = std::get<shape::Common>(answers[k]);
    if (c.volume_mm3 > 1)
      found.emplace_back(-c.depth_mm,
                         Message{"shape.interference",
                                 {text("first", first), text("second", second),
                                  number("volume", c.volume_mm3, "mm3"), number("depth", c.depth_mm, "mm")}});
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (auto& [depth, message] : found) findings.push_back(std::move(message));
  return findings;
}

FrameMass mass_of(const BuiltFrame& solids, const std::vector<double>& density) {
  FrameMass out;
  Eigen::Vector3d first = Eigen::Vector3d::Zero();
  Eigen::Matrix3d second = Eigen::Matrix3d::Zero();  // of x x^T about the origin, kg mm2
  const auto add = [&](const shape::Quantities& q, double kg_mm3) {
    const double mass = q.volume_mm3 * kg_mm3;
    first += mass * q.centre_mm;
    const Eigen::Matrix3d about = kg_mm3 * q.inertia_mm5;
    second += about.trace() / 2 * Eigen::Matrix3d::Identity() - about + mass * q.centre_mm * q.centre_mm.transpose();
    out.surface_m2 += q.surface_mm2 * 1e-6;
    return mass;
  };
  for (std::size_t i = 0; i < solids.parts.size(); ++i)
    out.mass_kg += add(solids.parts[i].solid.quantities, density.at(i));
  for (const shape::Built& w : solids.welds) out.weld_metal_kg += add(w.solid.quantities, density.at(0));
  out.mass_kg += out.weld_metal_kg;
  if (!(out.mass_kg > 0)) return out;
  out.centre_mm = first / out.mass_kg;
  const Eigen::Matrix3d central = second - out.mass_kg * out.centre_mm * out.centre_mm.transpose();
  out.inertia_kg_m2 = (central.trace() * Eigen::Matrix3d::Identity() - central) * 1e-6;
  return out;
}

std::vector<shape::NamedBody> named_bodies(const shape::Plan& plan, const BuiltFrame& solids, bool welds) {
  std::vector<shape::NamedBody> out;
  for (std::size_t i = 0; i < solids.parts.size(); ++i)
    if (!solids.parts[i].body.empty())
      out.push_back({plan.parts[i].id, section_name(plan.parts[i]), solids.parts[i].body});
  for (const shape::Built& w : solids.welds)
    if (welds && !w.body.empty()) out.push_back({w.solid.id, "weld", w.body});
  return out;
}

Lines frame_view(Modeller& modeller, const shape::Plan& plan, const BuiltFrame& solids, const shape::Vec3& towards,
                 const shape::Vec3& up, const rating::Progress& progress) {
  const std::vector<Answer> a = modeller.work({ViewTask{named_bodies(plan, solids, false), towards, up}}, progress);
  if (const auto* lines = std::get_if<Lines>(&a.at(0))) return *lines;
  fail(a[0]);
}

std::string step_file(Modeller& modeller, const shape::Plan& plan, const BuiltFrame& solids, const std::string& name,
                      bool fused, const rating::Progress& progress) {
  const std::size_t parts = fused ? named_bodies(plan, solids, false).size() : 0;
  const std::vector<Answer> a = modeller.work({ExportTask{name, named_bodies(plan, solids, true), parts}}, progress);
  if (const auto* content = std::get_if<std::string>(&a.at(0))) return *content;
  fail(a[0]);
}

}  // namespace seamwright::models
