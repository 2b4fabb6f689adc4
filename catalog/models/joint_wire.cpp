// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/joint_wire.h"

#include <algorithm>

#include "catalog/models/wire_shapes.h"
#include "engine/shape/pieces.h"

namespace seamwright::models::wire {

namespace {

json points_json(const std::vector<solid::ReadPoint>& points) {
  json out = json::array();
  for (const solid::ReadPoint& p : points) out.push_back({rounded(p.distance_mm), rounded(p.weight)});
  return out;
}
std::vector<solid::ReadPoint> points_of(const json& j) {
  std::vector<solid::ReadPoint> out;
  for (const json& p : j) out.push_back({p.at(0).get<double>(), p.at(1).get<double>()});
  return out;
}

json seam_json(const solid::Seam& s) {
  json readings = json::array();
  for (const solid::Reading& r : s.readings) readings.push_back({points_json(r.brace), points_json(r.chord_crown), points_json(r.chord_saddle)});
  json out = {s.weld, s.brace, s.chord, to_json(s.fillet), to_json(s.cuts), readings, s.fused, s.bare};
  if (s.fusion_mm > 0) out.push_back(rounded(s.fusion_mm));  // written only there: tasks without it keep their bytes
  return out;
}
solid::Seam seam_of(const json& j, std::size_t parts) {
  solid::Seam s;
  s.weld = j.at(0).get<std::string>();
  s.brace = j.at(1).get<int>();
  s.chord = j.at(2).get<int>();
  for (const int part : {s.brace, s.chord})
    if (part < 0 || static_cast<std::size_t>(part) >= parts) refuse("a seam on no part");
  s.fillet = fillet_of(j.at(3));
  s.cuts = cuts_of(j.at(4));
  for (const json& r : j.at(5)) s.readings.push_back({points_of(r.at(0)), points_of(r.at(1)), points_of(r.at(2))});
  s.fused = j.at(6).get<bool>();
  s.bare = j.at(7).get<bool>();
  if (j.size() > 8) s.fusion_mm = j.at(8).get<double>();
  if (!(s.fusion_mm >= 0 && s.fusion_mm < shape::outer_radius_mm(s.fillet.brace.section))) refuse("fused beyond the brace");
  return s;
}

int part_number(const json& j, std::size_t parts) {
  const int part = j.get<int>();
  if (part < 0 || static_cast<std::size_t>(part) >= parts) refuse("no such part");
  return part;
}

// Numbers one after the other, in the order in which they are read again. Stiffness needs all digits, since forces balance by it; rows of
// stress are halved in size as floats.
template <class Number>
class Writer {
 public:
  void number(double v) { all_.push_back(static_cast<Number>(v)); }
  void row(const Eigen::RowVectorXd& r) {
    for (const double v : r) number(v);
  }
  json done() const { return numbers(all_); }

 private:
  std::vector<Number> all_;
};

template <class Number>
class Reader {
 public:
  explicit Reader(const json& j) : all_(numbers_of<Number>(j)) {
    if (!std::all_of(all_.begin(), all_.end(), [](Number v) { return std::isfinite(v); })) refuse("what is no number");
  }
  double number() {
    if (next_ >= all_.size()) refuse("too few numbers");
    return static_cast<double>(all_[next_++]);
  }
  Eigen::RowVectorXd row(Eigen::Index columns) {
    Eigen::RowVectorXd r(columns);
    for (double& v : r) v = number();
    return r;
  }
  void end() const {
    if (next_ != all_.size()) refuse("too many numbers");
  }

