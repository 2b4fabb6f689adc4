// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/wire.h"

#include <cmath>

#include "catalog/models/joint_wire.h"
#include "catalog/models/wire_shapes.h"

namespace seamwright::models {

namespace {

using namespace wire;

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
    json out = to_json(p);
    out["do"] = "part";
    return out;
  }
  json operator()(const shape::WeldBody& w) const {
    json out = to_json(w);
    out["do"] = "weld";
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
  json operator()(const solid::JointTask& t) const {
    json out = to_json(t);
    out["do"] = "joint";
    return out;
  }
};

json quantities_json(const shape::Quantities& q) {
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

json mesh_json(const shape::Mesh& m) {
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
    json out{{"id", s.id},     {"rung", static_cast<int>(s.rung)}, {"quantities", quantities_json(s.quantities)}, {"mesh", mesh_json(s.mesh)},
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
  json operator()(const solid::JointAnswer& a) const { return {{"joint", to_json(a)}}; }
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
  if (what == "joint") return joint_task_of(j);
  refuse("not a task");
}

std::string bytes_of(const Answer& answer) { return cbor_of(std::visit(AnswerJson{}, answer)); }

Answer answer_of(std::string_view bytes) {
  const json j = parsed(bytes);
  if (j.contains("failed")) return Failed{j.at("failed").get<std::string>()};
  if (j.contains("joint")) return joint_answer_of(j.at("joint"));
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

std::optional<std::string_view> first_frame(std::string_view& bytes) {
  if (bytes.size() < 8) return {};
  std::uint64_t length = 0;
  for (std::size_t i = 0; i < 8; ++i) length |= static_cast<std::uint64_t>(static_cast<unsigned char>(bytes[i])) << (8 * i);
  if (length > most_frame_bytes) refuse("a frame too long");
  if (bytes.size() - 8 < length) return {};
  const std::string_view frame = bytes.substr(8, length);
  bytes.remove_prefix(8 + length);
  return frame;
}

std::optional<std::string> next_frame(std::string& buffer) {
  std::string_view rest = buffer;
  const std::optional<std::string_view> found = first_frame(rest);
  if (!found) return {};
  std::string frame(*found);
  buffer.erase(0, buffer.size() - rest.size());
  return frame;
}

}  // namespace seamwright::models
