// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/wire.h"

#include <cmath>
#include <cstring>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace seamwright::models {

namespace {

using nlohmann::json;
using shape::Vec3;

[[noreturn]] void refuse(const char* what) { throw std::runtime_error(what); }

double rounded(double v) { return std::round(v * 1e6) / 1e6 + 0.0; }

json to_json(const Vec3& v) { return {rounded(v.x()), rounded(v.y()), rounded(v.z())}; }
Vec3 vector_of(const json& j) {
  if (j.size() != 3) refuse("not a vector");
  return {j[0].get<double>(), j[1].get<double>(), j[2].get<double>()};
}

json binary(const void* data, std::size_t bytes) {
  const auto* from = static_cast<const std::uint8_t*>(data);
  return json::binary(std::vector<std::uint8_t>(from, from + bytes));
}
json binary(const std::string& text) { return binary(text.data(), text.size()); }
std::string text_of(const json& j) {
  const auto& b = j.get_binary();
  return {b.begin(), b.end()};
}

template <class Number>
json numbers(const std::vector<Number>& v) {
  return binary(v.data(), v.size() * sizeof(Number));
}
template <class Number>
std::vector<Number> numbers_of(const json& j) {
  const auto& b = j.get_binary();
  if (b.size() % sizeof(Number) != 0) refuse("not whole numbers");
  std::vector<Number> v(b.size() / sizeof(Number));
  if (!v.empty()) std::memcpy(v.data(), b.data(), b.size());
  return v;
}

// Sections by the number of their alternative, then their measures in the order of the struct.
struct SectionJson {
  json operator()(const frame::RoundTube& t) const { return {0, rounded(t.diameter_mm), rounded(t.wall_mm)}; }
  json operator()(const frame::RectangularTube& t) const {
    return {1, rounded(t.height_mm), rounded(t.width_mm), rounded(t.wall_mm), rounded(t.corner_radius_mm)};
  }
  json operator()(const frame::FlatOvalTube& t) const {
    return {2, rounded(t.height_mm), rounded(t.width_mm), rounded(t.wall_mm)};
  }
  json operator()(const frame::SolidBar& b) const { return {3, rounded(b.diameter_mm)}; }
  json operator()(const frame::PlateStrip& p) const { return {4, rounded(p.height_mm), rounded(p.thickness_mm)}; }
};
frame::Section section_of(const json& j) {
  const auto measure = [&](std::size_t i) { return j.at(i).get<double>(); };
  switch (j.at(0).get<int>()) {
    case 0:
      return frame::RoundTube{measure(1), measure(2)};
    case 1:
      return frame::RectangularTube{measure(1), measure(2), measure(3), measure(4)};
    case 2:
      return frame::FlatOvalTube{measure(1), measure(2), measure(3)};
    case 3:
      return frame::SolidBar{measure(1)};
    case 4:
      return frame::PlateStrip{measure(1), measure(2)};
    default:
      refuse("not a section");
  }
}

json to_json(const shape::Stretch& s) {
  return {std::visit(SectionJson{}, s.section), to_json(s.from), to_json(s.to), to_json(s.up)};
}
shape::Stretch stretch_of(const json& j) {
  return {section_of(j.at(0)), vector_of(j.at(1)), vector_of(j.at(2)), vector_of(j.at(3))};
}

json to_json(const std::vector<shape::Cut>& cuts) {
  json out = json::array();
  for (const shape::Cut& c : cuts) {
    if (const auto* space = std::get_if<shape::HalfSpace>(&c.tool))
      out.push_back({c.by, to_json(space->point), to_json(space->away)});
    else
      out.push_back({c.by, to_json(std::get<shape::Stretch>(c.tool))});
  }
  return out;
}
std::vector<shape::Cut> cuts_of(const json& j) {
  std::vector<shape::Cut> cuts;
  for (const json& c : j) {
    const auto by = c.at(0).get<std::string>();
    if (c.size() == 3)
      cuts.push_back({shape::HalfSpace{vector_of(c[1]), vector_of(c[2])}, by});
    else
      cuts.push_back({stretch_of(c.at(1)), by});
  }
  return cuts;
}

json to_json(const design::Plate& p) {
  json outline = json::array(), holes = json::array();
  for (const design::Corner& c : p.outline)
    outline.push_back({rounded(c.x_mm), rounded(c.y_mm), rounded(c.bulge)});
  for (const design::PlateHole& h : p.holes)
    holes.push_back({rounded(h.x_mm), rounded(h.y_mm), rounded(h.diameter_mm)});
  return {rounded(p.thickness_mm), to_json(p.origin_mm), to_json(p.x), to_json(p.y), outline, holes};
}
design::Plate plate_of(const json& j) {
  design::Plate p;
  p.thickness_mm = j.at(0).get<double>();
  p.origin_mm = vector_of(j.at(1));
  p.x = vector_of(j.at(2));
  p.y = vector_of(j.at(3));
  for (const json& c : j.at(4))
    p.outline.push_back({c.at(0).get<double>(), c.at(1).get<double>(), c.at(2).get<double>()});
  for (const json& h : j.at(5))
    p.holes.push_back({h.at(0).get<double>(), h.at(1).get<double>(), h.at(2).get<double>()});
  return p;
}

json named(const std::vector<shape::NamedBody>& bodies) {
  json out = json::array();
  for (const shape::NamedBody& b : bodies) out.push_back({b.id, b.colour, binary(b.body)});
  return out;
}
std::vector<shape::NamedBody> named_of(const json& j) {
  std::vector<shape::NamedBody> out;
  for (const json& b : j)
    out.push_back({b.at(0).get<std::string>(), b.at(1).get<std::string>(), text_of(b.at(2))});
  return out;
}

struct TaskJson {
  json operator()(const shape::Part& p) const {
    json out{{"do", "part"}, {"id", p.id}, {"cuts", to_json(p.cuts)}};
    if (const auto* hollow = std::get_if<shape::Hollow>(&p.body)) {
      for (const shape::Stretch& s : hollow->stretches) out["stretches"].push_back(to_json(s));
    } else {
      out["plate"] = to_json(std::get<shape::Flat>(p.body).plate);
    }
    return out;
  }
  json operator()(const shape::WeldBody& w) const {
    json out{{"do", "weld"}, {"id", w.id}, {"cuts", to_json(w.cuts)}};
    if (const auto* f = std::get_if<shape::FilletAround>(&w.body)) {
      out["around"] = {to_json(f->brace), to_json(f->chord), to_json(f->crown), rounded(f->leg_crown_mm),
                       rounded(f->leg_saddle_mm)};
    } else if (const auto* r = std::get_if<shape::FilletRing>(&w.body)) {
      out["ring"] = {to_json(r->tube), rounded(r->leg_mm)};
    } else {
      out["along"] = json::array();
      for (const shape::FilletAlong& l : std::get<std::vector<shape::FilletAlong>>(w.body))
        out["along"].push_back({to_json(l.from), to_json(l.to), to_json(l.one), to_json(l.other), rounded(l.leg_mm)});
    }
    return out;
  }
  json operator()(const CommonTask& c) const {
    return {{"do", "common"}, {"first", binary(c.first)}, {"second", binary(c.second)}};
  }
  json operator()(const ViewTask& v) const {
    return {{"do", "view"}, {"bodies", named(v.bodies)}, {"towards", to_json(v.towards)}, {"up", to_json(v.up)}};
  }
  json operator()(const ExportTask& e) const {
    return {{"do", "export"}, {"name", e.name}, {"bodies", named(e.bodies)}, {"fused", e.fused}};
  }
};

shape::Part part_of(const json& j) {
  shape::Part p;
  p.id = j.at("id").get<std::string>();
  p.cuts = cuts_of(j.at("cuts"));
  if (j.contains("plate")) {
    p.body = shape::Flat{plate_of(j.at("plate"))};
    return p;
  }
  shape::Hollow hollow;
  for (const json& s : j.at("stretches")) hollow.stretches.push_back(stretch_of(s));
  if (hollow.stretches.empty()) refuse("a part of nothing");
  p.body = std::move(hollow);
  return p;
}

shape::WeldBody weld_of(const json& j) {
  shape::WeldBody w{j.at("id").get<std::string>(), {}, cuts_of(j.at("cuts"))};
  if (j.contains("around")) {
    const json& a = j.at("around");
    w.body = shape::FilletAround{stretch_of(a.at(0)), stretch_of(a.at(1)), vector_of(a.at(2)),
                                 a.at(3).get<double>(), a.at(4).get<double>()};
    return w;
  }
  if (j.contains("ring")) {
    w.body = shape::FilletRing{stretch_of(j.at("ring").at(0)), j.at("ring").at(1).get<double>()};
    return w;
  }
  std::vector<shape::FilletAlong> lines;
  for (const json& l : j.at("along"))
    lines.push_back({vector_of(l.at(0)), vector_of(l.at(1)), vector_of(l.at(2)), vector_of(l.at(3)),
                     l.at(4).get<double>()});
  w.body = std::move(lines);
  return w;
}

json to_json(const shape::Quantities& q) {
  json inertia = json::array();
  for (int i = 0; i < 9; ++i) inertia.push_back(q.inertia_mm5(i / 3, i % 3));
  return {q.volume_mm3, q.surface_mm2, {q.centre_mm.x(), q.centre_mm.y(), q.centre_mm.z()}, inertia};
}
shape::Quantities quantities_of(const json& j) {
  shape::Quantities q;
  q.volume_mm3 = j.at(0).get<double>();
  q.surface_mm2 = j.at(1).get<double>();
  q.centre_mm = vector_of(j.at(2));
  for (int i = 0; i < 9; ++i)
    q.inertia_mm5(i / 3, i % 3) = j.at(3).at(static_cast<std::size_t>(i)).get<double>();
  if (!std::isfinite(q.volume_mm3) || !q.centre_mm.allFinite() || !q.inertia_mm5.allFinite())
    refuse("quantities that are no numbers");
  return q;
}

json to_json(const shape::Mesh& m) {
  json edges = json::array();
  for (const auto& e : m.edges) edges.push_back(numbers(e));
  return {numbers(m.points), numbers(m.normals), numbers(m.triangles), edges};
}
shape::Mesh mesh_of(const json& j) {
  shape::Mesh m{numbers_of<float>(j.at(0)), numbers_of<float>(j.at(1)), numbers_of<std::uint32_t>(j.at(2)), {}};
  for (const json& e : j.at(3)) m.edges.push_back(numbers_of<float>(e));
  if (m.points.size() % 3 != 0 || m.normals.size() != m.points.size() || m.triangles.size() % 3 != 0)
    refuse("a mesh in pieces");
  for (const std::uint32_t i : m.triangles)
    if (i >= m.points.size() / 3) refuse("a triangle without its points");
  for (const auto& e : m.edges)
    if (e.size() % 3 != 0) refuse("an edge in pieces");
  return m;
}

struct AnswerJson {
  json operator()(const Failed& f) const { return {{"failed", f.why}}; }
  json operator()(const shape::Built& b) const {
    const shape::Solid& s = b.solid;
    json out{{"id", s.id},     {"rung", static_cast<int>(s.rung)}, {"quantities", to_json(s.quantities)}, {"mesh", to_json(s.mesh)},
             {"body", binary(b.body)}, {"why", b.why}};
    if (!std::isnan(s.planned_mm3)) out["planned"] = s.planned_mm3;
    return out;
  }
  json operator()(const shape::Common& c) const {
    return {{"volume", c.volume_mm3}, {"depth", c.depth_mm}, {"centre", {c.centre_mm.x(), c.centre_mm.y(), c.centre_mm.z()}}};
  }
  json operator()(const Lines& lines) const {
    json out = json::array();
    for (const shape::ViewLine& l : lines) {
      std::vector<float> points;
      for (const auto& p : l.points)
        for (const double v : {p.x(), p.y()}) points.push_back(static_cast<float>(v));
      out.push_back({l.id, l.visible, l.outline, numbers(points)});
    }
    return {{"lines", out}};
  }
  json operator()(const std::string& text) const { return {{"text", binary(text)}}; }
};

shape::Built built_of(const json& j) {
  shape::Built b;
  b.solid.id = j.at("id").get<std::string>();
  const int rung = j.at("rung").get<int>();
  if (rung < 0 || rung > static_cast<int>(shape::Rung::none)) refuse("not a rung");
  b.solid.rung = static_cast<shape::Rung>(rung);
  b.solid.quantities = quantities_of(j.at("quantities"));
  b.solid.planned_mm3 = j.contains("planned") ? j.at("planned").get<double>() : std::nan("");
  b.solid.mesh = mesh_of(j.at("mesh"));
  b.body = text_of(j.at("body"));
  b.why = j.at("why").get<std::string>();
  return b;
}

Lines lines_of(const json& j) {
  Lines lines;
  for (const json& l : j) {
    shape::ViewLine line{l.at(0).get<std::string>(), l.at(1).get<bool>(), l.at(2).get<bool>(), {}};
    const std::vector<float> points = numbers_of<float>(l.at(3));
    if (points.size() % 2 != 0) refuse("a line in pieces");
    for (std::size_t i = 0; i < points.size(); i += 2) line.points.emplace_back(points[i], points[i + 1]);
    lines.push_back(std::move(line));
  }
  return lines;
}

json parsed(std::string_view bytes) {
  return json::from_cbor(bytes.begin(), bytes.end(), true, true, json::cbor_tag_handler_t::error);
}

std::string cbor_of(const json& j) {
  const std::vector<std::uint8_t> bytes = json::to_cbor(j);
  return {bytes.begin(), bytes.end()};
}

}  // namespace