 private:
  std::vector<Number> all_;
  std::size_t next_ = 0;
};

void write_toes(Writer<float>& w, const std::vector<solid::Toe>& toes) {
  for (const solid::Toe& t : toes) {
    w.number(t.is_there ? static_cast<double>(t.readings.size()) : -1);
    if (!t.is_there) continue;
    for (const solid::SurfaceStress& s : t.readings)
      for (const auto* r : {&s.normal, &s.along, &s.shear}) w.row(*r);
  }
}
std::vector<solid::Toe> read_toes(Reader<float>& r, Eigen::Index columns) {
  std::vector<solid::Toe> out(solid::places_around);
  for (solid::Toe& t : out) {
    const double readings = r.number();
    t.is_there = readings >= 0;
    if (readings > 16) refuse("too many readings");
    for (int i = 0; i < readings; ++i) {
      solid::SurfaceStress s;
      for (auto* row : {&s.normal, &s.along, &s.shear}) *row = r.row(columns);
      t.readings.push_back(std::move(s));
    }
  }
  return out;
}

json seam_answer_json(const solid::SeamAnswer& s) {
  Writer<float> w;
  json kinds = json::array();
  for (const auto& sections : s.sections) {
    kinds.push_back(!sections.empty());
    for (const solid::SectionStress& x : sections) {
      w.number(x.length_mm);
      for (const auto* r : {&x.membrane, &x.bending, &x.across, &x.along}) w.row(*r);
    }
  }
  write_toes(w, s.brace_toes);
  write_toes(w, s.chord_toes);
  for (const solid::SlitTip& tip : s.slit)
    for (const auto* r : {&tip.first, &tip.second}) w.row(*r);
  return {s.weld, kinds, w.done(), !s.slit.empty(), s.mesh_error};
}
solid::SeamAnswer seam_answer_of(const json& j, Eigen::Index columns) {
  solid::SeamAnswer s;
  s.weld = j.at(0).get<std::string>();
  Reader<float> r(j.at(2));
  if (j.at(1).size() != solid::section_kinds.size()) refuse("other sections");
  for (const json& there : j.at(1)) {
    s.sections.emplace_back();
    for (int k = 0; there.get<bool>() && k < solid::places_around; ++k) {
      solid::SectionStress x;
      x.length_mm = r.number();
      for (auto* row : {&x.membrane, &x.bending, &x.across, &x.along}) *row = r.row(columns);
      s.sections.back().push_back(std::move(x));
    }
  }
  s.brace_toes = read_toes(r, columns);
  s.chord_toes = read_toes(r, columns);
  if (j.at(3).get<bool>()) s.slit.resize(solid::places_around);
  for (solid::SlitTip& tip : s.slit)
    for (auto* row : {&tip.first, &tip.second}) *row = r.row(columns);
  r.end();
  s.mesh_error = j.at(4).get<double>();
  if (!(s.mesh_error >= 0 && std::isfinite(s.mesh_error))) refuse("what is no error");
  return s;
}

}  // namespace

json to_json(const solid::JointTask& t) {
  json parts = json::array(), seams = json::array(), ends = json::array(), seats = json::array();
  for (const shape::Part& p : t.parts) {
    parts.push_back(to_json(p));
    parts.back()["is_member"] = !p.member.empty();
  }
  for (const solid::Seam& s : t.seams) seams.push_back(seam_json(s));
  for (const solid::End& e : t.ends) ends.push_back({e.part, to_json(e.at), to_json(e.out)});
  for (const solid::Seat& s : t.seats) seats.push_back({s.part, to_json(s.at)});
  return {{"parts", parts}, {"seams", seams}, {"ends", ends}, {"seats", seats},
          {"steel", {t.steel.youngs_mpa, t.steel.poisson}}, {"size", t.size}};
}

solid::JointTask joint_task_of(const json& j) {
  solid::JointTask t;
  for (const json& p : j.at("parts")) {
    t.parts.push_back(part_of(p));
    if (p.at("is_member").get<bool>()) t.parts.back().member = t.parts.back().id;
  }
  for (const json& s : j.at("seams")) t.seams.push_back(seam_of(s, t.parts.size()));
  for (const json& e : j.at("ends")) t.ends.push_back({part_number(e.at(0), t.parts.size()), vector_of(e.at(1)), vector_of(e.at(2))});
  for (const json& s : j.at("seats")) t.seats.push_back({part_number(s.at(0), t.parts.size()), vector_of(s.at(1))});
  t.steel = {j.at("steel").at(0).get<double>(), j.at("steel").at(1).get<double>()};
  t.size = j.at("size").get<double>();
  if (t.parts.empty() || t.ends.empty() || !(t.size > 0) || !(t.steel.youngs_mpa > 0)) refuse("not a joint");
  return t;
}

json to_json(const solid::JointAnswer& a) {
  Writer<double> w;
  for (Eigen::Index i = 0; i < a.flexibility.rows(); ++i) w.row(a.flexibility.row(i));
  json seams = json::array(), welds = json::array();
  for (const solid::SeamAnswer& s : a.seams) seams.push_back(seam_answer_json(s));
  for (const shape::Rung r : a.welds) welds.push_back(static_cast<int>(r));
  return {{"columns", a.flexibility.cols()}, {"flexibility", w.done()}, {"seams", seams}, {"welds", welds},
          {"about", {a.volume_mm3, a.planned_mm3, a.residual, a.reaction, a.unknowns}}};
}

solid::JointAnswer joint_answer_of(const json& j) {
  solid::JointAnswer a;
  const auto columns = j.at("columns").get<Eigen::Index>();
  if (columns < 1 || columns > 1000) refuse("an absurd number of columns");
  Reader<double> r(j.at("flexibility"));
  a.flexibility.resize(columns, columns);
  for (Eigen::Index i = 0; i < columns; ++i) a.flexibility.row(i) = r.row(columns);
  r.end();
  for (const json& s : j.at("seams")) a.seams.push_back(seam_answer_of(s, columns));
  for (const json& w : j.at("welds")) {
    const int rung = w.get<int>();
    if (rung < 0 || rung > static_cast<int>(shape::Rung::none)) refuse("not a rung");
    a.welds.push_back(static_cast<shape::Rung>(rung));
  }
  if (a.welds.size() != a.seams.size()) refuse("seams without their metal");
  std::array<double*, 5> about{&a.volume_mm3, &a.planned_mm3, &a.residual, &a.reaction, &a.unknowns};
  for (std::size_t i = 0; i < about.size(); ++i) {
    *about[i] = j.at("about").at(i).get<double>();
    if (!std::isfinite(*about[i])) refuse("what is no number");
  }
  return a;
}

}  // namespace seamwright::models::wire