std::string bytes_of(const Task& task) { return cbor_of(std::visit(TaskJson{}, task)); }

Task task_of(std::string_view bytes) {
  const json j = parsed(bytes);
  const auto what = j.at("do").get<std::string>();
  if (what == "part") return part_of(j);
  if (what == "weld") return weld_of(j);
  if (what == "common") return CommonTask{text_of(j.at("first")), text_of(j.at("second"))};
  if (what == "view") return ViewTask{named_of(j.at("bodies")), vector_of(j.at("towards")), vector_of(j.at("up"))};
  if (what == "export")
    return ExportTask{j.at("name").get<std::string>(), named_of(j.at("bodies")), j.at("fused").get<std::size_t>()};
  refuse("not a task");
}

std::string bytes_of(const Answer& answer) { return cbor_of(std::visit(AnswerJson{}, answer)); }

Answer answer_of(std::string_view bytes) {
  const json j = parsed(bytes);
  if (j.contains("failed")) return Failed{j.at("failed").get<std::string>()};
  if (j.contains("lines")) return lines_of(j.at("lines"));
  if (j.contains("text")) return text_of(j.at("text"));
  if (j.contains("mesh")) return built_of(j);
  const shape::Common c{j.at("volume").get<double>(), j.at("depth").get<double>(), vector_of(j.at("centre"))};
  if (!std::isfinite(c.volume_mm3) || !std::isfinite(c.depth_mm)) refuse("a common part that is no number");
  return c;
}

std::string framed(std::string_view bytes) {
  std::string out(8, '\0');
  for (std::size_t i = 0; i < 8; ++i) out[i] = static_cast<char>((bytes.size() >> (8 * i)) & 0xff);
  return out.append(bytes);
}

std::optional<std::string> next_frame(std::string& buffer) {
  if (buffer.size() < 8) return {};
  std::uint64_t length = 0;
  for (std::size_t i = 0; i < 8; ++i)
    length |= static_cast<std::uint64_t>(static_cast<unsigned char>(buffer[i])) << (8 * i);
  if (length > most_frame_bytes) refuse("a frame too long");
  if (buffer.size() - 8 < length) return {};
  std::string frame = buffer.substr(8, length);
  buffer.erase(0, 8 + length);
  return frame;
}

}  // namespace seamwright::models
